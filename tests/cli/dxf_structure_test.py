#!/usr/bin/env python3
"""DXF files pair by pair: what strict readers ask for beyond what forgiving ones mend. A parser of this script's
own reads group codes and values as the format's reference lays them out (codes and their kinds, sections in order,
every handle once, every owner there)."""
import pathlib
import re
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from each import for_each  # noqa: E402
from random_repairs import START, Planned, Repair  # noqa: E402

TITLE = "Möwe 6 m – Ж \U0001F6A4\\P%%c {x}"
# The reference's kinds of value by group code.
REALS = [(10, 59), (110, 149), (210, 239), (460, 469)]
WHOLES = [(60, 79), (90, 99), (170, 179), (270, 289), (370, 389)]


class Dxf:
    def __init__(self, path):
        self.path, self.data = path, path.read_bytes()
        lines = self.data.decode("ascii").split("\r\n")
        assert lines[-1] == "", "the file ends with a line's end"
        lines.pop()
        assert len(lines) % 2 == 0, "codes and values come in pairs"
        self.pairs = [(int(code), value) for code, value in zip(lines[0::2], lines[1::2])]
        self.codes = lines[0::2]

    def sections(self):
        found, inside = [], None
        for k, (code, value) in enumerate(self.pairs):
            if (code, value) == (0, "SECTION"):
                assert inside is None and self.pairs[k + 1][0] == 2
                inside = self.pairs[k + 1][1]
                found.append(inside)
            elif (code, value) == (0, "ENDSEC"):
                assert inside is not None
                inside = None
        assert inside is None
        return found

    def entities(self):
        """Lists of pairs, each begun by its 0."""
        out = []
        for pair in self.pairs:
            if pair[0] == 0:
                out.append([])
            if out:
                out[-1].append(pair)
        return out


def value(entity, code):
    return next((v for c, v in entity if c == code), None)


each_file = for_each(lambda self: self.files, lambda dxf: dxf.path.name)
each_2000 = for_each(lambda self: [f for f in self.files if f.path.name.endswith("-2000.dxf")], lambda f: f.path.name)
each_r12 = for_each(lambda self: [f for f in self.files if not f.path.name.endswith("-2000.dxf")],
                    lambda f: f.path.name)


class DxfStructure(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        cls.room = tempfile.TemporaryDirectory()
        text = Repair(7).text.replace('title = "Repair 7"', "title = '''" + TITLE + "'''")
        made = Planned(cls.room.name, text, "--format", "dxf,dxf2000", "--cutter-files", "one,pieces,rolls", "--drill",
                       "--arcs")
        assert made.run.returncode == 0, made.run.stderr
        cls.made = made
        cls.files = [Dxf(path) for path in sorted(made.folder.rglob("*.dxf"))]
        assert len(cls.files) > 8

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    @each_file
    def test_codes_stand_in_three_places_or_more(self, dxf):
        for code in dxf.codes:
            self.assertEqual(code, f"{int(code):3d}")

    @each_file
    def test_values_are_of_the_kind_of_their_code(self, dxf):
        for code, text in dxf.pairs:
            if any(low <= code <= high for low, high in REALS):
                self.assertRegex(text, r"^-?\d+\.\d+$", code)
            elif any(low <= code <= high for low, high in WHOLES):
                self.assertRegex(text, r"^-?\d+$", code)
            elif code in (5, 105) or 320 <= code <= 369:
                self.assertRegex(text, r"^[0-9A-F]+$", code)
            self.assertLess(len(text), 256)

    @each_file
    def test_sections_come_in_their_order_and_the_end_is_the_end(self, dxf):
        order = ["HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"]
        found = dxf.sections()
        self.assertEqual(found, [name for name in order if name in found])
        self.assertLessEqual({"HEADER", "TABLES", "BLOCKS", "ENTITIES"}, set(found))
        self.assertEqual(dxf.pairs[-1], (0, "EOF"))
        self.assertEqual(sum(pair == (0, "EOF") for pair in dxf.pairs), 1)

    @each_file
    def test_every_layer_and_block_used_is_described(self, dxf):
        entities = dxf.entities()
        layers = {value(e, 2) for e in entities if e[0][1] == "LAYER"}
        blocks = [value(e, 2) for e in entities if e[0][1] == "BLOCK"]
        self.assertEqual(len(blocks), len(set(blocks)))
        drawn = [e for e in entities if e[0][1] in ("LINE", "POLYLINE", "VERTEX", "POINT", "TEXT", "INSERT",
                                                   "LWPOLYLINE", "SEQEND")]
        self.assertGreater(len(drawn), 20)
        for entity in drawn:
            self.assertIn(value(entity, 8), layers)
        for entity in entities:
            if entity[0][1] == "INSERT":
                self.assertIn(value(entity, 2), blocks)

    @each_file
    def test_blocks_are_closed_one_by_one(self, dxf):
        open_block = False
        for entity in dxf.entities():
            if entity[0][1] == "BLOCK":
                self.assertFalse(open_block)
                open_block = True
            elif entity[0][1] == "ENDBLK":
                self.assertTrue(open_block)
                open_block = False
        self.assertFalse(open_block)

    @each_file
    def test_a_title_in_any_letters_is_escaped_and_comes_back(self, dxf):
        # \\U+XXXX for each unit of UTF-16; R12 readers know it since release 13.
        words = [value(e, 1) for e in dxf.entities() if e[0][1] == "TEXT"]
        style, = [text for text in words if text and text.startswith("Style Name: ")]
        units = re.sub(r"\\U\+([0-9A-F]{4})", lambda code: chr(int(code[1], 16)), style)
        self.assertEqual(units.encode("utf-16", "surrogatepass").decode("utf-16"), "Style Name: " + TITLE)

    def test_no_text_is_longer_than_the_format_has_room_for(self):
        # R12's reference: 255 characters to a string; an escape is never cut in two.
        for title in ("W" * 200, "Ж" * 90, "Möwe " * 40):
            text = Repair(22).text.replace("Repair 22", title)
            made = Planned(self.room.name, text, "--format", "dxf,dxf2000", name="long")
            self.assertEqual(made.run.returncode, 0, made.run.stderr)
            for path in made.folder.rglob("*.dxf"):
                for _, words in Dxf(path).pairs:
                    self.assertLessEqual(len(words), 255, path.name)
                    self.assertNotRegex(words, r"\\U\+[0-9A-F]{0,3}$")

    @each_r12
    def test_polylines_of_r12_have_vertices_and_an_end(self, dxf):
        entities = dxf.entities()
        count = 0
        for k, entity in enumerate(entities):
            if entity[0][1] != "POLYLINE":
                continue
            self.assertEqual(value(entity, 66), "1")
            j = k + 1
            while entities[j][0][1] == "VERTEX":
                self.assertEqual(value(entities[j], 8), value(entity, 8))
                j += 1
            self.assertGreater(j - k - 1, 1)
            self.assertEqual(entities[j][0][1], "SEQEND")
            count += 1
        self.assertGreater(count, 1)

    @each_r12
    def test_r12_has_nothing_that_came_later(self, dxf):
        self.assertEqual(dxf.pairs[dxf.pairs.index((9, "$ACADVER")) + 1], (1, "AC1009"))
        later = {"LWPOLYLINE", "SPLINE", "MTEXT", "HATCH", "ELLIPSE", "DICTIONARY"}
        self.assertFalse(later & {e[0][1] for e in dxf.entities()})
        self.assertFalse([pair for pair in dxf.pairs if pair[0] in (100, 330, 102)])

    @each_2000
    def test_every_handle_is_given_once_and_below_the_seed(self, dxf):
        handles = [v for k, (c, v) in enumerate(dxf.pairs) if c in (5, 105) and dxf.pairs[k - 1] != (9, "$HANDSEED")]
        self.assertEqual(len(handles), len(set(handles)))
        seed = next(int(dxf.pairs[k + 1][1], 16) for k, pair in enumerate(dxf.pairs) if pair == (9, "$HANDSEED"))
        self.assertGreater(seed, max(int(h, 16) for h in handles))
        self.assertNotIn("0", handles)

    @each_2000
    def test_every_owner_is_there(self, dxf):
        handles = {v for c, v in dxf.pairs if c in (5, 105)} | {"0"}
        owners = [v for c, v in dxf.pairs if c in (330, 340, 350, 360)]
        self.assertGreater(len(owners), 20)
        self.assertLessEqual(set(owners), handles)

    @each_2000
    def test_entities_belong_to_the_block_that_they_stand_in(self, dxf):
        # The owner of a block's entities is its BLOCK_RECORD; of what is shown, model space's.
        records = {value(e, 5): value(e, 2) for e in dxf.entities() if e[0][1] == "BLOCK_RECORD"}
        inside = None
        for entity in dxf.entities():
            kind = entity[0][1]
            if kind == "BLOCK":
                inside = value(entity, 2)
            if kind in ("BLOCK", "ENDBLK", "LWPOLYLINE", "TEXT", "POINT", "INSERT"):
                self.assertEqual(records[value(entity, 330)], inside or "*Model_Space", kind)
            if kind == "ENDBLK":
                inside = None

    @each_2000
    def test_lightweight_lines_count_their_points(self, dxf):
        count = 0
        for entity in dxf.entities():
            if entity[0][1] == "LWPOLYLINE":
                self.assertEqual(int(value(entity, 90)), sum(c == 10 for c, _ in entity))
                self.assertEqual(sum(c == 10 for c, _ in entity), sum(c == 20 for c, _ in entity))
                self.assertIn(value(entity, 70), ("0", "1"))
                count += 1
        self.assertGreater(count, 3)

    @each_2000
    def test_tables_say_how_many_records_they_hold(self, dxf):
        entities = dxf.entities()
        for k, entity in enumerate(entities):
            if entity[0][1] == "TABLE":
                held = 0
                while entities[k + 1 + held][0][1] != "ENDTAB":
                    self.assertEqual(entities[k + 1 + held][0][1], value(entity, 2))
                    held += 1
                self.assertEqual(int(value(entity, 70)), held, value(entity, 2))

    @each_2000
    def test_the_header_says_millimetres(self, dxf):
        head = [pair for pair in dxf.pairs[:40]]
        for name, code, wanted in (("$ACADVER", 1, "AC1015"), ("$INSUNITS", 70, "4"), ("$MEASUREMENT", 70, "1")):
            k = head.index((9, name))
            self.assertEqual(head[k + 1], (code, wanted))

    def test_arcs_are_bulges_of_closed_lines_alone(self):
        # 42 in a VERTEX or a LWPOLYLINE: only edges and holes, which are closed.
        bulged = 0
        for dxf in self.files:
            entities, line = dxf.entities(), None
            for entity in entities:
                line = entity if entity[0][1] in ("POLYLINE", "LWPOLYLINE") else line
                if entity[0][1] in ("VERTEX", "LWPOLYLINE") and value(entity, 42):
                    self.assertEqual(value(line, 70), "1")
                    self.assertLess(abs(float(value(entity, 42))), 0.4143)  # a quarter turn at most
                    bulged += 1
        self.assertGreater(bulged, 10)


if __name__ == "__main__":
    unittest.main()
