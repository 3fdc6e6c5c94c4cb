"""Holes of pieces: as many and as large in plan.json as in SVG, DXF R12, DXF 2000, HPGL and PDF, read
back by readers that are not ours; with the slits, and the sheet's words of them."""
import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
from marks_in_every_format_test import in_dxf, in_hpgl, in_pdf, in_svg  # noqa: E402

SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"
JOB = f"""[hull]
model = "{SAMPLES / 'panel.step'}"
bow = [1, 0, 0]
up = [0, 0, 1]
outward = "as modelled"
skin = "9 mm"
[damage]
centre = [0, 0, 0]
radius = 110
depth = 3
[[damage.opening]]
centre = [30, 0, 40]
radius = 22
keep = true
slit = true
[[damage.opening]]
outline = [[-70, 0, -20], [-30, 0, -20], [-30, 0, 10], [-70, 0, 10]]
keep = true
clear = "5 mm"
[layup]
stack = ["mat 450", "cloth"]
cover = ["mat 300"]
[[fabric]]
name = "cloth"
kind = "woven"
weight = "300 g/m2"
"""
RING = math.pi * 24 ** 2  # the round one with its 2 mm: closed form


def area(loop):
    return 0.5 * abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(loop, loop[1:] + loop[:1])))


class HolesInEveryFormat(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        job = pathlib.Path(cls.room.name, "job.toml")
        job.write_text(JOB, encoding="utf-8")
        cls.folder = pathlib.Path(cls.room.name, "out")
        done = subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(cls.folder), "--format",
                               "svg,dxf,dxf2000,hpgl", "--cutter-files", "pieces"],
                              capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        cls.plan = json.loads((cls.folder / "plan.json").read_text(encoding="utf-8"))

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def test_the_plan_has_them_everywhere(self):
        plan = self.plan
        self.assertEqual(len(plan["openings"]), 2)
        self.assertEqual([o["in_model"] for o in plan["openings"]], [False, False])
        self.assertEqual(len(plan["damage"]["holes_3d"]), 2)
        for region in (plan["scarf"], plan["footprint"]):
            self.assertEqual([len(part["holes"]) for part in region["outline_3d"]], [2])
        for ply in plan["plies"]:
            self.assertEqual([len(part["holes"]) for part in ply["outlines_3d"]], [2], ply["number"])
            piece, = ply["pieces"]
            self.assertEqual(len(piece["net_holes"]), 2)
            parted = piece["tear_holes"] or piece["cut_holes"]
            self.assertEqual(parted, piece["net_holes"])
            # A flat panel: the smooth one aside, the round hole is a circle to within its chords.
            self.assertAlmostEqual(min(map(area, parted), key=lambda a: abs(a - RING)) / RING, 1, 2)
            whole = area(piece["tear_line"] or piece["cut_line"])
            self.assertAlmostEqual(piece["area_mm2"], whole - sum(map(area, parted)), 0)

    def test_every_format_has_as_many_as_large(self):
        for ply in self.plan["plies"]:
            piece, = ply["pieces"]
            holes = sorted(map(area, piece["tear_holes"] or piece["cut_holes"]))
            edge = area(piece["tear_line"] or piece["cut_line"])
            name = piece["id"]
            for kind, found in (
                    ("svg", in_svg(self.folder, name)),
                    ("dxf", in_dxf(self.folder, name, f"templates/{name}.dxf")),
                    ("dxf-2000", in_dxf(self.folder, name, f"templates/{name}-2000.dxf")),
                    ("hpgl", in_hpgl(self.folder, name)),
                    ("pdf", in_pdf(self.folder, piece, pathlib.Path(self.room.name)))):
                with self.subTest(piece=name, format=kind):
                    closed = [area(points) for points, ends in found.lines if ends]
                    for wanted in holes + [edge]:
                        self.assertTrue(any(abs(a / wanted - 1) < 0.005 for a in closed),
                                        (wanted, sorted(closed)))
                    slit, = piece["relief_cuts"]
                    self.assertEqual(slit["kind"], "slit")
                    self.assertTrue(any(
                        not ends and len(points) == 2 and
                        abs(math.dist(*points) - math.dist(*slit["points"])) < 0.2
                        for points, ends in found.lines))
                    self.assertIn("CUTOUT", "".join("".join(found.words).split()))

    def test_slits_lie_apart(self):
        ways = []
        for ply in self.plan["plies"]:
            (ax, ay), (bx, by) = ply["pieces"][0]["relief_cuts"][0]["points"]
            ways.append(math.degrees(math.atan2(by - ay, bx - ax)))
        for a, b in zip(ways, ways[1:]):
            self.assertGreaterEqual(abs((b - a + 180) % 360 - 180), 90 - 1e-6)

    def test_the_sheet_says_first_that_fittings_may_come_out(self):
        sheet = (self.folder / "job-sheet.html").read_text(encoding="utf-8")
        self.assertIn("the cloth goes round 2 openings", sheet)
        self.assertIn("take it out, and bed it anew", sheet)
        self.assertIn("ask first", sheet)


if __name__ == "__main__":
    unittest.main(verbosity=2)
