"""What must hold of any plan, and what must not change when only the way of saying it changes.

No figure here is the program's own: each plan is held against another plan of the same repair told
in another way (turned, mirrored, scaled, in other units), or against itself.
"""
import json
import math
import os
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "golden"))
import sample_points as sp  # noqa: E402
from what_changed import area, from_line, length  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"


def plan(folder, text):
    job = pathlib.Path(folder) / "job.toml"
    job.write_text(text, encoding="utf-8")
    run = subprocess.run([TEARLINE, "plan", str(job), "-o", str(pathlib.Path(folder) / "out"),
                          "--json", "--format", "svg"], capture_output=True, text=True,
                         timeout=60, check=False)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def sample(name):
    """A sample job with the model's own place in it."""
    text = (SAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return re.sub(r'model = "', f'model = "{SAMPLES}/', text)


def write_stl(path, triangles):
    body = b"".join(struct.pack("<12fH", 0, 0, 0, *a, *b, *c, 0) for a, b, c in triangles)
    pathlib.Path(path).write_bytes(b"\0" * 80 + struct.pack("<I", len(triangles)) + body)


def turn(p, by):
    return tuple(sp.dot(row, p) for row in by)


# A turn about (1, 2, 3) by 1 rad (Rodrigues), so that no axis of the model stays one.
AXIS = sp.unit((1, 2, 3))
TURN = [[math.cos(1) * (i == j) + (1 - math.cos(1)) * AXIS[i] * AXIS[j] + math.sin(1) * s
         for j, s in enumerate(row)]
        for i, row in enumerate([(0, -AXIS[2], AXIS[1]), (AXIS[2], 0, -AXIS[0]),
                                 (-AXIS[1], AXIS[0], 0)])]


def show(p):
    return "[%.9g, %.9g, %.9g]" % tuple(p)


def repair_on(model, unit, centre, bow=(1, 0, 0), up=(0, 0, 1), more=""):
    return (f'[hull]\nmodel = "{model}"\nunit = "{unit}"\nbow = {show(bow)}\nup = {show(up)}\n'
            f'skin = "9 mm"\n[damage]\ncentre = {show(centre)}\nlength = "150 mm"\n'
            f'height = "90 mm"\ndepth = "4.2 mm"\n[layup]\nfill = "mat 450"\n'
            f'cover = ["mat 300"]\n{more}')


def pieces(one):
    return [piece for ply in one["plies"] for piece in ply["pieces"]]


class PlanInvariants(unittest.TestCase):
    def setUp(self):
        self.room = tempfile.TemporaryDirectory(prefix="tearline same ")
        self.folder = pathlib.Path(self.room.name)

    def tearDown(self):
        self.room.cleanup()

    def assert_same_templates(self, one, other, within, flip=False, scale=1.0):
        """Every net line and edge line of `other`, turned over about the line up if `flip`, lies on
        that of `one`."""
        self.assertEqual([p["id"] for p in pieces(one)], [p["id"] for p in pieces(other)])
        for a, b in zip(pieces(one), pieces(other)):
            for name in ("net_line", "tear_line"):
                line = [[scale * (-x if flip else x), scale * y] for x, y in a[name]]
                far = max(from_line(p, b[name]) for p in line[::5])
                self.assertLess(far, within, f"{name} of {a['id']}")
                self.assertGreater(area(b[name]), 0, "counter-clockwise, whichever side")
            self.assertAlmostEqual(b["area_mm2"] / a["area_mm2"] / scale ** 2, 1, delta=2e-4)

    def test_plies_lie_within_each_other_and_nets_within_their_templates(self):
        for name in ("panel", "cylinder", "curlew", "sandpiper"):
            # A disc on a developable surface: the way on goes straight on. An outline with a dent
            # has ways that meet, and a next ply farther off than a step.
            most = 0.1 if name in ("panel", "cylinder") else 5.0
            with self.subTest(name):
                made = plan(self.folder, sample(name))
                for below, above in zip(made["plies"], made["plies"][1:]):
                    self.assertGreater(above["edge_offset_mm"], below["edge_offset_mm"])
                    inner, outer = below["outlines_3d"][0], above["outlines_3d"][0]
                    step = above["edge_offset_mm"] - below["edge_offset_mm"]
                    # A straight line is no longer than the way on the surface; over a convex chine
                    # it is shorter, by no more than cos(turn / 2) of 60 degrees.
                    for p in inner["outer"][::7]:
                        self.assertGreater(from_line(p, outer["outer"]), 0.8 * step)
                        self.assertLess(from_line(p, outer["outer"]), step + most)
                for ply in made["plies"]:
                    for piece in ply["pieces"]:
                        edge = piece["tear_line"]
                        self.assertGreater(area(piece["net_line"]), 0)
                        self.assertGreaterEqual(area(edge), area(piece["net_line"]))
                        self.assertAlmostEqual(area(edge) + sum(map(area, piece["tear_holes"])),
                                               piece["area_mm2"], delta=1e-4 * piece["area_mm2"])

    def test_masses_and_areas_sum_to_the_totals(self):
        for name in ("panel", "curlew", "sandpiper", "wigley"):
            with self.subTest(name):
                made = plan(self.folder, sample(name))
                totals, plies = made["totals"], made["plies"]
                for ply in plies:
                    self.assertAlmostEqual(sum(p["area_mm2"] for p in ply["pieces"]),
                                           ply["glass_area_mm2"], places=3)
                    for what in ("glass_g", "resin_g"):
                        self.assertAlmostEqual(sum(p[what] for p in ply["pieces"]), ply[what],
                                               places=6)
                self.assertAlmostEqual(sum(p["glass_area_mm2"] for p in plies) / 1e6,
                                       totals["glass_area_m2"], places=9)
                self.assertAlmostEqual(sum(p["glass_g"] for p in plies), totals["glass_g"],
                                       places=6)
                cups = [cup for stage in made["stages"] for cup in stage["cups"]]
                self.assertAlmostEqual(sum(c["resin_g"] for c in cups), totals["resin_g"],
                                       places=6)
                self.assertAlmostEqual(sum(s["thickness_mm"] for s in made["stages"]),
                                       sum(p["thickness_mm"] for p in plies), places=9)

    def test_same_job_gives_the_same_bytes(self):
        first = plan(self.folder, sample("curlew"))
        files = {p.name: p.read_bytes() for p in (self.folder / "out").rglob("*") if p.is_file()}
        self.assertEqual(plan(self.folder, sample("curlew")), first)
        for p in (self.folder / "out").rglob("*"):
            if p.is_file():
                self.assertEqual(p.read_bytes(), files[p.name], p.name)

    def test_the_other_side_of_the_hull_gives_templates_turned_over(self):
        port = plan(self.folder, sample("curlew"))
        # The hull is its own mirror image in y = 0; outline points change their side.
        lines = re.sub(r"\[(\d+\.\d), (\d+\.\d), (\d+\.\d)\]", r"[\1, -\2, \3]", sample("curlew"))
        starboard = plan(self.folder, lines)
        self.assertNotEqual(port["damage"]["outline_3d"][0][1] > 0,
                            starboard["damage"]["outline_3d"][0][1] > 0)
        self.assert_same_templates(port, starboard, within=0.05, flip=True)

    def test_a_turned_and_moved_model_gives_the_same_templates(self):
        triangles = sp.read_stl(SAMPLES / "curlew.stl")
        here = plan(self.folder, repair_on(SAMPLES / "curlew.stl", "mm", (2480, 998.9, 314.2)))
        shift = (1234.5, -777.0, 4000.0)
        moved = [[sp.add(turn(p, TURN), shift) for p in t] for t in triangles]
        write_stl(self.folder / "moved.stl", moved)
        there = plan(self.folder, repair_on(
            self.folder / "moved.stl", "mm", sp.add(turn((2480, 998.9, 314.2), TURN), shift),
            turn((1, 0, 0), TURN), turn((0, 0, 1), TURN)))
        self.assert_same_templates(here, there, within=0.1)

    def test_units_of_model_and_job_change_nothing(self):
        triangles = sp.read_stl(SAMPLES / "cylinder.stl")
        at = (1000, 0, -500)
        metric = plan(self.folder, repair_on(SAMPLES / "cylinder.stl", "mm", at))
        for unit, mm in (("m", 1000.0), ("in", 25.4), ("ft", 304.8), ("cm", 10.0)):
            with self.subTest(unit):
                write_stl(self.folder / "small.stl",
                          [[tuple(x / mm for x in p) for p in t] for t in triangles])
                text = repair_on(self.folder / "small.stl", unit, at)
                text = text.replace('"150 mm"', '"15 cm"').replace('"4.2 mm"', '"0.0042 m"')
                other = plan(self.folder, 'display_units = "us"\n' + text)
                self.assert_same_templates(metric, other, within=0.02)
                for key in ("glass_g", "resin_g", "hardener_g"):
                    self.assertAlmostEqual(other["totals"][key] / metric["totals"][key], 1,
                                           delta=1e-5)

    def test_scaling_by_two_scales_areas_by_four(self):
        # Everything that is a length is doubled, the cloth's own thickness and margins too.
        def job(s):
            write_stl(self.folder / "big.stl",
                      [[tuple(s * x for x in p) for p in t]
                       for t in sp.read_stl(SAMPLES / "sphere.stl")])
            return (f'[hull]\nmodel = "big.stl"\nunit = "mm"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                    f'skin = {9 * s}\n[damage]\ncentre = [0, 0, {-600 * s}]\nradius = {80 * s}\n'
                    f'depth = {4 * s}\n[layup]\nfill = "mat 450"\ncover = []\n[[fabric]]\nname = "mat 450"\n'
                    f'thickness = {s}\ntear_margin = {20 * s}\nroll_width = {1250 * s}\n')
        small, big = plan(self.folder, job(1)), plan(self.folder, job(2))
        self.assert_same_templates(small, big, within=0.05, scale=2.0)
        for a, b in zip(pieces(small), pieces(big)):
            self.assertAlmostEqual(a["strain"]["rms"], b["strain"]["rms"], delta=1e-5)

    def test_the_outlines_start_and_sense_change_nothing(self):
        text = sample("sandpiper")
        points = re.findall(r"\[\d+\.\d, \d+\.\d, \d+\.\d\]", text)
        self.assertEqual(len(points), 9)
        one = plan(self.folder, text)
        for name, order in (("from another point", points[4:] + points[:4]),
                            ("the other way round", points[::-1])):
            with self.subTest(name):
                left = iter(order)
                other = plan(self.folder, re.sub(r"\[\d+\.\d, \d+\.\d, \d+\.\d\]",
                                                 lambda m: next(left), text))
                self.assertAlmostEqual(other["damage"]["area_mm2"], one["damage"]["area_mm2"],
                                       delta=1e-4 * one["damage"]["area_mm2"])
                self.assert_same_templates(one, other, within=0.05)

    def test_cloth_nets_keep_their_yarns(self):
        # A pin-jointed net neither stretches nor shears on a developable surface, and on the sphere
        # it shears more the farther it goes from its first yarns.
        def in_cloth(name):
            return sample(name).replace('fill = "mat 450"', 'fill = "roving 600"\ncover = []')

        flat = plan(self.folder, in_cloth("cylinder"))
        for piece in pieces(flat):
            self.assertIsNone(piece["strain"])
            self.assertLess(piece["shear_deg"]["max"], 0.05)
            self.assertIsNone(piece["tear_line"])
            self.assertGreater(area(piece["cut_line"]), 0)
        round_ = plan(self.folder, in_cloth("sphere"))
        sheared = [p["shear_deg"]["max"] for p in pieces(round_)]
        self.assertEqual(sheared, sorted(sheared))
        self.assertGreater(sheared[0], 0.5)

    def test_closed_lines_are_long_enough_for_what_they_enclose(self):
        # Isoperimetric inequality: P^2 >= 4 pi A for any flat loop.
        for piece in pieces(plan(self.folder, sample("curlew"))):
            for line in (piece["net_line"], piece["tear_line"]):
                self.assertGreaterEqual(length(line) ** 2, 4 * math.pi * area(line) * (1 - 1e-9))


if __name__ == "__main__":
    unittest.main()
