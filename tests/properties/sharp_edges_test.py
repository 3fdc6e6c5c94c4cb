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


if __name__ == "__main__":
    unittest.main()
