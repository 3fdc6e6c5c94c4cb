#!/usr/bin/env python3
"""How to lay, time, care, finish and what is used up, as the job sheet says them: every figure is
worked out again from plan.json by the definitions, in Python."""
import collections
import html
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
from pdf_text import text_of  # noqa: E402
from plan_areas import touched_mm2  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"], "sample-models")

POLYESTER = ""
GEL = '\ngel_minutes = 20\ngel_at = {temperature = 20, percent = 1.25, mass = "100 g"}\n'
EPOXY = 'kind = "epoxy"\nhardener_parts = [5, 1]\nhardener_basis = "mass"\n'
FINEST = 32  # parts of an inch that a tape shows
FRACTIONS = {"a tenth": 0.1, "a quarter": 0.25, "a third": 1 / 3, "half": 0.5,
             "two thirds": 2 / 3, "three quarters": 0.75, "nine tenths": 0.9}


def job_text(sample, resin, units, layup=""):
    text = (SAMPLES / f"{sample}.toml").read_text(encoding="utf-8")
    text = re.sub(r'model = "([^"]+)"', lambda m: f'model = "{SAMPLES / m[1]}"', text)
    head = f'display_units = "{units}"\n'
    if resin == EPOXY:
        text = text[:text.index("[resin]")] + "[resin]\n" + EPOXY
        text = text.replace('fill = "mat 450"', 'fill = "cloth 300"')
        text = re.sub(r"cover = .*", 'cover = ["cloth 200"]', text)
    else:
        text += resin
    return head + layup + text


def words(markup):
    text = re.sub(r"<svg.*?</svg>", "", markup, flags=re.S)
    text = html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")
    return re.sub(r"\s+", " ", text).strip()


def plain(markup):
    """A text's words as they are set: marks inside a word do not part it."""
    text = re.sub(r"</?(b|i|span|sub|sup)\b[^>]*>", "", markup)
    return html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")


def mixed(stage):
    """Its cups but one whose resin comes out of the next stage's: nothing is mixed for that."""
    return [cup for cup in stage["cups"] if cup["mix_resin_g"] > 0]


class Sheet:
    """A plan, and its job sheet by sections."""

    def __init__(self, folder, sample, resin=POLYESTER, units="metric", formats="svg"):
        job = pathlib.Path(folder, f"{sample}.toml")
        job.write_text(job_text(sample, resin, units), encoding="utf-8")
        self.folder = pathlib.Path(folder, "out")
        done = subprocess.run([TEARLINE, "plan", str(job), "-o", str(self.folder), "--format",
                               formats], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        self.plan = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
        self.job = self.plan["job"]["effective"]
        self.html = (self.folder / "job-sheet.html").read_text(encoding="utf-8")
        self.metric = units == "metric"
        parts = re.split(r"<h2[^>]*>(.*?)</h2>", self.html, flags=re.S)
        self.sections = {words(name): body for name, body in zip(parts[1::2], parts[2::2])}
        self.epoxy = resin == EPOXY

    def says(self, section):
        return words(self.sections[section])

    def rows(self, section):
        return [[words(cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", row, flags=re.S)]
                for row in re.findall(r"<tr[^>]*>(.*?)</tr>", self.sections[section], flags=re.S)
                if "<td" in row]

    def ply(self, number):
        ply, = [ply for ply in self.plan["plies"] if ply["number"] == number]
        return ply

    def layers(self, index):
        """(ply or 0, resin g, area m2) of a stage; the ground first where it primes."""
        totals, layers = self.plan["totals"], []
        stages = self.plan["stages"]
        primes = 1 if len(stages) > 1 and stages[1]["primes_g"] > 0 else 0
        if index == primes and totals["prime_g"] > 0:
            layers.append((0, totals["prime_g"], totals["ground_area_m2"]))
        for number in self.plan["stages"][index]["plies"]:
            ply = self.ply(number)
            layers.append((number, ply["resin_g"], ply["glass_area_mm2"] / 1e6))
        return layers

    def footprint(self):
        return touched_mm2(self.plan) / 1e6

    def gel(self):
        return any(cup["use_within_min"] for stage in self.plan["stages"] for cup in stage["cups"])


FIGURE = r"(\d+ \d+/\d+|\d+/\d+|[\d.]+)"


def read(figure):
    """A figure as written and half of its last step: 4.20, 13/16, 1 1/2."""
    whole, _, part = figure.rpartition(" ")
    if "/" not in part:
        return float(part), 0.5 * 10 ** -(len(part.partition(".")[2]))
    above, below = map(float, part.split("/"))
    return float(whole or 0) + above / below, 0.5 / FINEST


def in_metric(text, unit, us, factor):
    """The first amount of a unit, checked against its fellow in brackets."""
    found = re.search(rf"{FIGURE} {unit} \({FIGURE} {us}\)", text)
    if found:
        metric, other = read(found[1]), read(found[2])
    else:
        found = re.search(rf"{FIGURE} {us} \({FIGURE} {unit}\)", text)
        metric, other = read(found[2]), read(found[1])
    assert abs(metric[0] - other[0] * factor) <= metric[1] + other[1] * factor + 1e-9, text
    return metric[0]


def millimetres(text):
    return in_metric(text, "mm", "in", 25.4)


def grams(text):
    return float(re.search(r"([\d.]+) g\b", text)[1])


def squares(text):
    return [float(figure) for figure in re.findall(r"([\d.]+) m²", text)]


def buck(celsius):
    """Saturation pressure over water, hPa: Buck 1981 with the constants of 1996, from memory; the
    sheet's own formula is Magnus'."""
    return 6.1121 * math.exp((18.678 - celsius / 234.5) * (celsius / (257.14 + celsius)))


def dew_point(air, humidity):
    low, high = -40.0, air
    for _ in range(60):
        middle = 0.5 * (low + high)
        if buck(middle) < humidity / 100 * buck(air):
            low = middle
        else:
            high = middle
    return low


class AtTheBench(unittest.TestCase):
    """One class a job below; each line of each of them."""
    sample, resin, units = "curlew", POLYESTER, "metric"

    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.sheet = Sheet(cls.room.name, cls.sample, cls.resin, cls.units)

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def test_sections_stand_as_the_work_goes(self):
        order = ["The repair", "Ask first", "Cautions, the gravest first",
                 "Before: survey and preparation", "Grinding", "Plies, in the order of laying",
                 "Tear, cut and fit dry", "Mixing", "Laying: stages and cups",
                 "Laying, stage by stage", "Time", "Cure", "Finish", "Used up, and tools",
                 "Afterwards", "Record while you work", "Templates without a printer"]
        found = [name for name in self.sheet.sections if name in order]
        self.assertEqual(found, order)

    def test_surface_temperatures_are_three_degrees_above_the_dew_point(self):
        temperature = self.sheet.job["shop"]["temperature"]
        head = re.findall(r"Humidity (\d+) %", self.sheet.says("Grinding"))
        rows = [row for row in self.sheet.rows("Grinding") if "°" in row[0]]
        self.assertEqual(len(rows), 3)
        def read(cell):
            value = float(re.match(r"-?[\d.]+", cell)[0])
            return value if self.sheet.metric else (value - 32) / 1.8
        for row, more in zip(rows, (-5, 0, 5)):
            self.assertAlmostEqual(read(row[0]), temperature + more, delta=0.06)
            self.assertEqual(len(row) - 1, len(head))
            for cell, humidity in zip(row[1:], head):
                expected = dew_point(temperature + more, float(humidity)) + 3
                self.assertAlmostEqual(read(cell), expected, delta=0.15)

    def test_every_piece_is_named_before_the_first_cup(self):
        says = self.sheet.says("Tear, cut and fit dry")
        for mat, verb in ((True, "Tear"), (False, "Cut")):
            by_fabric = {}
            for ply in self.sheet.plan["plies"]:
                if (ply["kind"] == "mat") == mat:
                    by_fabric.setdefault(ply["fabric"], []).extend(p["id"] for p in ply["pieces"])
            for fabric, ids in by_fabric.items():
                self.assertIn(f"{len(ids)} of {fabric} ({' '.join(ids)})", says)
            self.assertEqual(f"{verb} , before any cup" in says, bool(by_fabric))
        fabrics = {f["name"]: f for f in self.sheet.job["fabric"]}
        margins = {fabrics[p["fabric"]]["tear_margin"] for p in self.sheet.plan["plies"]
                   if p["kind"] == "mat"}
        drawn = re.findall(r"thinned by hand over ([^<]*)<", self.sheet.html)
        self.assertEqual(sorted(millimetres(text) for text in drawn), sorted(margins - {0}))

    def laying_rows(self):
        rows = [row for row in self.sheet.rows("Laying, stage by stage") if len(row) == 7]
        self.assertEqual(len(rows), len(self.sheet.plan["stages"]))
        return rows

    def test_each_cup_goes_where_its_resin_goes(self):
        for index, row in enumerate(self.laying_rows()):
            cups = mixed(self.sheet.plan["stages"][index])
            if not cups:
                self.assertEqual(row[2], "out of the next stage's first cup")
                continue
            layers = self.sheet.layers(index)
            said = re.split(r"cup \d+ : ", row[2])[1:]
            self.assertEqual(len(said), len(cups))
            whole = sum(resin for _, resin, _ in layers)
            share = whole / sum(cup["resin_g"] for cup in cups)
            poured = 0.0
            for cup, line in zip(cups, said):
                first, poured = poured * share, poured + cup["resin_g"]
                expected, below = {}, 0.0
                for ply, resin, _ in layers:
                    part = (min(poured * share, below + resin) - max(first, below)) / resin
                    below += resin
                    if part > 0.04:
                        expected["the ground" if ply == 0 else f"ply {ply}"] = part
                parts = {}
                for part in line.strip().split(", "):
                    layer = re.search(r"the ground|ply \d+", part)[0]
                    parts[layer] = part
                self.assertEqual(list(parts), list(expected))
                for layer, part in parts.items():
                    part = re.sub("^another (tenth|quarter|third)", r"a \1", part)
                    for name, value in FRACTIONS.items():
                        if name in part:
                            self.assertAlmostEqual(value, expected[layer], delta=0.09)
                    if part == layer:
                        self.assertGreater(expected[layer], 0.9)

    def test_each_stage_has_its_pieces_resin_on_glass_and_height(self):
        built = self.sheet.plan.get("built") or {"built_mm": 0.0}
        # By core/DEFINITIONS.md, Soundings: what was built and what is left over it.
        height, depth = built["built_mm"], self.sheet.job["damage"]["depth"]
        if "volumes" in self.sheet.plan:
            depth = height + self.sheet.plan["volumes"]["deepest_mm"]
        for stage, row in zip(self.sheet.plan["stages"], self.laying_rows()):
            if not stage["plies"]:
                self.assertEqual(row[3:5], ["", ""])
                continue
            plies = [self.sheet.ply(number) for number in stage["plies"]]
            pieces = [p for ply in plies for p in ply["pieces"]]
            ids, _, pressed = row[1].partition(" press ")
            self.assertEqual(ids, " ".join(p["id"] for p in pieces))
            ringed = [p["id"] for p in pieces
                      if any(mark["kind"] == "press_first" for mark in p["marks"])]
            names = "each" if len(ringed) == len(pieces) else " ".join(ringed)
            self.assertEqual(pressed, f"{names} down at its ring first" if ringed else "")
            resin, glass = (sum(ply[key] for ply in plies) for key in ("resin_g", "glass_g"))
            laid, on = row[3].split(" on ")
            self.assertAlmostEqual(grams(laid), resin, delta=0.51)
            self.assertAlmostEqual(grams(on), glass, delta=0.51)
            self.assertIn(f"= {resin / glass:.2f} : 1", row[3])
            height += sum(ply["thickness_mm"] for ply in plies)
            up, low = re.match(r"(.*?\)) (.*)", row[4]).groups()
            self.assertAlmostEqual(millimetres(up), height, delta=0.006)
            self.assertAlmostEqual(millimetres(low), abs(depth - height), delta=0.006)
            self.assertIn("low" if height < depth else "proud", low)
            self.assertTrue(row[5].startswith("____"))

    def stage_minutes(self, index):
        area = sum(area for _, _, area in self.sheet.layers(index))
        return (area / self.sheet.job["laminator"]["wet_out_rate"] +
                5 * len(mixed(self.sheet.plan["stages"][index])))

    def test_minutes_stand_only_where_gel_data_count(self):
        for index, row in enumerate(self.laying_rows()):
            if self.sheet.gel():
                if not mixed(self.sheet.plan["stages"][index]):
                    self.assertEqual(row[6], "with stage 2")
                    continue
                # Not "6:", which reads as the hour.
                planned = re.fullmatch(r"(\d+) min planned, took _+", row[6])
                self.assertAlmostEqual(float(planned[1]), self.stage_minutes(index), delta=0.51)
            else:
                self.assertRegex(row[6], "^_+$")

    def test_time_is_made_of_what_the_row_says(self):
        rows = {row[0]: row for row in self.sheet.rows("Time")}
        plan, job = self.sheet.plan, self.sheet.job
        rate = job["laminator"]["wet_out_rate"]
        topcoat = 0.0 if self.sheet.epoxy else self.sheet.footprint()
        wet = (sum(area for i in range(len(plan["stages"]))
                   for _, _, area in self.sheet.layers(i)) + topcoat) / rate
        cups = (sum(len(mixed(stage)) for stage in plan["stages"]) +
                (0 if self.sheet.epoxy else len(plan["topcoat_cups"])))
        pieces = sum(len(ply["pieces"]) for ply in plan["plies"])
        def minutes(name):
            return float(re.match(r"([\d.]+) min", rows[name][2])[1])
        self.assertAlmostEqual(minutes("Wet out"), wet, delta=0.51)
        self.assertAlmostEqual(minutes("Mix"), 5 * cups, delta=0.51)
        self.assertIn(f"{cups} cups", rows["Mix"][1])
        self.assertAlmostEqual(minutes("Tear and cut"), 5 * pieces, delta=0.51)
        self.assertIn(f"{pieces} pieces", rows["Tear and cut"][1])
        glass, ground = squares(rows["Wet out"][1])[:2]
        self.assertAlmostEqual(glass, plan["totals"]["glass_area_m2"], delta=0.0006)
        self.assertAlmostEqual(ground, plan["totals"]["ground_area_m2"], delta=0.0006)
        hours = (wet + 5 * cups + 5 * pieces) / 60
        self.assertAlmostEqual(float(rows["Work, tearing to last coat"][2].split(" ")[0]), hours,
                               delta=0.051)
        laid = [i for i, stage in enumerate(plan["stages"]) if stage["plies"]]
        waits, gel = len(laid) - 1, job["resin"].get("gel_minutes") if self.sheet.gel() else 0
        laying = sum(self.stage_minutes(i) for i in range(len(plan["stages"])))
        least = max(1, math.ceil((laying + waits * ((gel or 0) + 30)) / 480))
        most = max(least, 1 + math.ceil(waits * job["resin"]["recoat_hours"] / 24))
        def days(a, b):
            return f"{a} day{'' if a == 1 else 's'}" if a == b else f"{a} to {b} days"
        self.assertEqual(rows["Laying"][2], days(least, most))
        self.assertEqual(rows["Cure"][2], "2 days")
        self.assertEqual(rows["Days in all, first cup to load"][2], days(least + 2, most + 2))

    def test_finish_has_its_amounts(self):
        says, totals = self.sheet.says("Finish"), self.sheet.plan["totals"]
        self.assertAlmostEqual(millimetres(says[says.index("Sand"):]), totals["sanding_mm"],
                               delta=0.006)
        kept = re.search(r"†: (.*?) of fresh laminate stay \((\d+) plies", says)
        self.assertAlmostEqual(millimetres(kept[1]), totals["kept_mm"], delta=0.006)
        self.assertEqual(int(kept[2]), totals["kept_plies"])
        fairing = in_metric(says[says.index("Fill and fair"):][:80], "mL", "fl oz", 29.5735295625)
        self.assertAlmostEqual(fairing, totals["fairing_mL"], delta=0.51)
        paint = in_metric(says[says.index("coats,"):], "mL", "fl oz", 29.5735295625)
        self.assertAlmostEqual(paint, 1000 * self.sheet.footprint() * 3 / 10, delta=0.51)
        if self.sheet.epoxy:
            self.assertIn("Polyester gel coat never goes over epoxy", says)
            self.assertIn("5 : 1 by mass", says)
            return
        topcoat = self.sheet.job["topcoat"]
        coat = (1000 * self.sheet.footprint() * topcoat["thickness"] * topcoat["density"] *
                (1 + self.sheet.job["resin"]["waste"]))
        gel = says[says.index("Gel coat"):]
        self.assertAlmostEqual(grams(gel), coat, delta=0.51)
        dose = re.search(r" wet, (?:one cup|\d+ cups, each) of ([\d.]+) g \(.*? scale.*? with ([\d.]+) "
                         r"(g|mL) \(.*?\) (scale|[\w-]+ syringe) ", gel)
        hardener = float(dose[1]) * topcoat["hardener_percent"] / 100
        if dose[3] == "mL":
            hardener /= self.sheet.job["resin"]["hardener_density"]
        # Half a division is at most 5 % of a dose.
        self.assertAlmostEqual(float(dose[2]), hardener, delta=0.05 * hardener + 1e-9)
        bought = {row[1]: row[2] for row in self.sheet.rows("Shopping list")}
        for name in ("topcoat", "gel coat of the finish, unless it is painted"):
            self.assertAlmostEqual(grams(bought[name]), coat, delta=0.51)
        self.assertIn("a sealing coat, sanded off again", self.sheet.says("Laying: stages and cups"))
        self.assertIn("besides the sealing coat that was sanded off", gel)

    def test_board_goes_where_the_widest_ply_lets_it(self):
        widest = max(self.sheet.plan["plies"], key=lambda ply: ply["edge_offset_mm"])
        says = self.sheet.says("Finish")
        convex = widest["convex_radius_mm"]
        if convex is not None and convex < 3:
            self.assertIn("To the edge from both sides, never across it", says)
        elif convex is not None and convex < 1000:
            bend = says[says.index("On the bend, radius down to"):]
            self.assertAlmostEqual(millimetres(bend), convex, delta=0.51)
        else:
            self.assertNotIn("On the bend", says)

    def test_consumables_follow_their_rules(self):
        rows = {row[1]: row[2] for row in self.sheet.rows("Used up, and tools")}
        plan, footprint = self.sheet.plan, self.sheet.footprint()
        topcoat = not self.sheet.epoxy
        cups = (1 + sum(len(mixed(stage)) for stage in plan["stages"]) +
                (len(plan["topcoat_cups"]) if topcoat else 0))
        cleaned = sum(1 for stage in plan["stages"] if stage["plies"]) + topcoat
        self.assertEqual(int(rows["mixing cups and stirring sticks"]), cups)
        self.assertEqual(int(rows["pairs of gloves"]), math.ceil(cups / 2) + 4)
        self.assertEqual(int(rows["brushes and roller sleeves, of each"]), cleaned)
        self.assertEqual(int(rows["rags"]), 5 * cleaned)
        solvent, = [text for name, text in rows.items() if name.startswith(
            "acetone" if topcoat else "cleaning solvent")]
        self.assertAlmostEqual(in_metric(solvent, "mL", "fl oz", 29.5735295625),
                               250 * cleaned + 200 * footprint, delta=0.51)
        discs, = [text for name, text in rows.items() if name.startswith("grinding discs")]
        self.assertEqual(int(discs), max(2, math.ceil(plan["totals"]["ground_area_m2"] / 0.1)))
        sheets, = [text for name, text in rows.items() if name.startswith("sheets of abrasive")]
        grits = 6 if self.sheet.epoxy else 9
        self.assertEqual(int(sheets), grits * max(2, math.ceil(footprint / 0.25)))
        def step(a, b):
            return math.dist(a, b)
        around = sum(step(a, b) for loop in plan["footprint"]["outline_3d"]
                     for a, b in zip(loop["outer"], loop["outer"][1:] + loop["outer"][:1]))
        self.assertAlmostEqual(float(re.search(r"([\d.]+) m\b", rows["masking tape"])[1]),
                               2 * around / 1000, delta=0.051)

    def test_neither_resin_gets_the_other_ones_words(self):
        said = words(self.sheet.html.split("</style>")[1]).lower()
        for word in (("peroxide", "mekp", "cobalt", "promoted") if self.sheet.epoxy
                     else ("blush", "amine", "sensitis")):
            self.assertNotIn(word, said)

    def test_rags_with_hardener_and_rags_with_acetone_never_share_a_can(self):
        # By the sheet's own second caution: hardener never meets acetone, also as waste.
        said = words(self.sheet.html.split("</style>")[1])
        if self.sheet.epoxy:
            self.assertIn("Rags with solvent go into a metal can with water", said)
            return self.assertNotIn("two metal cans", said)
        self.assertIn("Rags with peroxide and rags with acetone go each into a metal can with water "
                      "of their own: never both in one", said)
        self.assertIn("two metal cans with water for rags, one for those with hardener, one for those "
                      "with acetone", self.sheet.says("Used up, and tools"))
        self.assertRegex(self.sheet.says("Afterwards"), "Rags with hardener into their own metal can "
                         "with water, those with acetone into the other: never both in one")
        self.assertNotRegex(said, "(?i)(hardener|peroxide|acetone|solvent) or (hardener|peroxide|acetone)")

    def test_rules_of_thumb_are_marked(self):
        self.assertIn("† common practice", words(self.sheet.html))
        for section, phrases in {
                "Mixing": ("scraping sides and bottom of the cup",),
                "Laying, stage by stage": ("never drag the glass", "until no white is left"),
                "Grinding": ("no skin of it under the glass",)}.items():
            for phrase in phrases:
                says = self.sheet.says(section)
                self.assertIn("†", says[says.index(phrase):][:120], phrase)


class GelKnownInUsUnits(AtTheBench):
    resin, units = GEL, "us"


class Epoxy(AtTheBench):
    resin = EPOXY


class ByTape(AtTheBench):
    sample = "curlew-taped"


class SmallRadius(AtTheBench):
    sample = "sandpiper"


class Paging(unittest.TestCase):
    """How much of each page is used, by the ink that poppler paints at 20 dots an inch."""
    foot_mm, top_mm, bottom_mm = 14.0, 12.0, 15.0  # the line at the foot, and the margins

    def used(self, pdf):
        prefix = pdf.with_suffix("")
        subprocess.run(["pdftoppm", "-r", "20", "-gray", str(pdf), str(prefix)], check=True)
        shares = []
        for page in sorted(prefix.parent.glob(f"{prefix.name}-*.pgm")):
            data = page.read_bytes()
            _, width, height, _ = re.match(rb"(P5)\s+(\d+)\s+(\d+)\s+(\d+)\s", data).groups()
            width, height = int(width), int(height)
            rows = data[-width * height:]
            mm = height * 25.4 / 20
            lowest = max(y for y in range(int(height * (1 - self.foot_mm / mm)))
                         if min(rows[y * width:(y + 1) * width]) < 200)
            usable = mm - self.top_mm - self.bottom_mm
            shares.append(((lowest + 1) * 25.4 / 20 - self.top_mm) / usable)
        return shares

    def test_pages_are_full(self):
        # The bar is A4's, 6 to 8; Letter is shorter and US figures are longer.
        for units, paper, most, last in (("metric", "A4", 8, 0.5), ("us", "Letter", 10, 0.0)):
            with self.subTest(paper=paper), tempfile.TemporaryDirectory() as folder:
                sheet = Sheet(folder, "curlew", units=units, formats="svg,pdf")
                shares = self.used(sheet.folder / f"job-sheet-{paper}.pdf")
                self.assertGreaterEqual(len(shares), 6)
                self.assertLessEqual(len(shares), most)
                self.assertGreater(min(shares[:-1]), 0.8, shares)
                self.assertGreater(shares[-1], last, shares)
                self.assert_headings_stand_with_what_they_head(
                    sheet, sheet.folder / f"job-sheet-{paper}.pdf")

    def assert_headings_stand_with_what_they_head(self, sheet, pdf):
        text = text_of(pdf, "-layout")
        for page in text.split("\f")[:-1]:
            lines = [line.strip() for line in page.splitlines() if line.strip()]
            self.assertRegex(lines[-1], r"page \d+ of \d+$")
            self.assertNotIn(lines[-2], sheet.sections)


class NothingIsLost(unittest.TestCase):
    """The PDF against the HTML word by word: what a page's end could swallow, split or repeat."""
    JOBS = (("curlew", POLYESTER, "metric"), ("curlew", POLYESTER, "us"), ("curlew", EPOXY, "us"),
            ("curlew-taped", POLYESTER, "metric"))

    @staticmethod
    def counted(text):
        # A line of the PDF may end behind a hyphen or a slash; marks of lists are no words.
        return collections.Counter(re.findall(r"[^\s/\-\u2011\u2013_]+", text.replace("\u2022", " ")))

    @staticmethod
    def pdf_pages(pdf):
        text = text_of(pdf, "-raw")
        return text.split("\f")[:-1]

    def test_every_word_stands_on_paper_and_none_twice(self):
        for sample, resin, units in self.JOBS:
            with (self.subTest(sample=sample, resin=resin, units=units),
                  tempfile.TemporaryDirectory() as folder):
                sheet = Sheet(folder, sample, resin, units, formats="svg,pdf")
                pages = [page.strip() for page in self.pdf_pages(
                    next(sheet.folder.glob("job-sheet-*.pdf")))]
                body = sheet.html.split("<body>")[1]
                # Pictures are painted, their words too.
                body = re.sub(r"<svg.*?</svg>", " ", body, flags=re.S)
                expected = self.counted(plain(body))
                found = self.counted(" ".join(pages))
                self.assertEqual(expected - found, collections.Counter())
                heads = plain(" ".join(re.findall(r"<thead>.*?</thead>", body, flags=re.S)))
                feet = " ".join(page.splitlines()[-1] + " " + page.splitlines()[-2]
                                for page in pages)
                # Lists are numbered on paper alone.
                for items in re.findall(r"<ol.*?</ol>", body, flags=re.S):
                    expected.update(f"{i + 1}." for i in range(items.count("<li")))
                more = found - expected
                self.assertEqual(set(more) - set(self.counted(heads + " " + feet)), set())
                self.assert_headings_in_order(sheet, " ".join(pages))

    def assert_headings_in_order(self, sheet, text):
        text, at = re.sub(r"\s+", " ", text), 0
        for name in sheet.sections:
            self.assertIn(name, text[at:])
            at = text.index(name, at) + len(name)


if __name__ == "__main__":
    unittest.main()
