"""What a reader of sheets meets: his own units, plain words, warnings by rank, and his paper.

Expected: an inch is 25.4 mm (exact); a steel rule is read to 1/32 and a tape to 1/16 (common practice).
"""
import html
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from pdf_text import text_of  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"], "sample-models")

# Woven in epoxy with everything that can be said against it: emulsion mat twice, too steep, through.
EPOXY = """
title = "Epoxy, woven"
display_units = "us"
[hull]
model = "{samples}/curlew.step"
bow = [1, 0, 0]
up = [0, 0, 1]
skin = "1/4 in"
[damage]
centre = [3000, 780, 197]
radius = "3 in"
depth = "1/4 in"
[scarf]
ratio = 10
[layup]
stack = ["mat 300", "roving 600", "roving 600", "mat 300", "roving 600", "roving 600"]
cover = ["cloth 200"]
cover_step = "1 in"
[resin]
kind = "epoxy"
hardener_parts = [5, 1]
hardener_basis = "mass"
"""


def run(*words, **more):
    return subprocess.run([TEARLINE, *map(str, words)], capture_output=True, text=True, check=False,
                          **more)


def sample(name, us):
    text = (SAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    text = re.sub(r'model = "([^/"]+)"', lambda m: f'model = "{SAMPLES / m.group(1)}"', text)
    return ('display_units = "us"\n' if us else "") + text


def words_of(markup):
    """What a person reads: without tags and styles, a cell or paragraph a line."""
    markup = re.sub(r"<(style|desc|metadata)\b.*?</\1>", "", markup, flags=re.S)
    markup = re.sub(r"</(td|th|p|li|h1|h2|text|tr|div)>|<br/?>", "\n", markup)
    return html.unescape(re.sub(r"<[^>]*>", "", markup))


def outside_brackets(line):
    while (shorter := re.sub(r"\([^()]*\)", "", line)) != line:
        line = shorter
    return line


class Planned(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folders = {}
        jobs = {f"{name} {unit}": sample(name, unit == "us")
                for name in ("curlew", "curlew-taped", "sphere") for unit in ("us", "metric")}
        # A job's title is its owner's: this one holds a figure in mm.
        jobs = {name: text.replace("Sphere, radius 600 mm", "Sphere") for name, text in jobs.items()}
        jobs["epoxy us"] = EPOXY.format(samples=SAMPLES)
        jobs["epoxy metric"] = jobs["epoxy us"].replace('display_units = "us"\n', "")
        for name, text in jobs.items():
            folder = pathlib.Path(cls.room.name, name.replace(" ", "-"))
            folder.mkdir()
            (folder / "job.toml").write_text(text, encoding="utf-8")
            done = run("plan", folder / "job.toml", "-o", folder / "out", "--format", "svg,pdf")
            assert done.returncode == 0, name + ": " + done.stderr
            cls.folders[name] = folder / "out"

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def sheets(self, unit=""):
        """(name, words) of each job sheet, template, guide and overview."""
        for name, folder in self.folders.items():
            if unit and not name.endswith(unit):
                continue
            for path in [folder / "job-sheet.html", folder / "overview.svg",
                         *sorted((folder / "templates").glob("*.svg"))]:
                yield f"{name} {path.name}", words_of(path.read_text(encoding="utf-8"))

    def test_us_sheets_have_no_bare_millimetres(self):
        seen = 0
        for name, words in self.sheets("us"):
            for line in words.splitlines():
                seen += len(re.findall(r"\d in\b", line))
                # A wet film is said in mil, as its gauge shows it, with mm beside them.
                bare = outside_brackets(line).replace("mil = ", "mil (")
                bare = re.sub(r"\([\d.]+ mm|bar measures 100 mm", "", bare)
                self.assertNotRegex(bare, r"\bmm\b|\bm²|\bcm²|\bm of roll", f"{name}: {line}")
        self.assertGreater(seen, 100)

    def test_us_templates_on_paper_have_no_bare_millimetres_but_their_bars(self):
        for name, folder in self.folders.items():
            if not name.endswith("us"):
                continue
            text = text_of(folder / "templates-Letter.pdf", "-layout")
            for line in text.splitlines():
                line = re.sub(r"bar 100 mm|100 mm upright|circle 20 mm|\(10 mm\)", "", line)
                self.assertNotRegex(line, r"\bmm\b", name)

    def test_inches_and_millimetres_agree_to_the_rule(self):
        """3 5/32 in (80.2 mm): within half a mark and half of the last digit."""
        seen = 0
        for name, words in self.sheets("us"):
            words = words.replace("5 in (125 mm)", "")  # a disc as it is sold in either country
            for whole, count, parts, decimal, mm in re.findall(
                    r"(?<![\d/.])(?:(\d+) )?(?:(\d+)/(\d+)|(\d+(?:\.\d+)?)) in \(([\d.]+) mm\)", words):
                inches = float(whole or 0) + (int(count) / int(parts) if parts else float(decimal))
                mark = 1 / 1000 if "." in decimal else 1 / 32 if inches < 6 else 1 / 16
                digits = len(mm.split(".")[1]) if "." in mm else 0
                self.assertAlmostEqual(inches, float(mm) / 25.4, msg=f"{name}: {whole} {count}/{parts}"
                                       f"{decimal} in ({mm} mm)",
                                       delta=mark / 2 + 0.5 * 10**-digits / 25.4 + 1e-9)
                if parts:
                    self.assertIn(int(parts), (2, 4, 8, 16, 32))
                seen += 1
        self.assertGreater(seen, 60)

    def test_sheets_name_no_key_of_a_job_file(self):
        tables = "hull|damage|scarf|layup|fabric|resin|topcoat|laminator|shop|old_laminate|prices|marks|totals"
        for name, words in self.sheets():
            for line in words.splitlines():
                self.assertNotRegex(line, rf"\b({tables})\.[a-z]", name)
                self.assertNotRegex(line, r"\b[a-z]+_[a-z]+", name)

    def test_no_figure_is_absurd(self):
        for name, words in self.sheets():
            for line in words.splitlines():
                self.assertNotRegex(line, r"(?i)\bnan\b|\binf\b|(?<![\d.])-0(\.0*)?(?![\d.])", name)
                self.assertNotRegex(line, r"-\d[\d. ]*(mm|in) (proud|low|deep|thick)", name)
                self.assertNotRegex(line, r"(?<![\d.])0\.0+ (m²|ft²|g|oz)", name)
                self.assertNotRegex(line, r"\d{5,} (mm|in)\b", name)

    def test_warnings_stand_by_rank_and_are_counted_so(self):
        said = {"stop": "to stop and decide", "do": "to do", "know": "to know"}
        ranks_seen = set()
        for name, folder in self.folders.items():
            plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
            sheet = (folder / "job-sheet.html").read_text(encoding="utf-8")
            counted = {}
            for warning in plan["warnings"]:
                self.assertIn(warning["rank"], said)
                counted[warning["rank"]] = counted.get(warning["rank"], 0) + 1
            words = ", ".join(f"{counted[rank]} {said[rank]}" for rank in said if rank in counted)
            self.assertIn(words, words_of(sheet), name)
            self.assertIn(words, words_of((folder / "overview.svg").read_text(encoding="utf-8")))
            for rank, count in counted.items():
                self.assertEqual(len(re.findall(f'<li class="warning rank-{rank}"', sheet)), count)
            ranks_seen |= counted.keys()
        self.assertEqual(ranks_seen, set(said), "the jobs here show every rank")

    def test_emulsion_mat_under_epoxy_names_every_ply(self):
        plan = json.loads((self.folders["epoxy us"] / "plan.json").read_text(encoding="utf-8"))
        told = [w for w in plan["warnings"] if w["code"] == "emulsion-mat-in-epoxy"]
        self.assertEqual(len(told), 1)
        for ply in plan["plies"]:
            if ply["kind"] == "mat":
                self.assertRegex(told[0]["message"], rf"\b{ply['number']}\b")


class CommandLine(unittest.TestCase):
    def setUp(self):
        self.room = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.room.name)
        self.job = self.folder / "job.toml"
        self.job.write_text(sample("panel", False), encoding="utf-8")

    def tearDown(self):
        self.room.cleanup()

    def test_new_writes_to_stdout(self):
        done = run("new", "-", cwd=self.folder)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), ["job.toml"])
        run("new", "file.toml", cwd=self.folder)
        self.assertEqual(done.stdout, (self.folder / "file.toml").read_text(encoding="utf-8"))

    def test_a_measuring_sheet_goes_to_stdout_and_comes_in_inches(self):
        metric = run("new", "--measuring-sheet", "grid", "-").stdout
        inches = run("new", "--measuring-sheet", "grid", "--units", "in", "-").stdout
        self.assertIn("Everything in mm", words_of(metric))
        self.assertIn("Everything in inches", words_of(inches))
        self.assertIn("size: letter", inches)
        self.assertNotRegex(words_of(inches), r"\bmm\b|millimetre")

    def test_json_alone_puts_the_plan_on_stdout_and_writes_nothing(self):
        done = run("plan", self.job, "--json", cwd=self.folder)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(json.loads(done.stdout)["schema"], "tearline-plan/1")
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), ["job.toml"])

    def test_what_would_do_nothing_is_a_wrong_command_line(self):
        out = self.folder / "out"
        for words, said in [
                (["--format", "svg", "--arcs"], "--arcs"),
                (["--format", "svg", "--drill"], "--drill"),
                (["--format", "svg", "--chord-error", "0.1"], "--chord-error"),
                (["--format", "svg", "--cutter-files", "one"], "--cutter-files"),
                (["--format", "svg,pdf", "--arcs"], "--arcs"),
                (["--format", "hpgl", "--arcs"], "--arcs"),
                (["--format", "svg,hpgl", "--drill"], "--drill"),
                (["--print-scale", "150/0"], "print scale"),
                (["--print-scale", "150/12"], "print scale"),
                (["--print-scale", "a/b"], "print scale")]:
            with self.subTest(words=words):
                done = run("plan", self.job, "-o", out, *words)
                self.assertEqual(done.returncode, 2, done.stderr)
                self.assertIn(said, done.stderr)
                self.assertFalse(out.exists())
        self.assertEqual(run("plan", self.job).returncode, 2)  # neither a folder nor --json
        for words in (["--format", "svg,dxf", "--arcs", "--drill"],
                      ["--format", "hpgl", "--chord-error", "0.1"],
                      ["--format", "svg", "--pens", "1,2,3", "--chord-error", "0.1"]):
            done = run("plan", self.job, "-o", out, *words)
            self.assertEqual(done.returncode, 0, done.stderr)

    def test_the_job_sheet_goes_to_the_paper_asked_for(self):
        out = self.folder / "out"
        done = run("plan", self.job, "-o", out, "--paper", "letter,roll 914")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(sorted(p.name for p in out.glob("job-sheet*.pdf")), ["job-sheet-Letter.pdf"])
        self.assertEqual(sorted(p.name for p in out.glob("templates*.pdf")),
                         ["templates-A4.pdf", "templates-Letter.pdf", "templates-roll-914-mm.pdf"])
        info = subprocess.run(["pdfinfo", out / "job-sheet-Letter.pdf"], capture_output=True,
                              text=True, check=True).stdout
        self.assertRegex(info, r"Page size:\s+612 x 792")

    def test_a_print_scale_may_be_a_bar_by_what_it_measures(self):
        out = self.folder / "out"
        done = run("plan", self.job, "-o", out, "--format", "pdf", "--print-scale", "150/148.5")
        self.assertEqual(done.returncode, 0, done.stderr)
        text = text_of(out / "templates-A4.pdf")
        self.assertIn("1.0101", text)  # by hand: 150 / 148.5

    def test_a_model_is_told_in_inches(self):
        # By construction 2000 x 1000 x 500 mm, radius 500 mm: 6 ft 6 3/4 in, 39 3/8, 19 11/16 in.
        done = run("hull", SAMPLES / "cylinder.step", "--show", "in")
        self.assertEqual(done.returncode, 0, done.stderr)
        for words in ("78 3/4 in x 39 3/8 in x 19 11/16 in", "19 11/16 in near", " ft2"):
            self.assertIn(words, done.stderr)
        self.assertEqual(run("hull", SAMPLES / "cylinder.step", "--show", "ells").returncode, 2)


if __name__ == "__main__":
    unittest.main()
