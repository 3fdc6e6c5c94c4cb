"""Random places on a sample model, found from its STL alone: nothing of the program is used."""
import math
import pathlib
import random
import struct


def sub(a, b):
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def add(a, b, t=1.0):
    return (a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2])


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a):
    length = math.sqrt(dot(a, a))
    return (a[0] / length, a[1] / length, a[2] / length)


def read_stl(path):
    """Triangles of a binary STL, each three points."""
    data = pathlib.Path(path).read_bytes()
    count = struct.unpack_from("<I", data, 80)[0]
    triangles = []
    for i in range(count):
        v = struct.unpack_from("<12f", data, 84 + 50 * i)
        triangles.append((v[3:6], v[6:9], v[9:12]))
    return triangles


def nearest_on_triangle(p, triangle):
    """The point of a triangle nearest to p."""
    a, b, c = triangle
    ab, ac, ap = sub(b, a), sub(c, a), sub(p, a)
    d1, d2 = dot(ab, ap), dot(ac, ap)
    if d1 <= 0 and d2 <= 0:
        return a
    bp = sub(p, b)
    d3, d4 = dot(ab, bp), dot(ac, bp)
    if d3 >= 0 and d4 <= d3:
        return b
    cp = sub(p, c)
    d5, d6 = dot(ab, cp), dot(ac, cp)
    if d6 >= 0 and d5 <= d6:
        return c
    vc, vb, va = d1 * d4 - d3 * d2, d5 * d2 - d1 * d6, d3 * d6 - d5 * d4
    if vc <= 0 <= d1 and d3 <= 0:
        return add(a, ab, d1 / (d1 - d3))
    if vb <= 0 <= d2 and d6 <= 0:
        return add(a, ac, d2 / (d2 - d6))
    if va <= 0 and d4 >= d3 and d5 >= d6:
        return add(b, sub(c, b), (d4 - d3) / ((d4 - d3) + (d5 - d6)))
    share = 1.0 / (va + vb + vc)
    return add(add(a, ab, vb * share), ac, vc * share)


class Skin:
    """The triangles of a model with what random places need: areas, normals, open edges."""

    def __init__(self, path):
        self.triangles = [t for t in read_stl(path) if self.twice_area(t) > 1e-9]
        self.areas = [self.twice_area(t) / 2 for t in self.triangles]
        count = {}
        for t in self.triangles:
            for i in range(3):
                edge = tuple(sorted((self.key(t[i]), self.key(t[(i + 1) % 3]))))
                count[edge] = count.get(edge, 0) + 1
        self.open_edges = [edge for edge, n in count.items() if n == 1]

    @staticmethod
    def key(p):
        return tuple(round(x, 2) for x in p)

    @staticmethod
    def twice_area(t):
        n = cross(sub(t[1], t[0]), sub(t[2], t[0]))
        return math.sqrt(dot(n, n))

    def random_place(self, chance: random.Random):
        """A point evenly spread over the area, and the normal there."""
        t = chance.choices(self.triangles, self.areas)[0]
        u, v = chance.random(), chance.random()
        if u + v > 1:
            u, v = 1 - u, 1 - v
        point = add(add(t[0], sub(t[1], t[0]), u), sub(t[2], t[0]), v)
        return point, unit(cross(sub(t[1], t[0]), sub(t[2], t[0])))

    def nearest(self, p):
        best, where = math.inf, None
        for t in self.triangles:
            q = nearest_on_triangle(p, t)
            d = dot(sub(q, p), sub(q, p))
            if d < best:
                best, where = d, q
        return where, math.sqrt(best)

    def from_edge(self, p):
        """Distance [mm] from the nearest open edge."""
        best = math.inf
        for a, b in self.open_edges:
            ab = sub(b, a)
            t = max(0.0, min(1.0, dot(sub(p, a), ab) / max(dot(ab, ab), 1e-12)))
            q = add(a, ab, t)
            best = min(best, math.dist(p, q))
        return best
