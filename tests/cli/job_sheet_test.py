#!/usr/bin/env python3
"""The job sheet as paper: the PDF that the program makes, read back by poppler, beside the HTML."""
import html
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unicodedata
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from pdf_text import text_of  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"], "sample-models")
A4, LETTER = (595.28, 841.89), (612.0, 792.0)  # points: ISO 216, ANSI/ASME Y14.1


def plan(folder, changes=""):
    job = pathlib.Path(folder, "job.toml")
    text = (SAMPLES / "curlew.toml").read_text(encoding="utf-8")
    text = text.replace('model = "curlew.step"', f'model = "{SAMPLES / "curlew.step"}"')
    job.write_text(changes + text, encoding="utf-8")
    out = pathlib.Path(folder, "out")
    done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(out), "--format", "svg,pdf"],
                          capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return out


def pdf_text(pdf):
    return text_of(pdf, "-layout")


def page_size(pdf):
    info = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
    width, height = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info).groups()
    return float(width), float(height)


def squeezed(text):
    """Letters alone: fonts join "fi" into one sign, and lines break where they like."""
    return re.sub(r"\s+", "", unicodedata.normalize("NFKC", text))


class JobSheetOnPaper(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folder = plan(cls.room.name)
        cls.pdf = cls.folder / "job-sheet-A4.pdf"
        cls.html = (cls.folder / "job-sheet.html").read_text(encoding="utf-8")

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def test_pdf_holds_every_heading_in_the_order_of_the_html(self):
        text = squeezed(pdf_text(self.pdf))
        headings = [html.unescape(h) for h in re.findall(r"<h2[^>]*>(.*?)</h2>", self.html)]
        self.assertGreater(len(headings), 9)
        at = 0
        for heading in headings:
            found = text.find(squeezed(heading), at)
            self.assertGreaterEqual(found, 0, heading)
            at = found
        self.assertEqual(text.count("Cautions,thegravestfirst"), 1)

    def test_pdf_holds_every_warning_and_every_cup(self):
        text = squeezed(pdf_text(self.pdf))
        made = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
        for warning in made["warnings"]:
            # In plain words, with a capital letter in front.
            self.assertIn(squeezed(warning["plain"])[1:60], text)
        cups = [cup for stage in made["stages"] for cup in stage["cups"] if cup["mix_resin_g"] > 0]
        cups = len(cups) + len(made["topcoat_cups"])
        self.assertEqual(len(re.findall(r"cup\d+of\d+", text)), cups)
        # No dose is broken over two lines, where "2." and "4 g" could be misread.
        doses = re.findall(r"\d[\d.]* (?:g|mL) \(\d[\d.]* (?:oz wt|fl oz)\)", pdf_text(self.pdf))
        for stage in made["stages"]:
            for cup in stage["cups"]:
                if cup["mix_resin_g"] > 0:
                    self.assertTrue(any(d.split()[1] == "g" and
                                        abs(float(d.split()[0]) - cup["mix_hardener_g"]) < 0.06 or
                                        d.split()[1] == "mL" and cup["mix_hardener_mL"] and
                                        abs(float(d.split()[0]) - cup["mix_hardener_mL"]) < 0.06
                                        for d in doses), cup)

    def test_first_page_shows_the_place_and_the_plies_come_before_the_laying(self):
        pages = pdf_text(self.pdf).split("\f")
        for words in ("Curlew 6 m workboat, port chine", "Depth to grind", "176.665)"):
            self.assertIn(words, pages[0])
        where = {words: next(i for i, page in enumerate(pages) if words in page)
                 for words in ("Plies, in the order of laying", "Laying: stages and cups")}
        self.assertLess(where["Plies, in the order of laying"], where["Laying: stages and cups"])
        self.assertIn(f"page 1 of {len(pages) - 1}", pages[0])

    def test_paper_follows_the_units_and_can_be_chosen(self):
        for size, expected in zip(page_size(self.pdf), A4):
            self.assertAlmostEqual(size, expected, delta=1.0)
        with tempfile.TemporaryDirectory() as folder:
            out = plan(folder, 'display_units = "us"\n')
            for size, expected in zip(page_size(out / "job-sheet-Letter.pdf"), LETTER):
                self.assertAlmostEqual(size, expected, delta=1.0)
            own = pathlib.Path(folder, "own.pdf")
            done = subprocess.run([TEARLINE, "print", str(out), "--sheet", "--pdf", str(own)],
                                  capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
            for size, expected in zip(page_size(own), LETTER):
                self.assertAlmostEqual(size, expected, delta=1.0)
            chosen = pathlib.Path(folder, "chosen.pdf")
            done = subprocess.run([TEARLINE, "print", str(out), "--sheet", "--paper", "A4", "--pdf",
                                   str(chosen)], capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
            for size, expected in zip(page_size(chosen), A4):
                self.assertAlmostEqual(size, expected, delta=1.0)

    def test_templates_without_a_printer_tell_where_up_and_the_bow_are(self):
        # From the plan's own arrows on the curlew's port side, seen from outside.
        found = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
        said = dict(re.findall(r"(up|bow) at (\d+)°", self.html))
        self.assertEqual(said, {"up": "90", "bow": "180"})
        for mark in found["plies"][0]["pieces"][0]["marks"]:
            if mark["kind"] in said:
                (ax, ay), (bx, by) = mark["points"]
                angle = math.degrees(math.atan2(by - ay, bx - ax)) % 360
                self.assertLess(abs(int(said[mark["kind"]]) - angle), 15)

    def test_same_plan_gives_the_same_bytes(self):
        with tempfile.TemporaryDirectory() as folder:
            again = plan(folder) / "job-sheet-A4.pdf"
            self.assertEqual(again.read_bytes(), self.pdf.read_bytes())

    def test_sheet_without_a_pdf_to_write_is_refused(self):
        done = subprocess.run([TEARLINE, "print", str(self.folder), "--sheet"], capture_output=True,
                              text=True, check=False)
        self.assertEqual(done.returncode, 3)
        self.assertIn("--pdf", done.stderr)


if __name__ == "__main__":
    unittest.main()
