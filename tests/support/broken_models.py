"""Models with one fault each, made by formula: what scans and exports bring, and what is no hull.

A sound model is the underside of a round hull: x along, y across, z = -d (1 - (2y/B)^2), B = 1200,
d = 300, L = 2000 mm, its facets counter-clockwise seen from below (outside).
"""
import math
import pathlib
import struct

LONG, BEAM, DEEP = 2000.0, 1200.0, 300.0


def keel_shape(x, y):
    return (x, y, -DEEP * (1 - (2 * y / BEAM) ** 2))


def grid(nx=24, ny=16, shape=keel_shape):
    """Facets of the sound model."""
    def at(i, j):
        return shape(LONG * i / nx, BEAM * (j / ny - 0.5))
    out = []
    for i in range(nx):
        for j in range(ny):
            a, b, c, d = at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)
            out += [(a, c, b), (a, d, c)]
    return out


def true_area():
    """Of the facets' surface in the limit: L times the parabola's arc length."""
    k = 4 * DEEP / BEAM  # slope at the edge
    arc = 0.5 * BEAM * (math.sqrt(1 + k * k) + math.asinh(k) / k)
    return LONG * arc


def scaled(facets, s):
    return [tuple(tuple(s * x for x in p) for p in t) for t in facets]


def turned(facets, which=lambda i: True):
    return [t[::-1] if which(i) else t for i, t in enumerate(facets)]


def shaken(facets, amount):
    """Each facet's own corners moved a little: neighbours no longer share them exactly."""
    out = []
    for i, t in enumerate(facets):
        out.append(tuple(tuple(x + amount * math.sin(12.9 * i + 7.7 * k + 3.1 * c)
                               for c, x in enumerate(p)) for k, p in enumerate(t)))
    return out


def with_skin(facets, thick=8.0):
    """A solid: the outer skin, an inner one `thick` above it, and the rim between, as a closed
    body. The inner skin is the outer moved up, which is near enough for a test of sides."""
    up = [tuple((x, y, z + thick) for x, y, z in t)[::-1] for t in facets]
    count = {}
    for t in facets:
        for a, b in zip(t, t[1:] + t[:1]):
            count[(a, b)] = count.get((a, b), 0) + 1
    rim = []
    for a, b in [e for e in count if (e[1], e[0]) not in count]:
        c, d = (b[0], b[1], b[2] + thick), (a[0], a[1], a[2] + thick)
        rim += [(b, a, d), (b, d, c)]
    return facets + up + rim


def moebius(n=40):
    """A strip with half a twist."""
    def row(i):
        turn = 2 * math.pi * i / n
        sides = []
        for s in (-200, 200):
            r = 1000 + s * math.cos(turn / 2)
            sides.append((r * math.cos(turn), r * math.sin(turn), s * math.sin(turn / 2)))
        return sides
    out = []
    for i in range(n):
        (a, b), (c, d) = row(i), row(i + 1)
        out += [(a, b, c), (b, d, c)]
    return out


def with_frame(facets):
    """A frame standing on the hull's inside along x = L/2: three sheets meet on each edge."""
    ny = 16
    edge = [keel_shape(LONG / 2, BEAM * (j / ny - 0.5)) for j in range(ny + 1)]
    out = list(facets)
    for a, b in zip(edge, edge[1:]):
        out.append((a, b, (b[0], b[1], b[2] + 100)))
    return out


def write_stl(path, facets):
    body = b"".join(struct.pack("<12fH", 0, 0, 0, *a, *b, *c, 0) for a, b, c in facets)
    pathlib.Path(path).write_bytes(b"\0" * 80 + struct.pack("<I", len(facets)) + body)


def write_obj(path, facets):
    """Shared vertices, as most programs write them."""
    number, points, faces = {}, [], []
    for t in facets:
        for p in t:
            if p not in number:
                number[p] = len(number) + 1
                points.append("v %.6f %.6f %.6f\n" % p)
        faces.append("f %d %d %d\n" % tuple(number[p] for p in t))
    pathlib.Path(path).write_text("".join(points + faces), encoding="utf-8")
