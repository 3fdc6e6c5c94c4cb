"""Faces and pieces of models laid flat (`tearline flatten`), against closed forms: a cylinder's
rectangle, a cone's sector, a sphere's cap.

Runs the program that TEARLINE names.
"""

import json
import math
import os
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from closed_lines import area  # noqa: E402
from piece_mesh import PieceMesh  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = Path(__file__).resolve().parents[2] / "sample-models"


class Case(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = Path(self.temporary.name)

    def flat(self, model, *words):
        done = subprocess.run([TEARLINE, "flatten", str(model), "-o", str(self.folder / "out"),
                               "--json", *words], capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        plan = json.loads(done.stdout)
        self.assertEqual(plan["schema"], "tearline-flat/1")
        self.assertEqual(len(plan["plies"]), 1)
        return plan["plies"][0]

    def one_piece(self, ply):
        self.assertEqual(len(ply["pieces"]), 1)
        piece = ply["pieces"][0]
        self.assertGreater(area(piece["net_line"]), 0, "outer loops run counter-clockwise")
        return piece, PieceMesh(self.folder / "out" / piece["mesh"])


class Developables(Case):
    """Edge error at most 0.02 mm over 600 mm, strain at most 1e-4 (DEFINITIONS.md, accuracy)."""

    def check_lengths(self, mesh, unrolled, most=0.05):
        """Every place of the flat piece as far from every other as in the unrolled plane."""
        chosen = range(0, len(mesh.flat), max(1, len(mesh.flat) // 60))
        flat = [mesh.flat[i] for i in chosen]
        plane = [unrolled(mesh.base[i]) for i in chosen]
        for i in range(len(flat)):
            for j in range(i):
                self.assertAlmostEqual(math.dist(flat[i], flat[j]), math.dist(plane[i], plane[j]),
                                       delta=most)

    def test_half_a_cylinder_is_its_rectangle(self):
        # sample-models: radius 500, length 2000, the lower half.
        ply = self.flat(SAMPLES / "cylinder.step", "--face", "1")
        piece, mesh = self.one_piece(ply)
        self.assertAlmostEqual(ply["surface_area_mm2"] / (1e6 * math.pi), 1.0, delta=5e-4)
        self.assertAlmostEqual(area(piece["net_line"]) / (1e6 * math.pi), 1.0, delta=1e-4)
        xs, ys = zip(*piece["net_line"])
        sides = sorted((max(xs) - min(xs), max(ys) - min(ys)))
        self.assertAlmostEqual(sides[0], 500 * math.pi, delta=0.05)
        self.assertAlmostEqual(sides[1], 2000, delta=0.05)
        self.assertLess(piece["strain"]["max"], 1e-4)
        self.check_lengths(mesh, lambda p: (p[0], 500 * math.atan2(p[1], -p[2])))

    def test_the_same_without_naming_its_face(self):
        named = self.flat(SAMPLES / "cylinder.step", "--face", "1")
        (self.folder / "out").rename(self.folder / "named")
        whole = self.flat(SAMPLES / "cylinder.step")
        self.assertEqual(named["pieces"][0]["net_line"], whole["pieces"][0]["net_line"])

    def test_a_whole_cone_opens_along_its_seam_to_its_sector(self):
        # Half-angle 20 degrees, radius 600 to 100: slant 600/sin 20 to 100/sin 20, opened to
        # 360 sin 20 = 123.127 degrees.
        ply = self.flat(SAMPLES / "cone.step", "--face", "1", "--strain-limit", "0.001")
        piece, mesh = self.one_piece(ply)
        sine = math.sin(math.radians(20))
        exact = math.pi * (600 ** 2 - 100 ** 2) / sine
        self.assertAlmostEqual(ply["surface_area_mm2"] / exact, 1.0, delta=5e-4)
        self.assertAlmostEqual(area(piece["net_line"]) / exact, 1.0, delta=1e-4)
        self.assertLess(piece["strain"]["max"], 1e-4)
        # The apex on the table: where the slants of the mesh's own places meet.
        apex = self.apex(mesh, sine)
        far = [math.dist(p, apex) for p in piece["net_line"]]
        self.assertAlmostEqual(max(far), 600 / sine, delta=0.05)
        self.assertAlmostEqual(min(far), 100 / sine, delta=0.05)
        ends = [p for p, r in zip(piece["net_line"], far) if r > 600 / sine - 0.1]
        angles = sorted(math.atan2(p[1] - apex[1], p[0] - apex[0]) for p in ends)
        gaps = [b - a for a, b in zip(angles, angles[1:] + [angles[0] + 2 * math.pi])]
        self.assertAlmostEqual(math.degrees(2 * math.pi - max(gaps)), 360 * sine, delta=0.01)

    @staticmethod
    def apex(mesh, sine):
        """Least squares: |p - apex| = radius/sine for every place, by its differences."""
        rows = []
        # The cone lies along x: its radius is the distance from there.
        radius = [math.hypot(p[1], p[2]) for p in mesh.base]
        (x0, y0), r0 = mesh.flat[0], radius[0] / sine
        for (x, y), r in zip(mesh.flat[1:], radius[1:]):
            rows.append((2 * (x - x0), 2 * (y - y0),
                         x * x + y * y - x0 * x0 - y0 * y0 - (r / sine) ** 2 + r0 ** 2))
        a = sum(r[0] * r[0] for r in rows)
        b = sum(r[0] * r[1] for r in rows)
        d = sum(r[1] * r[1] for r in rows)
        e = sum(r[0] * r[2] for r in rows)
        f = sum(r[1] * r[2] for r in rows)
        whole = a * d - b * b
        return ((d * e - b * f) / whole, (a * f - b * e) / whole)

    def test_a_piece_of_a_mesh(self):
        # Four points of the cylinder as STL (1 mm deflection): a rectangle 400 along and 0.8 rad
        # round, 400 by 400 unrolled.
        points = [(x, 500 * math.sin(a), -500 * math.cos(a))
                  for x, a in ((800, -0.4), (1200, -0.4), (1200, 0.4), (800, 0.4))]
        words = "; ".join(",".join(f"{c:.4f}" for c in p) for p in points)
        ply = self.flat(SAMPLES / "cylinder.stl", "--unit", "mm", "--outline", words)
        piece, mesh = self.one_piece(ply)
        self.assertAlmostEqual(area(piece["net_line"]) / 160000, 1.0, delta=0.004)
        self.assertLess(piece["strain"]["max"], 2e-3)
        self.check_lengths(mesh, lambda p: (p[0], 500 * math.atan2(p[1], -p[2])), 0.7)
        listed = self.folder / "points.txt"
        listed.write_text("# round the piece\n" + "\n".join(
            " ".join(f"{c:.4f}" for c in p) for p in points) + "\n", encoding="utf-8")
        again = self.flat(SAMPLES / "cylinder.stl", "--unit", "mm", "--outline", str(listed))
        self.assertEqual(again["pieces"][0]["net_line"], piece["net_line"])

    def test_the_margin_lies_all_round(self):
        ply = self.flat(SAMPLES / "panel.step", "--margin", "20 mm")
        piece, _ = self.one_piece(ply)
        # A flat panel of 1500 by 1000 with 20 mm round it, its corners round.
        self.assertAlmostEqual(area(piece["net_line"]), 1.5e6, delta=20)
        self.assertAlmostEqual(piece["area_mm2"],
                               1540 * 1040 - (4 - math.pi) * 400, delta=40)
        self.assertIsNone(piece["tear_line"])


class FarApart(Case):
    def test_what_bends_away_from_the_lines_between_the_points_is_there(self):
        # Four corners on the sample's half cylinder of radius 500, 85 degrees to either side of its lowest
        # line: the surface lies 456 mm below the straight line between two of them.
        half = math.radians(85)
        points = "; ".join(f"{x},{500 * math.sin(a):.4f},{-500 * math.cos(a):.4f}"
                           for x, a in ((500, -half), (1500, -half), (1500, half), (500, half)))
        ply = self.flat(SAMPLES / "cylinder.step", "--outline", points)
        piece, _ = self.one_piece(ply)
        rectangle = 1000 * 500 * 2 * half
        self.assertAlmostEqual(ply["surface_area_mm2"] / rectangle, 1.0, delta=5e-4)
        self.assertAlmostEqual(area(piece["net_line"]) / rectangle, 1.0, delta=5e-4)
        self.assertEqual(piece["net_holes"], [])


class SphereCap(Case):
    """SOURCES.md section 6: a cap of 0.5 rad on R = 600."""

    R, ANGLE = 600.0, 0.5

    def outline(self, count=48):
        lie = self.R * math.sin(self.ANGLE)
        return "; ".join(
            f"{lie * math.cos(2 * math.pi * i / count):.6f},"
            f"{lie * math.sin(2 * math.pi * i / count):.6f},{-self.R * math.cos(self.ANGLE):.6f}"
            for i in range(count))

    def test_rim_and_energy_are_those_of_the_closed_form(self):
        ply = self.flat(SAMPLES / "sphere.step", "--outline", self.outline(), "--join", "smooth")
        piece, mesh = self.one_piece(ply)
        cap = 2 * math.pi * self.R ** 2 * (1 - math.cos(self.ANGLE))
        self.assertAlmostEqual(ply["surface_area_mm2"] / cap, 1.0, delta=5e-4)
        self.assertAlmostEqual(area(piece["net_line"]) / (cap * 0.99966761), 1.0, delta=5e-4)
        for p in piece["net_line"]:
            self.assertAlmostEqual(math.hypot(*p), 296.8354, delta=0.08)
        # The strain map: its sum over the cap, 92.03880 mm2, within half a per cent.
        energy = 0.0
        for (a, b, c), (e1, e2) in zip(mesh.triangles, mesh.strain):
            (ax, ay), (bx, by), (cx, cy) = mesh.flat[a], mesh.flat[b], mesh.flat[c]
            on_table = ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2
            energy += on_table / ((1 + e1) * (1 + e2)) * (e1 * e1 + e2 * e2)
        self.assertAlmostEqual(energy / 92.03880, 1.0, delta=0.005)
        self.assertAlmostEqual(piece["strain"]["rms"], 0.01289162, delta=0.0001)


if __name__ == "__main__":
    unittest.main(verbosity=2)
