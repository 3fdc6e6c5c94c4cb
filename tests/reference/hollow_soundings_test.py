"""Whole plans of dishes in hollow, bulging and saddle-shaped faces: one dish read by a gauge square
from the old surface and read under a straightedge, whose gap is known in closed form, is one plan.

Runs the program that TEARLINE names.
"""

import json
import math
import os
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from closed_lines import to_loop  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
BATTEN = 1000.0
RIM, DEEP = 110.0, 9.0


def gap_under(radius, length):
    """Under a batten laid on a bulge of a radius, negative in a hollow (closed form)."""
    if radius == 0:
        return 0.0
    return radius - math.copysign(math.sqrt(radius * radius - length * length / 4), radius)


class Face:
    """A cylinder, a sphere or a torus by its radii along the bow and across, negative where it is
    hollow, 0 where it is straight; its middle at the origin, seen from +z."""

    def __init__(self, along, across, up="[0, 1, 0]"):
        self.along, self.across, self.up = along, across, up

    def job(self):
        return (f'[hull]\nbow = [1, 0, 0]\nup = {self.up}\nskin = 12\n[hull.measured]\n'
                f'batten = {BATTEN}\ngap_along = {gap_under(self.along, BATTEN):.9f}\n'
                f'gap_across = {gap_under(self.across, BATTEN):.9f}\n')

    def height(self, x, y):
        """Of the surface over the plane z = 0: the arc across swung about the axis of that along."""
        fall = gap_under(self.across, 2 * y)
        if self.along == 0:
            return -fall
        centre = -self.along  # of the arc along, whose radius at y is along - fall
        reach = self.along - fall
        return centre + math.copysign(math.sqrt(reach * reach - x * x), self.along)

    def normal(self, x, y):
        h = 0.01
        dx = (self.height(x + h, y) - self.height(x - h, y)) / (2 * h)
        dy = (self.height(x, y + h) - self.height(x, y - h)) / (2 * h)
        n = math.sqrt(1 + dx * dx + dy * dy)
        return (-dx / n, -dy / n, 1 / n)

    def over_tangent(self, x, y, degrees, u):
        """How far the surface stands over its tangent plane `u` along a way of it, that many degrees
        from the bow counter-clockwise in that plane: by halving."""
        n = self.normal(x, y)
        size = math.hypot(n[1], n[2])
        bow = (size, -n[0] * n[1] / size, -n[0] * n[2] / size)  # (1, 0, 0) without its part along n
        left = (0.0, n[2] / size, -n[1] / size)  # n x bow
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        at = [p + u * (c * b + s * l)
              for p, b, l in zip((x, y, self.height(x, y)), bow, left)]
        low, high = -400.0, 400.0
        for _ in range(80):
            middle = (low + high) / 2
            p = [a + middle * m for a, m in zip(at, n)]
            if p[2] < self.height(p[0], p[1]):
                low = middle
            else:
                high = middle
        return low


def depth(x, y):
    """A shallow cone with its point rounded off: so steep that 0.01 mm of depth is 0.1 mm of edge
    nowhere but in its middle."""
    return DEEP * (1 - math.hypot(x, y, 12.0) / math.hypot(RIM, 12.0))


PLACES = [(0.0, 0.0)] + [(r * math.cos(a), r * math.sin(a))
                         for r, count in [(22, 6), (45, 10), (70, 14), (92, 16)]
                         for a in (2 * math.pi * (i + 0.3) / count for i in range(count))]


class Plans(unittest.TestCase):
    def run_job(self, face, readings, damage=None):
        text = face.job() + '[damage]\ncentre = [0, 0]\n' + (
            damage or f'radius = {RIM}\ndepth = {DEEP}\nround = "ground area"\n')
        for (x, y), read, more in readings:
            text += f"[[damage.sounding]]\nat = [{x:.6f}, {y:.6f}]\ndepth = {read:.6f}\n{more}"
        text += '[scarf]\nratio = 12\n[layup]\nfill = "mat 450"\ncover = []\n'
        with tempfile.TemporaryDirectory() as folder:
            job = Path(folder) / "job.toml"
            job.write_text(text)
            done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(Path(folder) / "out"),
                                   "--json"], capture_output=True, text=True)
        return done

    def plan(self, face, readings, damage=None):
        done = self.run_job(face, readings, damage)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)

    def by_gauge(self, face):
        return self.plan(face, [((x, y), depth(x, y), "") for x, y in PLACES])

    def under_edge(self, face, length, degrees):
        more = f'from = "straightedge"\nlength = {length}\ndirection = {degrees}\n'
        readings = []
        for x, y in PLACES:
            # Each face is even about the plane square to the edge: it does not lean, and stands as
            # high over the place as its tips do.
            gap = self.over_tangent(face, x, y, degrees, length)
            readings.append(((x, y), depth(x, y) + gap, more))
        return readings

    def over_tangent(self, face, x, y, degrees, length):
        ahead, behind = (face.over_tangent(x, y, degrees, s * length / 2) for s in (1, -1))
        self.assertAlmostEqual(ahead, behind, delta=5e-3, msg="this face is even about the place")
        return (ahead + behind) / 2

    def expect_same(self, one, other):
        self.assertEqual(len(one["plies"]), len(other["plies"]))
        self.assertGreater(len(one["plies"]), 4)
        for a, b in zip(one["plies"], other["plies"]):
            self.assertEqual(len(a["outlines_3d"]), 1)
            self.assertEqual(len(b["outlines_3d"]), 1)
            loop = b["outlines_3d"][0]["outer"]
            off = max(to_loop(p, loop) for p in a["outlines_3d"][0]["outer"])
            self.assertLess(off, 0.1, f"ply {a['number']}")
        self.assertAlmostEqual(one["volumes"]["dish_mL"] / other["volumes"]["dish_mL"], 1.0,
                               delta=5e-4)


class Hollows(Plans):
    def check(self, face, *edges):
        gauged = self.by_gauge(face)
        for length, degrees in edges:
            with self.subTest(face=vars(face), length=length, degrees=degrees):
                self.expect_same(gauged, self.plan(face, self.under_edge(face, length, degrees)))

    def test_inside_of_cylinders(self):
        # By hand, R 3000: 600 mm spans 15.04 mm, 1000 mm spans 41.96 mm.
        self.assertAlmostEqual(-gap_under(-3000, 600), 15.04, delta=0.005)
        self.check(Face(0, -1500), (600, 90))
        self.check(Face(0, -3000), (600, 90), (1000, 90))
        self.check(Face(0, -6000), (1000, 90))
        self.check(Face(-10000, 0), (1000, 0))

    def test_off_the_axis_of_a_cylinder(self):
        self.check(Face(0, -1500), (1000, 60))

    def test_inside_of_spheres(self):
        self.check(Face(-2000, -2000), (1000, 35))

    def test_along_the_hollow_of_a_saddle(self):
        self.check(Face(-2500, 900), (600, 0))

    def test_along_and_across_are_counted_from_the_bow_on_a_deck_too(self):
        self.check(Face(0, -3000, up="[0, 0, 1]"), (600, 90))

    def test_a_hollow_that_ends_under_the_straightedge_is_refused_by_its_place(self):
        # What a batten of 1000 mm tells of ends 750 mm from its middle.
        face = Face(0, -3000)
        readings = [((x, y), depth(x, y), "") for x, y in PLACES[:-1]]
        x, y = PLACES[-1]
        readings.append(((x, y), depth(x, y) + 136.0,
                         'from = "straightedge"\nlength = 1800\ndirection = "across"\n'))
        done = self.run_job(face, readings)
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertRegex(done.stderr, rf"job\.toml:\d+: damage\.sounding\[{len(PLACES)}\]: length: "
                                      "the straightedge of 1800 mm reaches farther than the hull")

    def test_one_that_rocks_on_the_ground_is_told(self):
        # Across a bulge of radius 650 the edge of the ground is 9.3 mm lower than the place was: a
        # dish of 8 mm leaves a hump, on which a straightedge rocks: by the circle less the dish.
        face = Face(0, 650)
        more = 'from = "straightedge"\nlength = 600\ndirection = "across"\n'
        low = 650 * (1 - math.cos(RIM / 650))
        readings = []
        for x, y in PLACES:
            readings.append(((x, y), depth(x, y), more if (x, y) == (0.0, 0.0) else ""))
        readings[0] = ((0.0, 0.0), depth(0, 0) - low, more)
        plan = self.plan(face, readings)
        told = [w["message"] for w in plan["warnings"] if w["code"] == "straightedge-rocks"]
        self.assertEqual(len(told), 1)
        self.assertIn("damage.sounding[1]", told[0])
        hump = max(low - 650 * (1 - math.cos(s / 650)) - depth(0, s) for s in range(110))
        said = float(re.search(r"up to ([\d.]+) mm over", told[0]).group(1))
        self.assertAlmostEqual(said, hump, delta=0.15)
        flat = self.plan(Face(0, 0), [((x, y), depth(x, y), more) for x, y in PLACES])
        self.assertNotIn("straightedge-rocks", {w["code"] for w in flat["warnings"]})


class WithoutDepth(Plans):
    """Nobody writes damage.depth: the deepest sounding below the old surface is it, whatever the
    hull does under the straightedge."""
    ROUND = f'radius = {RIM}\nround = "ground area"\n'
    FLOOR, DISH, EDGE = 30.0, 6.0, 1000.0
    RADIUS = 10000.0

    def told_depth(self, plan):
        told = [w["message"] for w in plan["warnings"] if w["code"] == "depth-taken"]
        self.assertEqual(len(told), 1)
        self.assertIn("6.0 mm below the old surface", told[0])
        return plan["job"]["effective"]["damage"]["depth"]

    def read_on_bulge(self, radius, s, y, rim, deep):
        """Under an edge across a round side, over a place `s` of arc off its top: on the chord
        between the rims, by the circle; leaning by the place's own angle."""
        half = math.sqrt(rim * rim - y * y) / radius  # a cylinder rolls out flat
        gap = radius * math.cos(half) / math.cos(s / radius) - radius
        return (deep + gap) * math.cos(s / radius)

    def on_bulge(self, radius, rim, dish):
        """The soundings by gauge and under straightedges along the bow."""
        more = f'from = "straightedge"\nlength = {self.EDGE}\ndirection = "along"\n'
        gauge, edge = [], []
        for s, y in PLACES:
            at = (radius * math.sin(s / radius), y)
            gauge.append((at, dish(s, y), ""))
            edge.append((at, self.read_on_bulge(radius, s, y, rim, dish(s, y)), more))
        return gauge, edge

    def cone(self, x, y):
        return self.DISH / depth(0, 0) * depth(x, y)

    def frustum(self, x, y):
        return min(self.DISH, self.DISH - (math.hypot(x, y) - self.FLOOR) / 12)

    def test_in_a_hollow(self):
        # By hand: under 1000 mm in a radius of 10 m there are 12.51 mm besides the 6 of the dish.
        self.assertAlmostEqual(-gap_under(-self.RADIUS, self.EDGE), 12.508, delta=5e-4)
        face = Face(-self.RADIUS, 0)
        gauge = [((x, y), self.cone(x, y), "") for x, y in PLACES]
        more = f'from = "straightedge"\nlength = {self.EDGE}\ndirection = "along"\n'
        edge = [((x, y), self.cone(x, y) + self.over_tangent(face, x, y, 0, self.EDGE), more)
                for x, y in PLACES]
        self.assertAlmostEqual(edge[0][1], 18.508, delta=5e-4)
        one, other = self.plan(face, gauge, self.ROUND), self.plan(face, edge, self.ROUND)
        self.assertAlmostEqual(self.told_depth(one), self.DISH, delta=1e-5)
        self.assertAlmostEqual(self.told_depth(other), self.DISH, delta=0.01)
        self.expect_same(one, other)

    def test_on_a_bulge(self):
        # By hand: between rims 220 mm apart a radius of 10 m stands 0.605 mm over the chord.
        gauge, edge = self.on_bulge(self.RADIUS, RIM, self.cone)
        self.assertAlmostEqual(edge[0][1], self.DISH - 0.605, delta=5e-4)
        face = Face(self.RADIUS, 0)
        one, other = self.plan(face, gauge, self.ROUND), self.plan(face, edge, self.ROUND)
        self.assertAlmostEqual(self.told_depth(other), self.DISH, delta=0.01)
        self.expect_same(one, other)

    def test_where_the_outline_goes_round_the_floor_the_rims_move_with_the_depth(self):
        # The scarf of 12:1 ends 72 mm outside the floor; PLACES within it.
        floor = f'radius = {self.FLOOR}\nround = "floor"\n'
        rim = self.FLOOR + 12 * self.DISH
        for radius in (self.RADIUS, 3000.0):
            with self.subTest(radius=radius):
                gauge, edge = self.on_bulge(radius, rim, self.frustum)
                face = Face(radius, 0)
                one, other = self.plan(face, gauge, floor), self.plan(face, edge, floor)
                self.assertAlmostEqual(self.told_depth(other), self.DISH, delta=0.01)
                self.expect_same(one, other)

    def test_on_a_bilge_too_round_to_tell_the_depth_is_asked_for(self):
        # By hand, R 800: a dish of 0.12 mm whose rims lie 31.4 mm out reads as this one does whose
        # rims lie 102 mm out: both are 0.5 mm less than the chord between them stands low.
        _, edge = self.on_bulge(800.0, self.FLOOR + 12 * self.DISH, self.frustum)
        done = self.run_job(Face(800.0, 0), edge, f'radius = {self.FLOOR}\nround = "floor"\n')
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertIn("damage.depth: missing", done.stderr)
        self.assertIn("read the same", done.stderr)


if __name__ == "__main__":
    unittest.main(verbosity=2)
