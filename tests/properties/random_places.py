"""Random places on hull-like models that no other test uses, as CAD programs export them to STL:
facets as long as the part, at several deflections; each planned by the program.

    random_places.py [--count N] [--first K] [--family NAME]

A fixed start value makes every place, so place 17 is the same everywhere. The program may end only
with 0, or with 4 where the family's own rule says that there is no answer: a damage that goes right
round its tube. Refusals that no rule explains are listed and counted; the exit status is 1 where
they are more than one in a thousand.
"""
import argparse
import math
import os
import pathlib
import random
import struct
import subprocess
import sys
import tempfile

START = 20261129  # the start value of every random number here
HERE = pathlib.Path(__file__).resolve()
SOURCE = pathlib.Path(os.environ.get("TEARLINE_SOURCE", HERE.parents[2]))
TEARLINE = os.environ.get("TEARLINE", str(SOURCE / "build" / "tearline"))
DEFLECTIONS = (0.05, 0.2)  # mm, of the facets
JOINT = 25.0  # mm from the far side of a tube to a joint, at least (core/DEFINITIONS.md, Tubes)


def steps(low, high, count):
    return [low + (high - low) * i / count for i in range(count + 1)]


def facets(radius, turn, deflection):
    return max(2, math.ceil(turn / (2 * math.acos(1 - deflection / radius))))


def grid(at, us, vs):
    rows = [[at(u, v) for v in vs] for u in us]
    corners = [((rows[i][j], rows[i + 1][j], rows[i + 1][j + 1]),
                (rows[i][j], rows[i + 1][j + 1], rows[i][j + 1]))
               for i in range(len(us) - 1) for j in range(len(vs) - 1)]
    return [t for pair in corners for t in pair if len(set(t)) == 3]


def turn(count):
    """Angles all round, the last one the first."""
    return steps(0, 2 * math.pi, count)[:-1] + [0.0]


class Surface:
    """Triangles, a random place, and whether a disc there has no answer."""

    def __init__(self, triangles, place, impossible=lambda place, radius: False):
        self.triangles, self.place, self.impossible = triangles, place, impossible


def taper(chance, deflection, least, most):
    """A cone or, of equal radii, a tube along x."""
    length = chance.choice((600, 1200))

    def radius(x):
        return least + (most - least) * x / length

    def at(a, x):
        return x, radius(x) * math.cos(a), radius(x) * math.sin(a)

    def round_it(place, disc):
        return disc + JOINT > math.pi * max(radius(place[0] - disc), 1.0)

    return Surface(grid(at, turn(facets(least, 2 * math.pi, deflection)), (0, length)),
                   lambda: at(chance.uniform(0, 2 * math.pi),
                              length * chance.uniform(0.02, 0.98)), round_it)


def tube(chance, deflection):
    radius = chance.choice((60, 90, 140, 250))
    return taper(chance, deflection, radius, radius)


def cone(chance, deflection):
    return taper(chance, deflection, chance.choice((80, 150)), chance.choice((200, 300)))


def profile(points, place_on, chance, length):
    """A line in the y-z plane drawn along x."""
    return Surface(grid(lambda i, x: (x, *points[i]), range(len(points)), (0, length)),
                   lambda: (chance.uniform(20, length - 20), *place_on()))


def bilge(chance, deflection):
    radius, wide = chance.choice((40, 60, 100)), chance.choice((300, 500))
    arc = radius * math.pi / 2

    def on_arc(angle):
        return radius - radius * math.cos(angle), -radius + radius * math.sin(angle)

    def place_on():
        s = chance.uniform(-wide, wide + arc)
        if s < 0:
            return 0, -radius + s
        return on_arc(s / radius) if s < arc else (radius + s - arc, 0)

    points = [(0, -wide - radius), *map(on_arc, steps(0, math.pi / 2, facets(
        radius, math.pi / 2, deflection))), (wide + radius, 0)]
    return profile(points, place_on, chance, 1000)


def crease(chance, _):
    angle = math.radians(chance.choice((20, 45, 70, 100)))

    def on(w):
        return (w, 0) if w < 0 else (w * math.cos(angle), -w * math.sin(angle))

    return profile([on(-400), on(0), on(400)], lambda: on(chance.uniform(-250, 250)), chance, 800)


def dome(chance, deflection):
    """An end revolved about x, with its pole."""
    radius, high = chance.choice((150, 300, 600)), chance.choice((0.5, 1.0))

    def at(a, v):
        out = radius * math.sin(v) if v > 0 else 0.0
        return high * radius * math.cos(v), out * math.cos(a), out * math.sin(a)

    def place():
        near_pole = chance.random() < 0.3
        return at(chance.uniform(0, 2 * math.pi),
                  chance.uniform(0, 0.1) if near_pole else math.acos(chance.uniform(0.1, 1)))

    count = facets(radius, 2 * math.pi, deflection)
    return Surface(grid(at, turn(count), steps(0, math.pi / 2, max(3, count // 4))), place)


def stem(chance, deflection):
    """Half a loft whose sections shrink to a point at a blunt stem: a collapsed edge of a face."""
    long, wide, deep = chance.choice((150, 300)), chance.uniform(250, 400), chance.uniform(250, 400)

    def at(a, v):
        return long * (1 - v * v), wide * v * math.sin(a), -deep * v * math.cos(a)

    half = steps(-math.pi / 2, math.pi / 2, facets(max(wide, deep), math.pi, deflection))
    return Surface(grid(at, half, steps(0, 1, 24)),
                   lambda: at(chance.uniform(-1.4, 1.4), math.sqrt(chance.uniform(0.0, 0.97))))


FAMILIES = {f.__name__: f for f in (tube, cone, bilge, crease, dome, stem)}


def write_stl(path, triangles):
    with open(path, "wb") as file:
        file.write(bytes(80) + struct.pack("<I", len(triangles)))
        for corners in triangles:
            file.write(struct.pack("<12fH", 0, 0, 0, *(x for p in corners for x in p), 0))


def job(place, radius, chance):
    return (f'[hull]\nmodel = "m.stl"\nunit = "mm"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
            f'outward = "{chance.choice(("as modelled", "reversed"))}"\nmirror = false\n'
            f'skin = 8\nexact = true\n[damage]\ncentre = {list(place)}\nradius = {radius}\n'
            f'depth = {chance.uniform(1, 5):.1f}\n[layup]\nfill = "mat 450"\n')


def refusal(number, family, room):
    """What the program says where it refuses a place that has an answer; None otherwise."""
    chance = random.Random(START + number)
    name = family or chance.choice(sorted(FAMILIES))
    surface = FAMILIES[name](chance, chance.choice(DEFLECTIONS))
    place, radius = surface.place(), chance.choice((10, 15, 30, 60, 100, 150, 200))
    write_stl(room / "m.stl", surface.triangles)
    (room / "j.toml").write_text(job(place, radius, chance), encoding="utf-8")
    ran = subprocess.run([TEARLINE, "plan", str(room / "j.toml"), "-o", str(room / "out")],
                         capture_output=True, text=True, check=False)
    if ran.returncode == 0 or (ran.returncode == 4 and surface.impossible(place, radius)):
        return None
    said = ran.stderr.strip()[-300:]
    return f"{number} {name} radius {radius} at {place}: {ran.returncode} {said}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--family", choices=sorted(FAMILIES))
    asked = parser.parse_args()
    print(f"start value {START}, places {asked.first} to {asked.first + asked.count - 1}")
    found = []
    with tempfile.TemporaryDirectory() as room:
        for number in range(asked.first, asked.first + asked.count):
            said = refusal(number, asked.family, pathlib.Path(room))
            if said:
                found.append(said)
                print(said, flush=True)
    print(f"{len(found)} of {asked.count} refused without a reason")
    return 1 if len(found) > asked.count / 1000 else 0


if __name__ == "__main__":
    sys.exit(main())
