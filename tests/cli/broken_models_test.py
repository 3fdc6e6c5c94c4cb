"""Broken models through `tearline hull` and `tearline plan`: mended and told, or refused with the
place. The areas are those of the closed form; what is mended is known from how it was broken."""
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import broken_models as bm  # noqa: E402

TEARLINE = os.environ["TEARLINE"]


class BrokenModels(unittest.TestCase):
    def setUp(self):
        self.room = tempfile.TemporaryDirectory(prefix="tearline broken ")
        self.model = pathlib.Path(self.room.name) / "h.stl"

    def tearDown(self):
        self.room.cleanup()

    def hull(self, facets, unit="mm", status=0):
        bm.write_stl(self.model, facets)
        run = subprocess.run([TEARLINE, "hull", str(self.model), "--unit", unit],
                             capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, status, run.stderr)
        if status:
            self.assertIn(str(self.model), run.stderr)
        return run.stderr

    def plan(self, damage, more="", unit="mm", status=0, up="[0, 0, 1]"):
        job = self.model.with_suffix(".toml")
        job.write_text(f'[hull]\nmodel = "h.stl"\nunit = "{unit}"\nbow = [1, 0, 0]\nup = {up}\n'
                       f'skin = 8\n{more}[damage]\n{damage}depth = 4\n', encoding="utf-8")
        run = subprocess.run([TEARLINE, "plan", str(job), "-o",
                              str(self.model.with_name("out")), "--json", "--format", "svg"],
                             capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, status, run.stderr)
        return json.loads(run.stdout) if status == 0 else run.stderr

    def area_said(self, said):
        return 1e6 * float(re.search(r"([\d.]+) m2", said).group(1))

    def assert_whole(self, said):
        self.assertAlmostEqual(self.area_said(said) / bm.true_area(), 1, delta=4e-3)
        self.assertRegex(said, r"openings\s*:?\s*1\b|1 opening")

    def test_a_sound_model_needs_no_mending(self):
        said = self.hull(bm.grid())
        self.assert_whole(said)
        self.assertNotIn("turned", said)

    def test_corners_apart_by_less_than_the_weld_are_joined(self):
        self.assert_whole(self.hull(bm.shaken(bm.grid(), 2e-4)))

    def test_single_facets_turned_over_are_turned_back_and_counted(self):
        said = self.hull(bm.turned(bm.grid(), lambda i: i % 37 == 5))
        self.assert_whole(said)
        self.assertRegex(said, r"\b21 ")  # 768 facets, every 37th from the fifth

    def test_all_facets_inward_are_turned_outward(self):
        said = self.hull(bm.turned(bm.grid()))
        self.assert_whole(said)
        self.assertIn("faced inward and was turned", said)

    def test_repeated_and_flat_facets_are_dropped_and_counted(self):
        facets = bm.grid()
        a, b, c = facets[100]
        half = tuple((x + y) / 2 for x, y in zip(a, b))
        said = self.hull(facets + facets[:7] + [(a, half, b), (c, c, a)])
        self.assert_whole(said)
        self.assertRegex(said, r"\b7 ")
        self.assertRegex(said, r"\b2 ")

    def test_sheets_that_meet_three_on_an_edge_are_refused_with_the_place(self):
        said = self.hull(bm.with_frame(bm.grid()), status=3)
        self.assertRegex(said, r"\(1000(\.0)?, ")

    def test_a_moebius_strip_is_refused_with_the_place(self):
        said = self.hull(bm.moebius(), status=3)
        self.assertRegex(said, r"near \(-?\d")

    def test_metres_inches_and_feet_are_one_hull(self):
        for unit, mm in (("m", 1000.0), ("in", 25.4), ("ft", 304.8), ("cm", 10.0)):
            with self.subTest(unit):
                said = self.hull(bm.scaled(bm.grid(), 1 / mm), unit)
                self.assert_whole(said)
                self.assertIn("2000.0 x 1200.0 x 300.0 mm", said)

    def test_a_hull_of_two_skins_is_repaired_on_the_side_asked_for(self):
        bm.write_stl(self.model, bm.with_skin(bm.grid()))
        for side, z in (("outside", -300.0), ("inside", -292.0)):
            made = self.plan(f"centre = [1000, 0, {z}]\nradius = 60\nside = \"{side}\"\n",
                             "" if side == "outside" else 'surface = "inside"\n')
            for p in made["damage"]["outline_3d"]:
                self.assertAlmostEqual(p[2], z, delta=4.0)  # 60^2 / 1200 = 3 mm of rise
        # Asked for the face that lies away, the skin moves the model: same place, other side.

    def test_half_a_hull_is_asked_about_and_mirrored(self):
        facets = [t for t in bm.grid() if all(p[1] >= -1e-9 for p in t)]
        bm.write_stl(self.model, facets)
        damage = "centre = [1000, 20, -299.7]\nradius = 60\n"
        said = self.plan(damage, status=4)
        for word in ("h.toml", "hull.mirror", "mirror = true", "mirror = false"):
            self.assertIn(word, said)
        whole = self.plan(damage, "mirror = true\n")
        bm.write_stl(self.model, bm.grid())
        self.assertAlmostEqual(whole["totals"]["glass_g"],
                               self.plan(damage)["totals"]["glass_g"], delta=0.05)

    def test_a_straight_sheer_over_wall_sides_is_no_centreline(self):
        # A flat-sided box of a boat: its sheer lies in a plane holding bow and up, and so do its
        # sides; nobody has cut it in half there.
        def box(x, s):
            half, side = BEAM / 2, 400.0
            run = (s / BEAM + 0.5) * (BEAM + 2 * side)  # along the section from sheer to sheer
            if run < side:
                return (x, -half, side - run)
            if run > side + BEAM:
                return (x, half, run - side - BEAM)
            return (x, run - side - half, 0.0)
        BEAM = bm.BEAM
        bm.write_stl(self.model, bm.grid(10, 40, box))
        made = self.plan("centre = [1000, 600, 340]\nradius = 30\n")
        self.assertIn("cut-at-hull-end", {w["code"] for w in made["warnings"]})

    def test_an_obj_with_shared_corners_is_the_same_hull(self):
        path = self.model.with_suffix(".obj")
        bm.write_obj(path, bm.grid())
        run = subprocess.run([TEARLINE, "hull", str(path), "--unit", "mm"], capture_output=True,
                             text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assert_whole(run.stderr)

    def test_a_noisy_scan_is_planned_like_the_smooth_hull(self):
        damage = "centre = [1000, 0, -300]\nradius = 60\n"
        bm.write_stl(self.model, bm.grid(100, 60))
        smooth = self.plan(damage)
        # 0.2 mm of noise on a 20 mm grid: what a hand scanner leaves after its own smoothing.
        def shape(x, y):
            p = bm.keel_shape(x, y)
            return (p[0], p[1], p[2] + 0.2 * math.sin(2.1 * x + 3.7 * y))
        bm.write_stl(self.model, bm.grid(100, 60, shape))
        noisy = self.plan(damage)
        self.assertAlmostEqual(noisy["totals"]["glass_g"] / smooth["totals"]["glass_g"], 1,
                               delta=5e-3)

    def test_a_tube_is_refused_where_the_repair_goes_round_it(self):
        def tube(x, y):
            turn = 2 * math.pi * y / bm.BEAM
            return (x, 150 * math.sin(turn), -150 * math.cos(turn))
        facets = [tuple(tuple(round(v, 4) for v in p) for p in t) for t in bm.grid(40, 32, tube)]
        bm.write_stl(self.model, facets)
        said = self.plan("centre = [1000, 0, -150]\nradius = 450\n", status=4)
        self.assertIn("tube", said)
        # A small repair of a wide tube is a plain one.
        self.plan("centre = [1000, 0, -150]\nradius = 40\n")


if __name__ == "__main__":
    unittest.main()
