"""The mesh of a piece as a plan's pieces/*.bin holds it: places on the hull and on the table."""
import json
import math
import struct


def minus(a, b):
    return [x - y for x, y in zip(a, b)]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def unit(a):
    length = math.sqrt(dot(a, a))
    return [x / length for x in a]


def tangent(a, normal):
    """The part of a direction that lies in the surface; unit."""
    along = dot(a, normal)
    return unit([x - along * n for x, n in zip(a, normal)])


def combined(s, a, t, b):
    return [s * x + t * y for x, y in zip(a, b)]


class PieceMesh:
    def __init__(self, path):
        data = path.read_bytes()
        head, _, rest = data.partition(b"\n")
        for array in json.loads(head)["arrays"]:
            rows, columns = array["shape"]
            letter = {"float64": "d", "int32": "i"}[array["type"]]
            numbers = struct.unpack_from(f"<{rows * columns}{letter}", rest, array["offset"])
            setattr(self, array["name"],
                    [numbers[i:i + columns] for i in range(0, rows * columns, columns)])

    def triangle_at(self, point):
        """The triangle that holds a place of the table, else the one whose middle is nearest."""
        def outside(corners):
            a, b, c = (self.flat[i] for i in corners)
            sides = [(q[0] - p[0]) * (point[1] - p[1]) - (q[1] - p[1]) * (point[0] - p[0])
                     for p, q in ((a, b), (b, c), (c, a))]
            middle = [(a[k] + b[k] + c[k]) / 3 for k in (0, 1)]
            return (min(sides) < 0, math.dist(middle, point))
        return min(self.triangles, key=outside)

    def on_hull(self, point, way):
        """Where a direction on the table points to on the hull, at a place of the table; and the
        normal there of the side that the table shows."""
        a, b, c = self.triangle_at(point)
        (ax, ay), (bx, by), (cx, cy) = self.flat[a], self.flat[b], self.flat[c]
        e, f = (bx - ax, by - ay), (cx - ax, cy - ay)
        whole = e[0] * f[1] - e[1] * f[0]
        u, v = minus(self.lay[b], self.lay[a]), minus(self.lay[c], self.lay[a])

        def carried(d):
            s = (d[0] * f[1] - d[1] * f[0]) / whole
            t = (e[0] * d[1] - e[1] * d[0]) / whole
            return combined(s, u, t, v)
        return unit(carried(way)), unit(cross(carried((1, 0)), carried((0, 1))))
