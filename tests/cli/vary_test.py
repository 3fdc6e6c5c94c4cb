#!/usr/bin/env python3
"""What if: `tearline plan JOB --vary` shows each combination as a plan of its own shows it, marks what is best by this
script's own reading of the rule, and never what is to be decided first."""
import csv
import itertools
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from random_repairs import SAMPLES, TEARLINE  # noqa: E402

JOB = f"""title = "What if & what <not>"
[hull]
model = "{SAMPLES / 'cylinder.step'}"
bow = [1, 0, 0]
up = [0, 0, 1]
skin = "8 mm"
[damage]
centre = [1000, 300, -400]
radius = 60
depth = "4.2 mm"
[scarf]
ratio = 12
[layup]
fill = "mat 450"
order = "smallest first"
[old_laminate]
thickness = "8 mm"
kind = "mat"
[prices]
currency = "EUR"
resin_per_kg = 9
hardener_per_kg = 30
topcoat_per_kg = 14
fairing_per_litre = 20
fabric_per_m2 = {{"mat 450" = 4.5, "mat 300" = 3.5}}
"""
LEAST = {"ground_area_m2", "glass_g", "resin_g", "hours", "cost", "strain_max", "shear_max"}


def vary(job, *words, status=0):
    done = subprocess.run([TEARLINE, "plan", str(job), *map(str, words)], capture_output=True, text=True, timeout=300,
                          check=False)
    assert done.returncode == status, (done.returncode, done.stderr)
    return done


def rows_of(folder):
    with (folder / "variants.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


class WhatIf(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        temporary = tempfile.TemporaryDirectory(prefix="tearline what if ")
        cls.addClassCleanup(temporary.cleanup)
        cls.room = pathlib.Path(temporary.name)
        cls.job = cls.room / "job.toml"
        cls.job.write_text(JOB, encoding="utf-8")
        cls.made = cls.room / "made"
        cls.done = vary(cls.job, "--vary", "scarf.ratio=8,12,20", "--vary",
                        'layup.order="smallest first",largest first', "-o", cls.made)
        cls.rows = rows_of(cls.made)

    def setUp(self):
        self.out = self.room / self.id().rsplit(".", 1)[-1]

    def test_every_combination_has_its_row(self):
        self.assertEqual([(row["scarf.ratio"], row["layup.order"].strip('"')) for row in self.rows],
                         list(itertools.product(("8", "12", "20"), ("smallest first", "largest first"))))
        self.assertEqual({row["status"] for row in self.rows}, {"0"})
        self.assertEqual(sorted(p.name for p in self.made.iterdir()), ["manifest.json", "variants.csv", "variants.html"])

    def test_the_figures_are_those_of_plans_made_one_by_one(self):
        for row in self.rows:
            order = row["layup.order"].strip('"')
            text = JOB.replace("ratio = 12", f"ratio = {row['scarf.ratio']}").replace("smallest first", order)
            job = self.room / "one.toml"
            job.write_text(text, encoding="utf-8")
            plan = json.loads(vary(job, "--json").stdout)
            for key in ("ground_area_m2", "glass_g", "resin_g"):
                self.assertAlmostEqual(float(row[key]), plan["totals"][key], delta=1e-9 * plan["totals"][key])
            self.assertAlmostEqual(float(row["cost"]), plan["shopping"]["cost"], delta=1e-6)
            self.assertEqual(row["cost_complete"] == "true", plan["shopping"]["complete"])
            strains = [piece["strain"]["max"] for ply in plan["plies"] for piece in ply["pieces"]]
            self.assertAlmostEqual(float(row["strain_max"]), max(strains), delta=1e-9)
            ratios = plan["laminate"]["ratios"]
            self.assertAlmostEqual(float(row["strength"]),
                                   min(ratios["membrane_strength"], ratios["bending_strength"]), delta=1e-9)
            self.assertAlmostEqual(float(row["bending_stiffness"]), ratios["bending_stiffness"], delta=1e-9)
            for rank in ("stop", "do", "know"):
                self.assertEqual(int(row[rank]), sum(w["rank"] == rank for w in plan["warnings"]))
            self.assertEqual(row["warnings"].split(), [w["code"] for w in plan["warnings"]])

    def best_by_the_rule(self, rows):
        """The rule as a person reads it: never what has something to decide, a scarf below 12, a weaker patch."""
        may = [row for row in rows if row["status"] == "0" and row["stop"] == "0" and float(row["scarf.ratio"]) >= 12
               and float(row["strength"] or 1) >= 1 - 1e-5 and not {"patch-weaker", "scarf-short"} & set(row["warnings"].split())]
        best = {row["variant"]: set() for row in rows}
        for key in LEAST | {"strength", "bending_stiffness"}:
            have = [row for row in may if row.get(key) and (key != "cost" or row["cost_complete"] == "true")]
            if have:
                figure = {"strength": lambda row: -float(row["strength"]),
                          "bending_stiffness": lambda row: max(float(row["bending_stiffness"]),
                                                               1 / float(row["bending_stiffness"]))}.get(
                    key, lambda row, key=key: float(row[key]))
                least = min(map(figure, have))
                for row in have:
                    # The same on two machines: DEFINITIONS.md, "Variants".
                    if figure(row) - least <= 1e-5 * abs(figure(row)) + 1e-6:
                        best[row["variant"]].add(key)
        return best

    def test_the_best_are_marked_by_the_rule(self):
        for row in self.rows:
            self.assertEqual(set(row["best_in"].split()) - {"warnings"}, self.best_by_the_rule(self.rows)[row["variant"]],
                             row)
        self.assertTrue(any(row["best_in"] for row in self.rows), self.done.stderr)
        for row in self.rows[:2]:  # the cheapest of all, and not marked
            self.assertEqual(row["best_in"], "")
            self.assertIn("scarf below 12", row["not_marked_because"])
        self.assertEqual(min(self.rows, key=lambda row: float(row["resin_g"]))["scarf.ratio"], "8")

    def test_a_scarf_below_its_check_is_never_marked(self):
        job = self.room / "check.toml"
        job.write_text(JOB.replace("ratio = 12", 'ratio = 12\nbond_shear = 5'), encoding="utf-8")
        vary(job, "--vary", "scarf.ratio=12,16,60", "-o", self.out)
        rows = rows_of(self.out)
        plan = json.loads(vary(job, "--json").stdout)
        required = plan["scarf_check"]["required_ratio"]
        self.assertGreater(required, 12)  # or this shows nothing
        for row in rows:
            if float(row["scarf.ratio"]) < required:
                self.assertEqual(row["best_in"], "")
                self.assertIn("scarf below its check", row["not_marked_because"])

    def test_the_terminal_shows_the_table_with_its_marks(self):
        lines = self.done.stderr.splitlines()
        self.assertEqual(self.done.stdout, "")
        for row in self.rows:
            line = next(line for line in lines if line.startswith(f"{row['variant']}  "))
            glass = f"{float(row['glass_g']):.0f}"
            self.assertIn(glass + ("*" if "glass_g" in row["best_in"].split() else " "), line)
            self.assertTrue(line.rstrip().endswith(row["not_marked_because"]), line)
        self.assertIn("licensed practice", self.done.stderr)

    def test_the_page_has_a_picture_a_row_and_says_what_it_is(self):
        page = ElementTree.fromstring((self.made / "variants.html").read_text(encoding="utf-8").partition("\n")[2])
        rows = page.findall(".//tbody/tr")
        self.assertEqual(len(rows), 6)
        for row, told in zip(rows, self.rows):
            picture = row.find(".//svg")
            self.assertIsNotNone(picture)
            # The damage, the scarf's edge and a ring a ply; all to one scale, as large as each other.
            self.assertEqual(picture.get("viewBox"), rows[0].find(".//svg").get("viewBox"))
            self.assertGreater(len(picture), 4)
            self.assertEqual(len(row.findall(".//td[@class='figure best']")), len(told["best_in"].split()))
        text = "".join(page.itertext())
        for words in ("What if & what <not>", "no work sheet", "licensed practice", "scarf below 12"):
            self.assertIn(words, text)

    def test_lists_and_amounts_are_values_too(self):
        vary(self.job, "--vary", 'layup.fill="mat 450",["mat 300", "mat 450"]', "--vary", "damage.radius=60 mm,2.5 in",
             "-o", self.out)
        rows = rows_of(self.out)
        self.assertEqual(len(rows), 4)
        self.assertGreater(float(rows[1]["ground_area_m2"]), float(rows[0]["ground_area_m2"]))  # 63.5 mm

    def test_what_cannot_be_planned_is_told_in_its_row(self):
        done = vary(self.job, "--vary", "scarf.ratio=12,-1", "-o", self.out)
        rows = rows_of(self.out)
        self.assertEqual([row["status"] for row in rows], ["0", "3"])
        self.assertIn("scarf.ratio: value -1", rows[1]["message"])
        self.assertEqual((rows[1]["best_in"], rows[1]["glass_g"]), ("", ""))
        self.assertIn("not planned: ", done.stderr)

    def test_where_none_can_be_planned_nothing_is_written(self):
        for words, status, said in ((["scarf.ration=8,12"], 3, "ratio"), (["hull.model=no.step,none.step"], 3, "no.step"),
                                    (["scarf.ratio.x=1"], 3, "scarf.ratio")):
            done = vary(self.job, "--vary", *words, "-o", self.out, status=status)
            self.assertIn(said, done.stderr)
            self.assertFalse(self.out.exists())

    def test_wrong_words_are_refused(self):
        values = ",".join(map(str, range(1, 33)))
        for words, said in ((["--vary", "scarf.ratio"], "no '='"), (["--vary", "scarf.ratio=8,"], "empty value"),
                            (["--vary", f"scarf.ratio={values}", "--vary", f"damage.depth={values}"],
                             "more than 1000 combinations"),
                            (["--vary", "scarf.ratio=8", "--vary", "scarf.ratio=12"], "varied twice"),
                            (["--vary", "scarf.ratio=8", "--json"], "--json"),
                            (["--vary", "scarf.ratio=8", "--format", "pdf"], "--format")):
            done = vary(self.job, *words, "-o", self.out, status=2)
            self.assertIn(said, done.stderr)
            self.assertFalse(self.out.exists())

    def test_the_folder_is_held_like_a_plans(self):
        words = ["--vary", "scarf.ratio=12,16", "-o", self.out]
        vary(self.job, *words)
        first = {p.name: p.read_bytes() for p in self.out.iterdir()}
        vary(self.job, *words)
        self.assertEqual({p.name: p.read_bytes() for p in self.out.iterdir()}, first)  # the same bytes again
        (self.out / "variants.csv").write_text("mine", encoding="utf-8")
        done = vary(self.job, *words, status=5)
        self.assertIn("variants.csv", done.stderr)
        self.assertEqual((self.out / "variants.csv").read_text(encoding="utf-8"), "mine")

    def test_without_a_folder_the_table_alone_is_told(self):
        before = sorted(os.listdir(self.room))
        done = vary(self.job, "--vary", "scarf.ratio=12,16")
        self.assertTrue(re.search(r"(?m)^2  16 ", done.stderr), done.stderr)
        self.assertEqual(sorted(os.listdir(self.room)), before)


if __name__ == "__main__":
    unittest.main(verbosity=2)
