"""The measuring sheets: one page each, and what is written in their boxes types straight into a job
file that plans.

The hull is a cylinder of 900 mm radius, standing or lying, so that tapes on it are straight lines
of its unrolled plane. Runs the program that TEARLINE names.
"""

import html.parser
import json
import math
import os
import re
import subprocess
import tempfile
import unittest
from pathlib import Path

TEARLINE = os.environ["TEARLINE"]
R, DISC, DEEP, APART = 900.0, 60.0, 4.2, 500.0


class Sheet(html.parser.HTMLParser):
    """Numbered sections by what they begin with; each the rows of its tables; a box is None."""

    def __init__(self, text):
        super().__init__()
        self.sections, self.heading, self.cell = {}, None, None
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        if tag == "h2":
            self.heading = ""
        if tag == "tr":
            self.sections[self.name].append([])
        if tag in ("td", "th"):
            self.cell = None if ("class", "box") in attributes else ""
            self.sections[self.name][-1].append(self.cell)

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self.cell = None
        if tag == "h2":
            self.name, self.heading = self.heading.strip(), None
            self.sections[self.name] = []

    def handle_data(self, data):
        if self.heading is not None:
            self.heading += data
        elif self.cell is not None:
            self.cell += data
            self.sections[self.name][-1][-1] = self.cell

    def section(self, number):
        return next((n, rows) for n, rows in self.sections.items() if n.startswith(number))


def word(text):
    """The key that a label names: its last word, brackets left out."""
    return re.findall(r"\w+", re.sub(r"[^\w .\[\]]", "", text))[-1]


def boxes(row):
    return sum(cell is None for cell in row)


def place(i, count, radius):
    """Point i of a ring round the damage in the unrolled plane, none level with the marks."""
    a = 2 * math.pi * (i + 0.5) / count
    return radius * math.cos(a), radius * math.sin(a)


def tapes(p):
    return (round(math.hypot(p[0] + APART / 2, p[1]), 1),
            round(math.hypot(p[0] - APART / 2, p[1]), 1), "up" if p[1] > 0 else "down")


def falls(s):
    return R - math.sqrt(R * R - s * s)


class MeasuringSheets(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = Path(self.temporary.name)

    def sheet(self, *words):
        path = self.folder / "sheet.html"
        subprocess.run([TEARLINE, "new", "--measuring-sheet", *words, str(path)], check=True,
                       capture_output=True)
        return path

    def typed(self, sheet, hull_table, marks):
        """A job file from the boxes: their number and their names are the sheet's."""
        text = hull_table + marks
        name, rows = sheet.section("4")
        self.assertIn("outline", name)
        rows = {word(row[0]): boxes(row) for row in rows if boxes(row)}
        self.assertEqual(list(rows), ["A", "B", "side"])
        count = rows["A"]
        points = [tapes(place(i, count, DISC)) for i in range(count)]
        text += "[damage]\noutline = [" + ", ".join(
            f'{{A = {a}, B = {b}, side = "{side}"}}' for a, b, side in points) + "]\n"
        job = {}
        for row in sheet.section("5")[1]:
            for label, box in zip(row, row[1:]):
                if box is None and label:
                    job[re.findall(r"depth|ratio|temperature|hardener_percent|fill|cover",
                                   label)[0]] = True
        self.assertEqual(list(job), ["depth", "ratio", "temperature", "hardener_percent", "fill",
                                     "cover"])
        text += f'depth = {DEEP}\nround = "floor"\n'
        name, rows = sheet.section("6")
        self.assertIn("[[damage.sounding]]", name)
        count = boxes(next(row for row in rows if row[0] == "6 depth"))
        for i in range(count):
            radius = 25.0 if i % 2 == 0 else DISC + 20.0
            a, b, side = tapes(place(i, count, radius))
            depth = DEEP - max(0.0, radius - DISC) / 12
            text += (f'[[damage.sounding]]\nat = {{A = {a}, B = {b}, side = "{side}"}}\n'
                     f'depth = {depth:.1f}\nfrom = "straightedge"\nlength = 600\n'
                     'direction = "across"\n')
        return text + ('[scarf]\nratio = 12\n[layup]\nfill = "mat 450"\ncover = ["mat 300"]\n'
                       '[resin]\nhardener_percent = 1.25\n[shop]\ntemperature = 20\n')

    def check(self, text):
        job = self.folder / "job.toml"
        job.write_text(text)
        done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(self.folder / "out"),
                               "--json"], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0, done.stderr + text)
        plan = json.loads(done.stdout)
        # The unrolled disc, tapes read to 0.1 mm.
        self.assertAlmostEqual(plan["damage"]["area_mm2"] / (math.pi * DISC ** 2), 1.0, delta=0.01)
        self.assertEqual(len(plan["plies"]), 5)
        self.assertNotIn("suspicious-figure", {w["code"] for w in plan["warnings"]})

    def test_by_batten(self):
        sheet = Sheet(self.sheet().read_text())
        name, rows = sheet.section("3")
        self.assertIn("[hull.measured]", name)
        labels = [word(c) for row in rows for c in row if c and re.search("batten|gap", c)]
        self.assertEqual(labels, ["batten", "gap_along", "1", "gap_across", "1"])
        gap = round(falls(400), 1)
        self.check(self.typed(sheet, '[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n'
                              f'[hull.measured]\nbatten = 800\ngap_along = {gap}\n'
                              f'gap_across = 0\ngap_along_ends = [{gap}, {gap}]\n'
                              'gap_across_ends = [0, 0]\n',
                              f'[marks.A]\n[marks.B]\nA = {APART}\n'))

    def test_by_string_net(self):
        sheet = Sheet(self.sheet("grid").read_text())
        name, rows = sheet.section("3")
        self.assertIn("[hull.grid]", name)
        spacings = [word(label) for label, box in zip(rows[0], rows[0][1:]) if box is None]
        self.assertEqual(spacings, ["spacing_along", "spacing_across"])
        self.assertEqual(rows[1][0], "offsets")
        net = [boxes(row) for row in rows[2:]]
        self.assertEqual(len(net), 9)
        offsets = [[round(100 + falls(75 * (j - (n - 1) / 2)), 1) for j in range(n)] for n in net]
        self.check(self.typed(sheet, '[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n'
                              '[hull.grid]\n' + "".join(f"{key} = 75\n" for key in spacings)
                              + f"offsets = {offsets}\n",
                              f'[marks.A]\n[marks.B]\nA = {APART}\n'))

    def test_by_sections(self):
        sheet = Sheet(self.sheet("sections").read_text())
        name, rows = sheet.section("3")
        self.assertIn("[hull.sections]", name)
        self.assertIn("stations", rows[0][1])
        self.assertEqual(rows[1][0], "waterlines")
        waterlines = [75 * j for j in range(boxes(rows[1]))]
        middle = 75 * (len(rows) - 3) / 2
        stations = [75 * i for i in range(len(rows) - 2)]
        table = [[round(700 - falls(x - middle), 1)] * (boxes(row) - 1)
                 for x, row in zip(stations, rows[2:])]
        level = waterlines[-1] / 2

        def mark(s):
            return [round(middle + R * math.sin(s / R), 1),
                    round(700 - R * (1 - math.cos(s / R)), 1), level]

        self.check(self.typed(sheet, '[hull]\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = 8\n'
                              f'[hull.sections]\nstations = {stations}\n'
                              f'waterlines = {waterlines}\nhalf_breadths = {table}\n',
                              f'[marks.A]\nat = {mark(-APART / 2)}\n'
                              f'[marks.B]\nat = {mark(APART / 2)}\n'))

    def test_each_is_one_page(self):
        # By adding up: rows by the height of their boxes, words by the lines they fill in DejaVu
        # Sans of 9 pt, the widest face that a browser takes (1.7 mm a letter in the mean). A4 less
        # its margins; a browser's own pages were 0 to 7 mm shorter.
        for words in [[], ["grid"], ["corner"], ["sections"]]:
            path = self.sheet(*words)
            text = path.read_text()
            path.unlink()
            self.assertIn("size: A4", text)
            low, net = "height: 5.4mm" in text, "height: 5.2mm" in text
            self.assertEqual(low, bool(words))
            self.assertEqual(net, bool(words))
            top, columns, rest = re.match(
                r'(.*?)<div class="two">(.*)</div></div>\n(.*)', text, re.S).groups()

            line = 9 * 25.4 / 72 * (1.18 if low else 1.25)

            def height(part, width):
                part = re.sub(r"<style>.*?</style>", "", part, flags=re.S)
                total = 7.0 * part.count("<h1>")
                total += float((re.search(r'svg style="height: (\d+)mm', part) or [0, 0])[1])
                for block in re.findall(r"<(?:p|h2)>.*?</(?:p|h2)>", part, re.S):
                    letters = len(re.sub(r"<[^>]*>", "", block))
                    total += math.ceil(1.7 * letters / width) * line + 0.6
                    total += (3.0 if low else 3.7) if block.startswith("<h2>") else 0.0
                for table in re.findall(r"<table.*?</table>", part, re.S):
                    box = (5.2 if "fill net" in table else 5.4) if low else 6.0
                    for row in re.findall(r"<tr>.*?</tr>", table, re.S):
                        lines = line * (1 + row.count("<br>"))
                        total += max(lines, box if "box" in row else 0.0)
                        total += 0.3 if low else 0.6
                return total

            left, right = columns.split("</div><div>")
            whole = (height(top.split("</head>")[1], 189)
                     + max(height(left, 92), height(right, 92)) + height(rest, 189))
            self.assertGreater(whole, 200, "all of the sheet is counted")
            self.assertLess(whole, 297 - (16 if low else 20), words)

    def test_another_name_is_refused_and_a_file_may_stand_alone(self):
        done = subprocess.run([TEARLINE, "new", "--measuring-sheet", "gird"], cwd=self.folder,
                              capture_output=True, text=True)
        self.assertEqual(done.returncode, 2)
        self.assertIn("gird; give batten, grid, corner or sections", done.stderr)
        for name in ("corner.pdf", "corner.svg", "corner"):  # it would be a page under another name
            done = subprocess.run([TEARLINE, "new", "--measuring-sheet", "corner", name], cwd=self.folder,
                                  capture_output=True, text=True)
            self.assertEqual(done.returncode, 2)
            self.assertIn("give a name that ends in .html", done.stderr)
        self.assertEqual(list(self.folder.iterdir()), [])
        subprocess.run([TEARLINE, "new", "--measuring-sheet", "sections"], cwd=self.folder,
                       check=True, capture_output=True)
        self.assertIn("[hull.sections]", (self.folder / "measuring-sheet.html").read_text())


if __name__ == "__main__":
    unittest.main(verbosity=2)
