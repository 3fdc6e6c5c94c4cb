#!/usr/bin/env python3
"""Templates spread over pages, put together again: poppler's lines of every page, each page moved to where
its tile's name says, are the lines of plan.json, once each; no bit of a line is on no page.

Expected: a page shows what lies 8 mm inside the paper, below a band of 36 mm and right of one of 5 mm, and two
neighbours share 12 mm (core/paper/paper.h; common practice is 10 to 15 mm of glue)."""
import itertools
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import paper_ruler as ruler  # noqa: E402
import printed  # noqa: E402
from closed_lines import area  # noqa: E402
from each import for_each  # noqa: E402
from random_repairs import START, TEARLINE, Planned, Repair  # noqa: E402

PRINT = pathlib.Path(TEARLINE).parent / "tearline-print"
CUT_PEN, NET_PEN = 0.6, 0.3  # mm, core/drawing/line_style.h
# ISO 216 and ANSI/ASME Y14.1, mm; a roll is as long as what it shows.
PAPERS = {"A4": (210, 297), "A3": (297, 420), "Letter": (215.9, 279.4), "roll 610": (610, None)}
# Name, repair, words of the print.
PRINTS = (
    ("a4", "large", ()),
    ("mirrored", "large", ("--mirror", "--paper", "Letter")),
    ("scaled", "large", ("--print-scale", "100/98.5", "--only", "1A,2A")),
    ("a3", "large", ("--paper", "A3")),
    ("small", "small", ("--paper", "A3", "--only", "1A,2A")),
    ("roll", "large", ("--paper", "roll 610")),
)


class Print:
    def __init__(self, made, room, name, words):
        said = dict(zip(words, words[1:]))
        self.made, self.name, self.mirrored = made, name, "--mirror" in words
        self.scale = 100 / 98.5 if "--print-scale" in words else 1.0
        self.pdf = pathlib.Path(room) / f"{name}.pdf"
        subprocess.run([PRINT, made.folder, "--pdf", self.pdf, *words], check=True, capture_output=True)
        self.sheets = printed.sheets(self.pdf, PAPERS[said.get("--paper", "A4")])
        only = said.get("--only")
        self.pieces = {piece["id"]: piece for _, piece in made.pieces()
                       if not only or piece["id"] in only.split(",")}
        # Runs of pages that are glued together.
        self.grids, rest = [], list(self.sheets)
        while rest:
            count = rest[0].tiles
            self.grids.append(rest[:count])
            rest = rest[count:]

    def loop(self, points):
        """A line of the plan as it lies on paper, but for its place."""
        return [((-x if self.mirrored else x) * self.scale, y * self.scale) for x, y in points]

    def edge(self, piece):
        return self.loop(piece["tear_line"] or piece["cut_line"] or piece["net_line"])

    def pitch(self, sheet):
        """From window to window: less what is glued over. At a print scale the bands grow with it."""
        low_x, low_y, high_x, high_y = self.window(sheet)
        return high_x - low_x - printed.OVERLAP * self.scale, high_y - low_y - printed.OVERLAP * self.scale

    def window(self, sheet):
        """What a page shows of the drawings: inside its margins and its bands."""
        left, head = printed.MARGIN + printed.SIDE, printed.MARGIN + printed.HEADER
        return (left * self.scale, printed.MARGIN * self.scale,
                sheet.width - printed.MARGIN * self.scale, sheet.height - head * self.scale)

    def shows(self, sheet, point):
        low_x, low_y, high_x, high_y = self.window(sheet)
        return low_x - 0.02 <= point[0] <= high_x + 0.02 and low_y - 0.02 <= point[1] <= high_y + 0.02

    def places(self):
        """Of every piece the sheets that draw it and where it lies on each."""
        found = {}
        for name, piece in self.pieces.items():
            for sheet in self.sheets:
                by = printed.place_of(self.edge(piece), sheet.lines.get(self.pen(CUT_PEN), []))
                if by:
                    found.setdefault(name, []).append((sheet, by))
        return found

    def pen(self, width):
        return round(width * self.scale, 2)


each_print = for_each(lambda self: self.prints, lambda one: one.name)


class PagesJoined(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        cls.room = tempfile.TemporaryDirectory()
        repairs = {"large": Repair(19, hull="panel", shape="star", size=130), "small": Repair(22, size=25)}
        made = {name: Planned(cls.room.name, repair.text, "--format", "svg", name=name)
                for name, repair in repairs.items()}
        cls.prints = [Print(made[repair], cls.room.name, name, words) for name, repair, words in PRINTS]
        for one in cls.prints:
            one.found = one.places()

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    @each_print
    def test_every_piece_is_printed_at_its_size_and_lie(self, one):
        # Point for point, so turned, mirrored or scaled by another factor it would not be found.
        self.assertEqual(set(one.found), set(one.pieces))

    @each_print
    def test_each_page_says_which_it_is_of_how_many(self, one):
        self.assertEqual([sheet.says for sheet in one.sheets],
                         [(k, len(one.sheets)) for k in range(1, len(one.sheets) + 1)])
        for grid in one.grids:
            self.assertEqual({sheet.tiles for sheet in grid}, {len(grid)})
            self.assertEqual(len({sheet.tile for sheet in grid}), len(grid), "a tile's name twice")
            # Names as one reads: row by row from the top.
            self.assertEqual([sheet.tile for sheet in grid],
                             sorted((sheet.tile for sheet in grid), key=lambda t: (t[1], t[0])))

    @each_print
    def test_pages_of_a_grid_lie_a_window_less_the_glue_apart(self, one):
        # Column A is the leftmost and row 1 the uppermost: the drawing moves the other way.
        pairs = 0
        for name, places in one.found.items():
            for (a, at_a), (b, at_b) in itertools.combinations(places, 2):
                grid = [g for g in one.grids if a in g]
                self.assertIn(b, grid[0], "a piece on two grids")
                pitch = one.pitch(a)
                columns, rows = b.tile[0] - a.tile[0], b.tile[1] - a.tile[1]
                self.assertAlmostEqual(at_b[0] - at_a[0], -columns * pitch[0], delta=0.02, msg=name)
                self.assertAlmostEqual(at_b[1] - at_a[1], rows * pitch[1], delta=0.02, msg=name)
                pairs += 1
        self.assertTrue(pairs or one.name in ("small", "roll"), "no piece on two pages")

    @each_print
    def test_every_bit_of_every_line_is_on_some_page(self, one):
        for name, places in one.found.items():
            piece = one.pieces[name]
            lines = [(one.edge(piece), True), (one.loop(piece["net_line"]), True)]
            lines += [(one.loop(hole), True) for hole in piece["net_holes"] + (piece["tear_holes"] or []) +
                      (piece["cut_holes"] or [])]
            lines += [(one.loop(mark["points"]), False) for mark in piece["marks"]
                      if mark["kind"] in ("tick", "tape", "bow", "up", "starboard", "fibre")]
            for line, closed in lines:
                for point in printed.along(line, 2.0, closed):
                    shown = any(one.shows(sheet, (point[0] + by[0], point[1] + by[1])) for sheet, by in places)
                    self.assertTrue(shown, (name, point))

    @each_print
    def test_the_net_line_lies_with_its_edge(self, one):
        for name, places in one.found.items():
            piece = one.pieces[name]
            if not (piece["tear_line"] or piece["cut_line"]):
                continue
            for sheet, by in places:
                net = printed.place_of(one.loop(piece["net_line"]), sheet.lines.get(one.pen(NET_PEN), []))
                if net:
                    self.assertLess(printed.dist(net, by), 0.05, name)

    @each_print
    def test_a_page_names_what_it_shows(self, one):
        for name, places in one.found.items():
            word = "TEAR" if one.pieces[name]["tear_line"] else "CUT"
            for sheet, by in places:
                edge = printed.along(one.edge(one.pieces[name]), 1.0)
                inked = any(one.shows(sheet, (x + by[0], y + by[1])) for x, y in edge)
                words = f"{name} MIRRORED {word}" if one.mirrored else f"{name} {word}"
                if inked:
                    self.assertIn(words, " ".join(sheet.text.split()))

    @each_print
    def test_numbered_ticks_count_from_one_corner_of_the_whole(self, one):
        # A number stands over its tick: its place on the page and its tile give the same figure.
        count = 0
        for grid in one.grids:
            rows = 1 + max(sheet.tile[1] for sheet in grid)
            for sheet in grid:
                low_x, low_y, _, high_y = one.window(sheet)
                pitch = one.pitch(sheet)
                for word, (x0, y0, x1, y1) in sheet.words:
                    middle = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
                    # Numbers along the head and the foot of the window, upright: within 8 mm of it.
                    level = min(abs(middle[1] - low_y), abs(high_y - middle[1])) < 8.0 * one.scale
                    if not re.fullmatch(r"\d\d+", word) or int(word) % 50 or not level or y1 - y0 > x1 - x0:
                        continue
                    along = (middle[0] - low_x + sheet.tile[0] * pitch[0]) / one.scale
                    if abs(along - int(word)) > 25.0:
                        continue  # a figure of the drawing that is no tick's
                    self.assertAlmostEqual(along, int(word), delta=0.3, msg=(sheet.number, word))
                    count += 1
                self.assertLess(sheet.tile[1], rows)
        self.assertGreater(count, 3)

    @each_print
    def test_nothing_is_printed_where_a_printer_cannot_reach(self, one):
        # 8 mm all round are kept free, but for half of a line that runs along the window's frame.
        dpi = 60
        for sheet in one.sheets:
            if sheet.height > 1500.0:
                continue
            width, height, grey = ruler.drawn(one.pdf, sheet.number, dpi)
            free = int((8.0 * one.scale - 0.7) * dpi / 25.4)
            rows = [grey[y * width:(y + 1) * width] for y in range(height)]
            for y, row in enumerate(rows):
                if y < free or y >= height - free:
                    self.assertEqual(min(row), 255, (sheet.number, y))
                else:
                    self.assertEqual(min(row[:free] + row[width - free:]), 255, (sheet.number, y))

    @each_print
    def test_no_page_is_without_a_line_or_words_of_its_own(self, one):
        for sheet in one.sheets:
            lines = [line for lines in sheet.lines.values() for line in lines]
            shown = sum(one.shows(sheet, p) for line in lines for p in printed.along(line, 3.0, False))
            head = sum(not one.shows(sheet, p) for line in lines for p in printed.along(line, 3.0, False))
            self.assertGreater(shown + head, head, f"sheet {sheet.number}")

    @each_print
    def test_pieces_on_one_sheet_stand_apart(self, one):
        # 4 mm between two drawings (core/paper/occupancy.h), counted in cells of 2 mm.
        for sheet in one.sheets:
            loops = []
            for name, places in one.found.items():
                loops += [[(x + by[0], y + by[1]) for x, y in one.edge(one.pieces[name])]
                          for other, by in places if other is sheet]
            for a, b in itertools.combinations(loops, 2):
                near = min(printed.dist(p, q) for p in a[::3] for q in b[::3])
                self.assertGreater(near, 1.9 * one.scale, sheet.number)

    def test_small_pieces_share_a_page(self):
        small, = [one for one in self.prints if one.name == "small"]
        pages = {sheet.number for places in small.found.values() for sheet, _ in places}
        self.assertLess(len(pages), len(small.pieces))

    def test_larger_paper_takes_fewer_pages_and_a_roll_one(self):
        count = {one.name: len(one.sheets) for one in self.prints}
        self.assertLess(count["a3"], count["a4"])
        self.assertEqual(count["roll"], 1)

    def test_pages_are_no_more_than_a_quarter_over_what_their_area_needs(self):
        # A piece's box laid on the grid without a turn needs ceil(box / pitch) pages either way; with the
        # guide, sections and notes beside it.
        a4, = [one for one in self.prints if one.name == "scaled"]
        most = 0
        for piece in a4.pieces.values():
            loop = a4.edge(piece)
            pages = 1
            for k in (0, 1):
                wide = max(p[k] for p in loop) - min(p[k] for p in loop)
                pages *= int(wide / a4.pitch(a4.sheets[0])[k]) + 1
            most += pages
        self.assertLessEqual(len(a4.sheets), most)

    def test_a_mirrored_print_is_the_other_way_round(self):
        # The same loop, not turned over, is found on no page: the outline has no symmetry.
        mirrored, = [one for one in self.prints if one.mirrored]
        for piece in mirrored.pieces.values():
            plain = piece["tear_line"] or piece["cut_line"]
            self.assertGreater(area(plain), 0)
            for sheet in mirrored.sheets:
                self.assertIsNone(printed.place_of(plain, sheet.lines.get(CUT_PEN, [])))


if __name__ == "__main__":
    unittest.main()
