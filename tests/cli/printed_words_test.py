#!/usr/bin/env python3
"""What is printed besides the templates: the job sheet as PDF against its HTML block by block, the grind guide
and the section cards measured on the page, polar tables worked out anew, the ring sheet.

Read by poppler; expected are plan.json's lines, closed forms on a panel and on a cylinder of radius 500 mm."""
import collections
import html
import html.parser
import math
import pathlib
import re
import subprocess
import sys
import unicodedata
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import paper_ruler as ruler  # noqa: E402
import printed  # noqa: E402
import sheet as reading  # noqa: E402
from closed_lines import to_loop  # noqa: E402
from each import for_each  # noqa: E402
from pdf_text import text_of  # noqa: E402
from random_repairs import TEARLINE, OfPlans  # noqa: E402

PRINT = pathlib.Path(TEARLINE).parent / "tearline-print"
NUMBERS = (1, 7, 13, 22)
CUT_PEN = 0.6  # mm, core/drawing/line_style.h
CARD_BACK = 46.0  # mm, core/drawing/section_cards.cpp: least width of a section card


def squeezed(text):
    """Letters alone: fonts join "fi" into one sign, and lines break where they like."""
    return re.sub(r"\s+", "", unicodedata.normalize("NFKC", text))


def words_in(text):
    """Words without their hyphens, at which lines break."""
    return re.split(r"[\s\u2010\u2011-]+", unicodedata.normalize("NFKC", text).strip())


class Blocks(html.parser.HTMLParser):
    """The text of every paragraph, heading, item and cell; pictures and styles apart."""

    ENDS = ("p", "h1", "h2", "h3", "li", "td", "th", "caption", "div")

    def __init__(self, text):
        super().__init__()
        self.blocks, self.text, self.silent = [], "", 0
        self.feed(text)
        self.end()

    def end(self):
        if self.text.strip():
            self.blocks.append(" ".join(self.text.split()))
        self.text = ""

    def handle_starttag(self, tag, attrs):
        self.silent += tag in ("svg", "style", "head", "title")
        self.text += " " if tag == "br" else ""
        if tag in self.ENDS:
            self.end()

    def handle_endtag(self, tag):
        self.silent -= tag in ("svg", "style", "head", "title")
        if tag in self.ENDS:
            self.end()

    def handle_data(self, data):
        if not self.silent:
            self.text += data


def print_pdf(folder, name, *words):
    pdf = folder.parent / f"{folder.name}-{name}.pdf"
    subprocess.run([PRINT, folder, "--pdf", pdf, *words], check=True, capture_output=True)
    return pdf


def circles(sheet):
    """Radii of the round lines of a page: as far from the middle of their box everywhere."""
    found = []
    for line in (line for lines in sheet.lines.values() for line in lines if len(line) > 60):
        middle = [0.5 * (max(p[k] for p in line) + min(p[k] for p in line)) for k in (0, 1)]
        away = [printed.dist(p, middle) for p in line]
        if max(away) - min(away) < 0.3:
            found.append(sum(away) / len(away))
    return found


def off_card(edge, card):
    """How far a card of the page is off a section's edge with its straight back; the least of all ways
    that the back may be one of its sides, the card turned but not turned over."""
    long, least = edge[-1][0] - edge[0][0], math.inf
    for a, b in zip(card, card[1:] + card[:1]):  # the back runs from the right end to the left one
        if abs(printed.dist(a, b) - long) > 0.1:
            continue
        u = [(a[k] - b[k]) / long for k in (0, 1)]
        own = [(edge[0][0] + (p[0] - b[0]) * u[0] + (p[1] - b[1]) * u[1],
                -(p[0] - b[0]) * u[1] + (p[1] - b[1]) * u[0]) for p in card]
        top = max(y for _, y in edge) + CARD_BACK
        whole = edge + [(edge[-1][0], top), (edge[0][0], top)]
        least = min(least, max(to_loop((x, y + top), whole) for x, y in own))
    return least


each_plan = for_each(lambda self: self.made, lambda made: f"repair {made.number}")


class PrintedWords(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for made in cls.plan_repairs(NUMBERS):
            made.us = made.job["display_units"] == "us"
            made.sheet = print_pdf(made.folder, "sheet", "--sheet")

    def named(self, number):
        return next(made for made in self.made if made.number == number)

    # The job sheet.

    @each_plan
    def test_no_block_of_the_sheet_is_lost_on_paper(self, made):
        # Word by word, since narrow cells break over lines that poppler reads across.
        told = " ".join(Blocks((made.folder / "job-sheet.html").read_text(encoding="utf-8")).blocks)
        wanted, found = (collections.Counter(words_in(text)) for text in (told, text_of(made.sheet, "-raw")))
        self.assertGreater(len(wanted), 500)
        lost = {word: count - found[word] for word, count in wanted.items() if found[word] < count}
        self.assertEqual(lost, {})

    @each_plan
    def test_the_sheet_is_well_formed(self, made):
        # An XML parser reads it whole, and knows every element of it as one of HTML's or SVG's.
        root = ElementTree.parse(made.folder / "job-sheet.html").getroot()
        names = {element.tag.rpartition("}")[2] for element in root.iter()}
        self.assertLessEqual(names, {
            "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "span", "br", "b", "a",
            "ul", "ol", "li", "table", "caption", "thead", "tbody", "tr", "td", "th", "em", "strong", "sup", "sub",
            "svg", "g", "path", "rect", "circle", "text", "tspan", "clipPath", "defs", "line", "use", "symbol"})

    @each_plan
    def test_headings_stand_in_their_order(self, made):
        text = (made.folder / "job-sheet.html").read_text(encoding="utf-8")
        paper, at = squeezed(text_of(made.sheet, "-raw")), 0
        for heading in re.findall(r"<h2[^>]*>(.*?)</h2>", text):
            there = paper.find(squeezed(html.unescape(heading)), at)
            self.assertGreaterEqual(there, 0, heading)
            at = there

    @each_plan
    def test_pages_are_numbered_and_no_more_than_eight(self, made):
        pages = text_of(made.sheet).split("\f")[:-1]
        self.assertLessEqual(len(pages), 8)
        for k, page in enumerate(pages, 1):
            self.assertIn(f"page {k} of {len(pages)}", " ".join(page.split()))

    @each_plan
    def test_the_sheet_is_on_the_readers_own_paper(self, made):
        size = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", subprocess.run(
            ["pdfinfo", str(made.sheet)], capture_output=True, check=True, text=True).stdout)
        wanted = (612, 792) if made.us else (595, 842)  # ANSI/ASME Y14.1, ISO 216, points
        self.assertEqual(tuple(round(float(size.group(k))) for k in (1, 2)), wanted)

    @each_plan
    def test_nothing_of_the_sheet_is_printed_over_the_margin(self, made):
        # Ink by pixels: 6 mm all round, where the foot with its number stands; 10 mm for all else.
        dpi = 60
        for page in range(1, text_of(made.sheet).count("\f") + 1):
            width, height, grey = ruler.drawn(made.sheet, page, dpi)
            rows = [grey[y * width:(y + 1) * width] for y in range(height)]
            inked = [y for y, row in enumerate(rows) if min(row) < 255]
            columns = [x for x in range(width) if min(grey[x::width]) < 255]
            for low, high, whole in ((inked[0], inked[-1], height), (columns[0], columns[-1], width)):
                self.assertGreaterEqual(low, 6 * dpi / 25.4)
                self.assertLessEqual(high, whole - 6 * dpi / 25.4)

    # The grind guide.

    def test_rings_of_the_guide_are_as_large_as_their_plies(self):
        # Closed form on the panel: circles of r + e about the datum; the scarf's edge r + ratio D.
        made = self.named(22)
        job, plan = made.job, made.plan
        r = job["damage"]["radius"]
        wanted = {r, r + job["scarf"]["ratio"] * job["damage"]["depth"]}
        wanted |= {r + ply["edge_offset_mm"] for ply in plan["plies"]}
        pdf = print_pdf(made.folder, "guide", "--only", "grind guide", "--paper", "roll 914")
        sheet, = printed.sheets(pdf, (914, None))
        found = circles(sheet)
        for radius in wanted:
            self.assertTrue(any(abs(radius - got) < 0.15 for got in found), (radius, sorted(found)))

    @each_plan
    def test_the_guide_names_every_ring(self, made):
        pdf = print_pdf(made.folder, "named", "--only", "grind guide", "--paper", "roll 914")
        paper = squeezed(text_of(pdf, "-raw"))
        for ring in made.plan["grind_guide"]["rings"]:
            # Along a curve words come letter by letter, on either side of the ring.
            self.assertIn(squeezed(ring["text"]), paper, ring["text"])

    # Section cards.

    @each_plan
    def test_section_cards_have_the_edge_of_the_hull(self, made):
        pdf = print_pdf(made.folder, "cards", "--only", "section cards", "--paper", "roll 914")
        sheet, = printed.sheets(pdf, (914, None))
        cards = [line[:-1] if line[0] == line[-1] else line for line in sheet.lines[CUT_PEN] if len(line) > 3]
        self.assertEqual(len(cards), len(made.plan["sections"]))
        for section in made.plan["sections"]:
            self.assertLess(min(off_card(section["edge"], card) for card in cards), 0.05, section["name"])

    def test_depths_stand_on_the_cards_where_rings_cross(self):
        # The panel: every ring of some depth is crossed twice by either card, and the scarf ends twice.
        made = self.named(22)
        pdf = print_pdf(made.folder, "depths", "--only", "section cards", "--paper", "roll 914")
        words = text_of(pdf, "-raw").split()
        depths = [ring["depth_mm"] for ring in made.plan["grind_guide"]["rings"]
                  if ring["ply"] >= 0 and ring["depth_mm"] >= 0.05]
        for depth in set(depths):
            shown = f"{depth:.1f}"
            self.assertEqual(words.count(shown), 4 * sum(f"{d:.1f}" == shown for d in depths), shown)
        self.assertEqual(words.count("END"), 4)
        self.assertEqual(words.count("DATUM"), 2)

    # Polar tables.

    @each_plan
    def test_polar_tables_are_where_rays_meet_the_lines(self, made):
        # Each 15 degrees from the datum, nearest first; worked out anew from plan.json's polygons.
        for _, piece in made.pieces():
            pdf = print_pdf(made.folder, "table", "--tables", "--only", f"polar {piece['id']}")
            table = text_of(pdf, "-raw")
            self.assertIn(f"Piece {piece['id']} from the datum, {'in' if made.us else 'mm'}", table)
            datum, = [m["points"] for m in piece["marks"] if m["kind"] == "datum"]
            pole = [sum(p[k] for p in datum) / 4 for k in (0, 1)]
            net = [piece["net_line"], *piece["net_holes"]]
            rows = re.findall(r"^(\d+)°$|^(\d+)° (.+)$", table, re.M)
            angles = [int(a or b) for a, b, _ in rows][:24]
            self.assertEqual(angles, list(range(0, 360, 15)))
            lines = table.splitlines()
            for angle in range(0, 360, 15):
                k = next(i for i, line in enumerate(lines) if line.split()[:1] == [f"{angle}°"])
                said = lines[k].partition("°")[2].strip() or lines[k + 1]
                got = reading.lengths(said, made.us)
                wanted = reading.ray_radii(net, pole, angle)
                self.assertEqual(len(got), len(wanted), (piece["id"], angle, said))
                for (shown, half), radius in zip(got, wanted):
                    self.assertAlmostEqual(shown, radius, delta=half + 0.02, msg=(piece["id"], angle))

    def test_a_mirrored_print_has_no_tables(self):
        # They are taken on the hull, face towards the reader.
        made = self.named(1)
        pdf = print_pdf(made.folder, "turned", "--tables", "--mirror")
        self.assertNotIn("from the datum", text_of(pdf))

    # The ring sheet and the notes.

    def test_one_ring_sheet_stands_for_all_plies_of_mat(self):
        # The panel: both plies' net lines are rings about one datum, closed form.
        made = self.named(22)
        pdf = print_pdf(made.folder, "rings", "--less-paper", "--only", "ring sheet", "--paper", "roll 914")
        sheet, = printed.sheets(pdf, (914, None))
        r = made.job["damage"]["radius"]
        found = circles(sheet)
        for ply in made.plan["plies"]:
            net = r + ply["edge_offset_mm"]
            self.assertTrue(any(abs(net - got) < 0.15 for got in found), (ply["number"], sorted(found)))

    @each_plan
    def test_the_notes_say_how_to_print_and_glue(self, made):
        pdf = print_pdf(made.folder, "notes", "--only", "notes")
        words = " ".join(text_of(pdf).split())
        bar = "4 in" if made.us else "100 mm"
        for said in ("PRINT AT 100 %", f"{bar} on paper is {bar}", f"print scale = {bar} / what that bar measures",
                     "now 1.0000", "trim the side marked TRIM", made.plan["job"]["title"]):
            self.assertIn(said, words)
        self.assertEqual("Epoxy sensitises" in words, made.job["resin"]["kind"] == "epoxy")
        self.assertEqual("Styrene vapour" in words, made.job["resin"]["kind"] != "epoxy")

    @each_plan
    def test_an_only_that_is_not_there_names_what_is(self, made):
        done = subprocess.run([PRINT, made.folder, "--pdf", made.folder.parent / "no.pdf", "--only", "9Z"],
                              capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 3)
        for _, piece in made.pieces():
            self.assertIn(piece["id"], done.stderr)
        for name in ("notes", "grind guide", "section cards"):
            self.assertIn(name, done.stderr)
        self.assertFalse((made.folder.parent / "no.pdf").exists())


if __name__ == "__main__":
    unittest.main()
