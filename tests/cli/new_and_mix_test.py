#!/usr/bin/env python3
"""`tearline new` and `tearline mix` as a person meets them: exit status, words, files."""
import os
import pathlib
import subprocess
import tempfile
import unittest

TEARLINE = os.environ["TEARLINE"]


def run(*words, folder=None):
    return subprocess.run([TEARLINE, *words], capture_output=True, text=True, cwd=folder, timeout=60)


class New(unittest.TestCase):
    def test_writes_a_job_file_and_never_over_one(self):
        with tempfile.TemporaryDirectory(prefix="tearline å é ") as folder:
            first = run("new", "mein boot.toml", folder=folder)
            self.assertEqual(first.returncode, 0, first.stderr)
            self.assertEqual(first.stdout, "")
            path = pathlib.Path(folder, "mein boot.toml")
            text = path.read_text(encoding="utf-8")
            self.assertIn("[damage]", text)
            path.write_text(text + "# mine\n", encoding="utf-8")
            again = run("new", "mein boot.toml", folder=folder)
            self.assertEqual(again.returncode, 5)
            self.assertIn("exists already", again.stderr)
            self.assertTrue(path.read_text(encoding="utf-8").endswith("# mine\n"))

    def test_default_name_and_missing_folder(self):
        with tempfile.TemporaryDirectory() as folder:
            self.assertEqual(run("new", folder=folder).returncode, 0)
            self.assertTrue(pathlib.Path(folder, "job.toml").exists())
            lost = run("new", "no/such/folder/job.toml", folder=folder)
            self.assertEqual(lost.returncode, 5)
            self.assertIn("cannot be written", lost.stderr)


class Mix(unittest.TestCase):
    def test_area_of_mat(self):
        # By hand: 0.5 m2 x 2 x 450 g/m2 x 7/3 x 1.1 = 1155 g; 1.25 % of it; 5 cups.
        done = run("mix", "--area", "0.5 m2", "--plies", "2")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(done.stdout, "")
        for word in ("1155 g", "2 lb 8.7 oz", "14.4 g", "5 cups", "test-cup", "hardener-assumed",
                     "eyes", "promoter", "catch fire", "Styrene", "data sheet comes first"):
            self.assertIn(word, done.stderr)

    def test_job_file_gives_resin_and_cloths(self):
        with tempfile.TemporaryDirectory() as folder:
            pathlib.Path(folder, "j.toml").write_text(
                '[hull]\nmodel = "h.step"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                "[damage]\ncentre = [0, 0, 0]\nradius = 80\ndepth = 6\n"
                '[[fabric]]\nname = "house mat"\nkind = "mat"\nweight = "1.5 oz/ft2"\n'
                "[resin]\nhardener_percent = 2.0\nwaste = 0\n", encoding="utf-8")
            # By hand: 457.7276 x 7/3 = 1068.0 g.
            done = run("mix", "--job", "j.toml", "--area", "1 m2", "--fabric", "house mat",
                       folder=folder)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertIn("1068 g", done.stderr)
            self.assertIn("21.4 g", done.stderr)

    def test_resin_by_the_fluid_ounce(self):
        # By hand: 8 x 29.5735 mL x 1.13 g/mL = 267.3 g, two cups; 1 % of a US fluid ounce is 0.29574 mL
        # (SOURCES.md section 4, derived).
        done = run("mix", "--resin", "8 fl oz", "--hardener", "1.0")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("267 g (9.4 oz wt)", done.stderr)
        self.assertIn("in 2 cups", done.stderr)
        by_volume = run("mix", "--resin", "1 fl oz", "--hardener", "1.0", "--basis", "volume")
        self.assertIn("0.3 mL", by_volume.stderr)
        self.assertLess(done.stderr.count("\n"), 24)  # one screen

    def test_epoxy_by_volume_takes_its_densities(self):
        # Closed form: 65 g of 2 : 1 at 1.15 and 0.95 g/mL take 65 / 3.25 = 20 mL of hardener, 19 g.
        words = ["mix", "--resin", "65 g", "--kind", "epoxy", "--parts", "2:1", "--basis", "volume"]
        known = run(*words, "--density", "1.15", "--hardener-density", "0.95")
        self.assertEqual(known.returncode, 0, known.stderr)
        self.assertIn("19.0 g", known.stderr)
        self.assertIn("20.0 mL", known.stderr)
        # By hand: 65 g / 1.10 g/mL (from memory) / 3; no grams are known.
        bare = run(*words)
        self.assertIn("hardener  19.7 mL (0.666 fl oz)\n", bare.stderr)
        self.assertIn("1.10 g/mL (from memory)", bare.stderr)
        for word in ("MEKP", "eroxide", "obalt"):
            self.assertNotIn(word, bare.stderr)
        self.assertNotRegex(known.stderr + bare.stderr, r"\d oz(?! wt)")

    def test_wrong_command_lines(self):
        for words in ([], ["--area", "0.5"], ["--area", "nan m2"], ["--plies", "2"],
                      ["--area", "1 m2", "--glass", "3 g"], ["--resin", "200"],
                      ["--resin", "200 g", "--kind", "glue"], ["--resin", "200 g", "--parts", "5"],
                      ["--resin", "200 g", "--hardener", "much"]):
            done = run("mix", *words)
            self.assertEqual(done.returncode, 2, (words, done.stderr))
            self.assertEqual(done.stdout, "", words)
            self.assertNotEqual(done.stderr, "", words)

    def test_values_that_hurt_are_bad_input(self):
        for words, said in ((["--hardener", "4"], "1 to 2 %"), (["--temperature", "5"], "15 C"),
                            (["--kind", "epoxy", "--basis", "mass"], "parts"),
                            (["--kind", "epoxy", "--parts", "5:1"], "--basis"),
                            (["--kind", "epoxy"], "--parts"),
                            (["--parts", "5:1"], "epoxy"),
                            (["--kind", "epoxy", "--hardener", "2"], "--parts"),
                            (["--temperature", "68"], "20 C is 68 F"),
                            (["--fabric", "mta 450"], '"mat 450"')):
            done = run("mix", "--resin", "200 g", *words)
            self.assertEqual(done.returncode, 3, (words, done.stderr))
            self.assertIn(said, done.stderr)

    def test_epoxy_assumes_no_cloth(self):
        words = ["--kind", "epoxy", "--parts", "2:1", "--basis", "volume", "--density", "1.15"]
        asked = run("mix", "--area", "0.3 m2", *words)
        self.assertEqual(asked.returncode, 3, asked.stderr)
        self.assertIn("--fabric: missing", asked.stderr)
        # By hand: 0.3 m2 x 300 g/m2 x (1 - 0.48) / 0.48 x 1.1 = 107.25 g, / 1.10 g/mL (from memory)
        # = 97.5 mL, 65 + 32.5 mL at 2 : 1; the jug shows fives from 60 mL on, so 70 + 35.
        done = run("mix", "--area", "0.3 m2", "--fabric", "cloth 300", *words)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertNotIn("emulsion", done.stderr)
        self.assertIn("70 mL", done.stderr)
        self.assertIn("35 mL", done.stderr)
        self.assertIn("without the hardener's density", done.stderr)
        self.assertIn("resin 1.15 g/mL as given", done.stderr)
        self.assertIn("density-missing", done.stderr)

    def test_vinylester_by_volume_says_what_its_density_is_used_for(self):
        # By hand: 100 g / 1.05 g/mL = 95.2 mL, rounded up to the jug's 100; 1.5 % of it.
        done = run("mix", "--resin", "100 g", "--kind", "vinylester", "--hardener", "1.5", "--basis",
                   "volume", "--density", "1.05")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("100 mL (3.38 fl oz), measuring jug", done.stderr)
        self.assertIn("1.5 mL (0.05", done.stderr)
        self.assertIn("without the hardener's density its dose is by volume only", done.stderr)
        self.assertNotIn("no densities", done.stderr)
        self.assertNotIn("1.10", done.stderr)

    def test_a_volume_without_a_density_says_what_it_was_taken_for(self):
        # By hand: 8 x 29.5735 mL x 1.10 g/mL (from memory) = 260.2 g.
        done = run("mix", "--resin", "8 fl oz", "--kind", "vinylester", "--hardener", "1.5")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("260 g", done.stderr)
        self.assertIn("1 mL is taken as 1.10 g (from memory)", done.stderr)
        known = run("mix", "--resin", "8 fl oz", "--kind", "vinylester", "--hardener", "1.5",
                    "--density", "1.05")
        self.assertNotIn("is taken as", known.stderr)

    def test_a_density_in_kilograms_a_cubic_metre_is_told_its_range(self):
        done = run("mix", "--resin", "8 fl oz", "--density", "1130")
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertIn("must be from 0.8 to 2 g/mL", done.stderr)

    def test_vinylester_has_no_figure_of_its_own(self):
        done = run("mix", "--resin", "200 g", "--kind", "vinylester")
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertIn("data sheet", done.stderr)
        # By hand: 1.5 % of 200 g; no density, so no mL.
        given = run("mix", "--resin", "200 g", "--kind", "vinylester", "--hardener", "1.5")
        self.assertEqual(given.returncode, 0, given.stderr)
        self.assertIn("3.0 g", given.stderr)
        self.assertNotIn("mL", given.stderr)


if __name__ == "__main__":
    unittest.main()
