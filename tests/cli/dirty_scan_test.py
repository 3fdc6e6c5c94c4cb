#!/usr/bin/env python3
"""Scans as they come: clutter, parts that hang apart, vertices without facets, holes and the layers
of several passes are told by count and place, and move no edge by more than the plan says."""
import json
import math
import os
import pathlib
import random
import re
import subprocess
import tempfile
import unittest

PROGRAM = os.environ["TEARLINE"]
RADIUS = 700.0  # [mm] of the sphere that is scanned
DENT = 55.0  # [mm] where it is dented, about its lowest place
WAVES = random.Random(20261129)
RIPPLES = [(WAVES.gauss(0, 1 / 4), WAVES.gauss(0, 1 / 4), WAVES.uniform(0, 6.28)) for _ in range(60)]


def noise(u, v):
    """0.1 mm over 4 mm, as structured light shows it. Rahimi and Recht, 2007."""
    return 0.1 * math.sqrt(2 / 60) * sum(math.cos(a * u + b * v + c) for a, b, c in RIPPLES)


def at(u, v, out):
    """A place of the sphere by arcs from its lowest, moved outward."""
    away, way = math.hypot(u, v) / RADIUS, math.atan2(v, u)
    r = RADIUS + out
    return (r * math.sin(away) * math.cos(way), r * math.sin(away) * math.sin(way), -r * math.cos(away))


def grid(spacing=4.5, shift=0.0, half=270.0):
    steps = int(half / spacing)
    return [(spacing * i + shift, spacing * k + shift)
            for i in range(-steps, steps + 1) for k in range(-steps, steps + 1)]


def seen(u, v):
    return noise(u, v) - (9.0 if math.hypot(u, v) < DENT else 0.0)


CLEAN = [at(u, v, seen(u, v)) for u, v in grid()]


class DirtyScans(unittest.TestCase):
    clean = None

    def planned(self, points, facets=None):
        said = self.asked(points, facets)
        self.assertEqual(said.returncode, 0, said.stderr)
        return json.loads(said.stdout)

    def asked(self, points, facets=None):
        with tempfile.TemporaryDirectory() as room:
            room = pathlib.Path(room)
            if facets is None:
                name = "scan.xyz"
                text = "".join("%.4f %.4f %.4f\n" % p for p in points)
            else:
                name = "scan.ply"
                text = ("ply\nformat ascii 1.0\nelement vertex %d\nproperty double x\nproperty double y\n"
                        "property double z\nelement face %d\nproperty list uchar int vertex_indices\n"
                        "end_header\n" % (len(points), len(facets)))
                text += "".join("%.4f %.4f %.4f\n" % p for p in points)
                text += "".join("3 %d %d %d\n" % f for f in facets)
            (room / name).write_text(text, encoding="utf-8")
            (room / "job.toml").write_text(
                f'tearline = 1\n[hull]\nmodel = "{name}"\nunit = "mm"\nbow = [1, 0, 0]\nup = [0, 1, 0]\n'
                '[hull.scan]\nkind = "light"\nseen_from = [0, 0, -3000]\n'
                f"[damage]\ncentre = [0, 0, -{RADIUS}]\nradius = {DENT + 5}\ndepth = 4\n"
                '[layup]\nfill = "mat 450"\n[resin]\nkind = "polyester"\n', encoding="utf-8")
            return subprocess.run([PROGRAM, "plan", str(room / "job.toml"), "--json"], capture_output=True,
                                  text=True, check=False, timeout=300)

    def held(self, dirty):
        """Every edge lies where it lay without the dirt, to what is told."""
        if DirtyScans.clean is None:
            DirtyScans.clean = self.planned(CLEAN)
        for ply, clean in zip(dirty["plies"], DirtyScans.clean["plies"], strict=True):
            of, then = (p["outlines_3d"][0]["outer"] for p in (ply, clean))
            off = max(min(math.dist(a, b) for b in then) for a in of[::7])
            apart = max(math.dist(a, b) for a, b in zip(then, then[1:]))
            self.assertLess(off, math.hypot(ply["edge_error_mm"], 0.5 * apart))
            wide, truly = (math.sqrt(p["surface_area_mm2"] / math.pi) for p in (ply, clean))
            self.assertLess(abs(wide - truly), ply["edge_error_mm"])

    def told(self, plan, code):
        return next(w["message"] for w in plan["warnings"] if w["code"] == code)

    def near(self, message, place, most=40.0):
        found = [float(c) for c in re.search(r"near \[([-\d., ]+)\]", message).group(1).split(",")]
        self.assertLess(math.dist(found, place), most, message)

    def test_clutter(self):
        chance = random.Random(3)
        dirt = [at(u, v, chance.uniform(5, 50)) for u, v in grid() if chance.random() < 0.05]
        plan = self.planned(CLEAN + dirt)
        self.held(plan)
        count = int(re.match(r"\d+", self.told(plan, "scan-strays")).group())
        self.assertGreater(count, 0.6 * len(dirt))
        self.assertLess(count, 1.1 * len(dirt))

    def test_a_part_that_hangs_apart(self):
        # A box of 50 mm that floats 120 mm outside, 150 mm beside the dent.
        box = [at(150 + 5 * i, 5 * k, 120) for i in range(10) for k in range(10)]
        plan = self.planned(CLEAN + box)
        self.held(plan)
        message = self.told(plan, "scan-strays")
        self.assertGreaterEqual(int(re.match(r"\d+", message).group()), 90)
        self.near(message, at(175, 25, 120))
        self.assertIn(" 12", message)  # 120 mm off, to some

    def test_a_leg_that_touches_the_hull(self):
        leg = [at(170 + 3 * i, 90 + 3 * k, 3 * j) for i in range(6) for k in range(6) for j in range(40)
               if i in (0, 5) or k in (0, 5)]
        plan = self.planned(CLEAN + leg)
        self.held(plan)
        self.near(self.told(plan, "scan-strays"), at(178, 98, 110))
        self.assertNotIn("scan-chine", [w["code"] for w in plan["warnings"]])

    def facets(self):
        side = math.isqrt(len(CLEAN))
        return [f for i in range(side - 1) for k in range(side - 1)
                for f in ((i * side + k, (i + 1) * side + k, (i + 1) * side + k + 1),
                          (i * side + k, (i + 1) * side + k + 1, i * side + k + 1))]

    def test_vertices_without_facets(self):
        loose = [at(-140 + 2 * i, 130 + 2 * k, 35) for i in range(12) for k in range(12)]
        plan = self.planned(CLEAN + loose, self.facets())
        self.held(plan)
        message = self.told(plan, "scan-strays")
        self.assertGreaterEqual(int(re.match(r"\d+", message).group()), 130)
        self.near(message, at(-128, 142, 35))

    def test_holes_in_the_data(self):
        holes = [(150, 20, 34), (-130, -90, 28), (20, 170, 24)]
        plan = self.planned([p for p, (u, v) in zip(CLEAN, grid())
                             if all(math.hypot(u - a, v - b) > r for a, b, r in holes)])
        self.held(plan)
        message = self.told(plan, "scan-holes")
        self.assertIn("3 holes", message)
        self.near(message, at(150, 20, 0))

    def test_the_layers_of_several_passes(self):
        # Three passes over the same skin, laid on each other as well as programs do: 0.15 mm apart.
        layers = [at(u, v, seen(u, v) + out) for shift, out in ((1.3, 0.15), (2.9, -0.15))
                  for u, v in grid(shift=shift)]
        plan = self.planned(CLEAN + layers)
        self.held(plan)
        self.assertGreater(plan["scan"]["points"], 2.5 * DirtyScans.clean["scan"]["points"])
        self.assertGreater(plan["scan"]["noise_mm"], 0.13)  # two kinds of scatter in one

    def test_half_a_pass_more(self):
        # Denser on one side, and 0.3 mm off there: what is seen twice draws no farther than what is told.
        layer = [at(u, v, seen(u, v) + 0.3) for u, v in grid(shift=2.0) if u > 0]
        self.held(self.planned(CLEAN + layer))

    def test_both_faces_of_a_skin_are_refused(self):
        # Which of them is to be repaired the scan does not say.
        inner = [at(u, v, seen(u, v) - 50.0) for u, v in grid(shift=2.0)]
        said = self.asked(CLEAN + inner)
        self.assertEqual(said.returncode, 3, said.stderr)
        self.assertRegex(said.stderr, r"two layers .* about (49|50|51) mm apart.*cut the one")


if __name__ == "__main__":
    unittest.main()
