#!/usr/bin/env python3
"""The table of defaults (core/SOURCES.md section 10) against what the program really assumes, and
the sheet against the table: every default that reaches it says what it rests on."""
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
from job_keys import job_keys  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
PANEL = SOURCE / "sample-models" / "panel.step"
MARKS = {"published", "common practice", "from memory", "form"}
# Exact by definition (international yard and pound).
UNITS = {"mm": 1.0, "mil": 0.0254, "g": 1.0, "kg": 1000.0, "%": 1.0, "C": 1.0, "h": 1.0,
         "degrees": 1.0, "g/m2": 1.0, "g/mL": 1.0, "g/cm3": 1.0, "m2/min": 1.0, "": 1.0}
LEAST = f"""
[hull]
model = "{PANEL}"
bow = [1, 0, 0]
up = [0, 0, 1]
outward = "as modelled"
[damage]
centre = [0, 0, 0]
radius = 60
depth = 2
"""
# Keys that say which repair it is, or that have no default: nothing to put a mark on.
NO_DEFAULT = re.compile(r"^(tearline|title|display_units|hull\.|marks|damage\.|prices|old_laminate|"
                        r"layup\.(stack|fill|press_first)$|fabric\.(name|kind|weight)$|"
                        r"resin\.(hardener_basis|gel_minutes|gel_at)$|shop\.hours_between_stages|"
                        r"scarf\.from|layup\.(inside|inner|outer)|backing\.(thickness|stays)|"
                        r"core\.(thickness|outer|inner|material|kerf_pitch|kerf_width|wet_edge|seal)$)")
# The same place holed, and cored: what only those have defaults for.
HOLE = LEAST.replace("depth = 2", "through = true").replace("[damage]", "skin = 8\n[damage]") + """
[scarf]
from = "both"
"""
CORED = LEAST.replace("depth = 2", 'reaches = "inner skin"') + """
[core]
thickness = 15
outer = 3
inner = 2.5
material = "PVC foam"
[layup.inner]
fill = "mat 300"
[layup.outer]
fill = "mat 450"
"""


def section():
    text = (SOURCE / "core" / "SOURCES.md").read_text(encoding="utf-8")
    return text[text.index("## 10. "):].split("\n## ")[0]


def rows(head="key"):
    """Rows of one of the section's tables, by their first cell."""
    table = section()[section().index(f"| {head} |"):].split("\n\n")[0]
    cells = [[c.strip() for c in line.strip("| ").split("|")]
             for line in table.splitlines() if line.startswith("| ")]
    return {row[0]: tuple(row[1:3]) if head == "key" else tuple(row[1:]) for row in cells[1:]}


def amount(text):
    """A figure of the table in the unit that plan.json has it in; words stay words."""
    pair = re.fullmatch(r"([\d.]+) to ([\d.]+) (\S+)", text)
    if pair:
        return [float(pair.group(1)), float(pair.group(2))]
    found = re.fullmatch(r"([\d.]+) ?(\S*)", text)
    if not found or found.group(2) not in UNITS:
        return text
    return float(found.group(1)) * UNITS[found.group(2)]


def seen(value):
    """A value of plan.json's job.effective in the same way."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return amount(value)
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return ", ".join(entry["fabric"] for entry in value)
    return value


class Defaults(unittest.TestCase):
    def made(self, changes, head="", least=LEAST):
        with tempfile.TemporaryDirectory() as room:
            job = pathlib.Path(room, "job.toml")
            job.write_text(head + least + changes, encoding="utf-8")
            out = pathlib.Path(room, "out")
            done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(out), "--format", "svg"],
                                  capture_output=True, text=True, timeout=120, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
            plan = json.loads((out / "plan.json").read_text(encoding="utf-8"))
            sheet = (out / "job-sheet.html").read_text(encoding="utf-8")
        return plan["job"]["effective"], sheet

    def compare(self, effective, kind):
        """Every value of the plan that nobody gave stands in the table, and the same there."""
        table, checked = rows(), set()
        for name, part in effective.items():
            for of in part if isinstance(part, list) else [part]:
                cloth = of.get("kind") if name == "fabric" else None
                for key, value in of.items() if isinstance(of, dict) else []:
                    path = f"{name}.{key}"
                    if NO_DEFAULT.match(path + ("" if isinstance(of, dict) else ".")) or value is None:
                        continue
                    row = next((p for p in (f"{path} of {cloth or kind}", path) if p in table), None)
                    self.assertIsNotNone(row, f"{path} = {value} has no row of its own")
                    wanted = amount(table[row][0])
                    if isinstance(wanted, float):
                        self.assertAlmostEqual(seen(value), wanted, places=9, msg=row)
                    else:
                        self.assertEqual(seen(value), wanted, row)
                    checked.add(row)
        return checked

    def test_table_and_program_agree(self):
        checked = set()
        effective, _ = self.made("")
        checked |= self.compare(effective, "polyester")
        self.assertEqual(seen(effective["layup"]["fill"]), amount(rows()["layup.fill"][0]))
        cloth = '[layup]\nstack = ["mat 450", "roving 600", "mat 450", "biaxial 600"]\n'
        effective, _ = self.made(cloth)
        del effective["layup"]
        checked |= self.compare(effective, "polyester")
        for least in (HOLE, CORED):
            effective, _ = self.made("", least=least)
            checked |= self.compare(effective, "polyester")
        keys = {key for key in rows() if re.match(r"[a-z]+\.[a-z_]+( of |$)", key)}
        other = {key for key in keys if re.search(r" of (epoxy|vinylester|US units)$", key)}
        self.assertEqual(keys - checked - other, {"layup.fill"})

    def test_every_row_has_a_mark(self):
        self.assertGreater(len(rows()), 40)
        for key, (_, mark) in rows().items():
            self.assertIn(mark, MARKS, key)

    def test_figures_in_the_code_stand_there(self):
        table = rows("figure")
        self.assertGreater(len(table), 15)
        for figure, (value, mark, where) in table.items():
            self.assertIn(mark, MARKS - {"form"}, figure)
            name, text = re.fullmatch(r"(\S+): `(.*)`", where).groups()
            code = (SOURCE / name).read_text(encoding="utf-8")
            self.assertIn(text, code, figure)
            for number in re.findall(r"\d+(?:\.\d+)?", value):
                shown = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", text)]
                self.assertIn(float(number), shown, figure)

    def test_marks_and_defaults_of_the_schema_are_those_of_the_table(self):
        told = {f"{table}.{key}" + (f" of {each['of']}" if each["of"] else ""):
                    (seen(each["value"]), each["mark"])
                for (table, key), row in job_keys(TEARLINE).items()
                for each in row.get("defaults", []) if "mark" in each}
        table = {key: (amount(value), mark) for key, (value, mark) in rows().items()
                 if re.match(r"[a-z]+\.[a-z_]+( of |$)", key)}
        self.assertEqual(set(told), set(table))
        for key, (value, mark) in table.items():
            self.assertEqual(told[key][1], mark, key)
            if isinstance(value, float):
                self.assertAlmostEqual(told[key][0], value, places=9, msg=key)
            else:
                self.assertEqual(told[key][0], value, key)

    def stand_ins(self, sheet):
        table = re.search(r'class="stand-ins">(.*?)</table>', sheet, re.S)
        if table is None:
            return {}
        lines = re.findall(r"<tr>(<td.*?)</tr>", table.group(1), re.S)
        cells = [[html.unescape(re.sub("<.*?>", "", c)) for c in re.findall(r"<td.*?</td>", line, re.S)]
                 for line in lines]
        return {row[0]: (row[1], row[2]) for row in cells}

    def test_the_sheet_marks_what_stands_in(self):
        _, sheet = self.made("")
        found = self.stand_ins(sheet)
        for words, figure, mark in (
                ("Left in pots, rollers and brushes", "10 %", "common practice"),
                ("Resin to wet the ground", "150 g/m² (0.49 oz/ft²)", "common practice"),
                ("Stretch that it may take: mat 300, mat 450", "5 %", "from memory"),
                ("Band torn thin: mat 300, mat 450", "20 mm (25/32 in)", "common practice"),
                ("Coldest that resin is laid", "15 °C (59 °F)", "common practice"),
                ("Most that is laid wet on wet, flat", "4.3 mm (0.169 in)", "common practice"),
                ("Cloth of the plies", "mat 450", "common practice"),
                ("Cover plies", "mat 300, mat 300", "common practice"),
                ("Least glass on complex shapes: mat", "25 %", "from memory"),
                ("Temperature of the shop", "20 °C (68 °F)", "common practice"),
                ("Topcoat, wet film", "0.51 mm (20 mil)", "common practice"),
                ("Topcoat cures", "overnight", "common practice"),
                ("Resin is sold in cans of", "5 kg", "common practice"),
                ("No load before", "48 h at 18 °C (64 °F)", "published")):
            self.assertEqual(found.get(words), (figure, mark), words)

    def test_a_default_that_does_not_act_stands_nowhere(self):
        _, sheet = self.made('[resin]\nkind = "epoxy"\nhardener_parts = [5, 1]\n'
                             'hardener_basis = "mass"\n[shop]\ntemperature = 22\n'
                             '[layup]\nstack = ["cloth 200", "cloth 200"]\ncover = []\n'
                             '[[fabric]]\nname = "cloth 200"\nglass_content = 0.45\n', 'display_units = "us"\n')
        found = self.stand_ins(sheet)
        self.assertEqual(found["Resin is sold in cans of"], ("1 qt", "common practice"))
        for words in ("Cover plies", "Cloth of the plies", "Temperature of the shop",
                      "Topcoat, wet film", "Topcoat cures", "Least glass on complex shapes: mat",
                      "Least glass on complex shapes: woven, biaxial"):
            self.assertNotIn(words, found)

    def test_a_figure_of_ones_own_needs_no_stand_in(self):
        _, sheet = self.made("[resin]\nwaste = 0.1\n[[fabric]]\nname = \"mat 450\"\n"
                             "tear_margin = 20\n[layup]\nposition = \"overhead\"\n")
        found = self.stand_ins(sheet)
        self.assertNotIn("Left in pots, rollers and brushes", found)
        self.assertEqual(found["Band torn thin: mat 300"], ("20 mm (25/32 in)", "common practice"))
        self.assertEqual(found["Of what is laid at once, overhead"], ("half", "common practice"))


if __name__ == "__main__":
    unittest.main()
