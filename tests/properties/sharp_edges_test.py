"""Discs across the keel and about the stem of the Wigley sample: edges as sharp as a hull has.

Runs the program that TEARLINE names.
"""

import json
import math
import os
import subprocess
import tempfile
import unittest
from pathlib import Path

import random_places

TEARLINE = os.environ["TEARLINE"]
SAMPLES = Path(__file__).resolve().parents[2] / "sample-models"


def run(model, centre, radius, more="", depth=4):
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(f'[hull]\nmodel = "{SAMPLES / model}"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                       + ('unit = "mm"\n' if model.endswith(".stl") else "")
                       + f"skin = 9\n[damage]\ncentre = {list(centre)}\nradius = {radius}\n"
                         f'depth = {depth}\n[scarf]\nratio = 12\n[layup]\nfill = "mat 450"\n{more}')
        done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(Path(folder) / "out")],
                              capture_output=True, text=True)
        plan = None
        if done.returncode == 0:
            plan = json.loads((Path(folder) / "out" / "plan.json").read_text())
        return done, plan


class SharpEdges(unittest.TestCase):
    def test_a_disc_across_the_keel_has_no_holes_and_its_own_area(self):
        # The sides are nearly flat: a disc that unfolds over the keel has the area of a plane one,
        # to the 2 % that their bend makes of it. Its plies once had holes where rays parted.
        for model, x, z in (("wigley.step", 1300, -235), ("wigley.step", 700, -220),
                            ("wigley.stl", 1300, -235)):
            y = 200 * (1 - (x / 2000) ** 2) * (1 - (z / 250) ** 2)
            done, plan = run(model, (x, y, z), 100)
            self.assertEqual(done.returncode, 0, done.stderr)
            for ply in plan["plies"]:
                for piece in ply["pieces"]:
                    self.assertEqual(piece["net_holes"], [], piece["id"])
            self.assertAlmostEqual(plan["damage"]["area_mm2"] / (math.pi * 100 ** 2), 1, delta=0.02)
            wide = 100 + 12 * 4
            self.assertAlmostEqual(plan["scarf"]["area_mm2"] / (math.pi * wide ** 2), 1, delta=0.02)

    def test_a_disc_about_the_stem_is_planned_or_refused(self):
        # Rays pass the vertices of so sharp a stem again and again; the search for them never ended.
        for radius in (5, 30, 40, 60, 80):
            for x in (1960, 1980, 1990):
                done, _ = run("wigley.step", (x, 0, -100), radius, depth=2.1)
                self.assertIn(done.returncode, (0, 4), (x, radius, done.stderr))

    def test_a_crease_that_runs_out_at_the_hulls_end_leaves_a_disc_its_plane_area(self):
        # Two planes: by closed form the disc's area is that of a plane one less the part beyond
        # the end, however far the planes turn, seen from either side.
        for degrees, beside, radius, inside in ((120, 10, 80, 10), (135, -80, 120, 15),
                                                (150, 0, 40, 30)):
            turn = math.radians(degrees)

            def on(w, turn=turn):
                return (w, 0) if w < 0 else (w * math.cos(turn), -w * math.sin(turn))

            surface = random_places.profile([on(-400), on(0), on(400)], None, None, 800)
            area = (radius ** 2 * (math.pi - math.acos(inside / radius))
                    + inside * math.sqrt(radius ** 2 - inside ** 2))
            for outward in ("as modelled", "reversed"):
                with tempfile.TemporaryDirectory() as folder:
                    random_places.write_stl(Path(folder) / "m.stl", surface.triangles)
                    job = Path(folder) / "job.toml"
                    job.write_text(
                        '[hull]\nmodel = "m.stl"\nunit = "mm"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                        f'outward = "{outward}"\nmirror = false\nexact = true\n[damage]\n'
                        f"centre = {[inside, *on(beside)]}\nradius = {radius}\ndepth = 2.5\n")
                    done = subprocess.run([TEARLINE, "plan", str(job), "-o", f"{folder}/out"],
                                          capture_output=True, text=True)
                    self.assertEqual(done.returncode, 0, done.stderr)
                    plan = json.loads((Path(folder) / "out" / "plan.json").read_text())
                self.assertAlmostEqual(plan["damage"]["area_mm2"] / area, 1, delta=1e-3)

    def test_a_disc_at_a_domes_or_a_stems_rim_is_planned(self):
        # Places where its edge jumps just as it passes over the rim, or a level of the dish runs
        # along the rim.
        with tempfile.TemporaryDirectory() as folder:
            for number in (6021, 7074):
                self.assertIsNone(random_places.refusal(number, None, Path(folder)))


if __name__ == "__main__":
    unittest.main()
