"""Files for cutters, read back by programs that are not ours: ezdxf, LibreCAD, an XML parser.

The plan is the hand-made flat panel of tests/support/flat_plan.h with a lopsided outline, so that a
mirrored or turned template would show. Expected polygons are those of plan.json."""
import itertools
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import system_python  # noqa: E402
from closed_lines import area, farthest, to_loop  # noqa: E402

ezdxf = system_python.module("ezdxf")
system_python.module("ezdxf.math")
WRITER = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "tests" / "write_flat_plan"
SVG = "{http://www.w3.org/2000/svg}"


def turned(points, degrees, move):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(c * x - s * y + move[0], s * x + c * y + move[1]) for x, y in points]


def crossings(loop):
    """Pairs of sides that cross each other."""
    def side(a, b, p):
        return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    sides = list(zip(loop, loop[1:] + loop[:1]))
    found = 0
    for (i, (a, b)), (j, (c, d)) in itertools.combinations(enumerate(sides), 2):
        if j - i in (1, len(sides) - 1):
            continue
        found += side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
    return found


class Written:
    """A folder of output and its plan."""

    def __init__(self, room, *words):
        self.folder = pathlib.Path(room) / ("out-" + "-".join(w.replace("=", "") for w in words))
        done = subprocess.run([WRITER, self.folder, *words], capture_output=True, text=True,
                              check=False)
        assert done.returncode == 0, done.stderr
        self.plan = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
        self.pieces = {p["id"]: p for ply in self.plan["plies"] for p in ply["pieces"]}

    def parting(self, piece):
        return self.pieces[piece]["tear_line"] or self.pieces[piece]["cut_line"]

    def document(self, name):
        return ezdxf.readfile(self.folder / name)

    def r12_outline(self, block):
        outer = [e for e in block.query("POLYLINE") if e.dxf.layer == "1"]
        assert len(outer) == 1 and outer[0].is_closed
        return [(v.dxf.location.x, v.dxf.location.y) for v in outer[0].vertices]

    def outlines(self, name, mirrored=False):
        """The outer edges of a file of pieces, by piece, in the piece's own frame."""
        document, found = self.document(name), {}
        for insert in document.modelspace().query("INSERT"):
            block = document.blocks.get(insert.dxf.name)
            if name.endswith("-2000.dxf"):
                line = [e for e in block.query("LWPOLYLINE")
                        if e.dxf.layer in ("TEAR_LINE", "CUT_LINE")][0]
                assert line.closed
                found[insert.dxf.name] = [(x, y) for x, y, *_ in line.get_points()]
            else:
                found[insert.dxf.name] = self.r12_outline(block)
        return found

    def svg_outlines(self):
        found = {}
        for file in sorted(self.folder.glob("templates/*.svg")):
            root = ElementTree.parse(file).getroot()
            for group in ("tear-line", "cut-line"):
                path = root.find(f".//{SVG}g[@id='{group}']/{SVG}path")
                if path is not None and file.stem in self.pieces:
                    datum = [float(v) for v in re.search(r"\(([-\d.]+), ([-\d.]+)\)",
                                                         root.find(f"{SVG}desc").text).groups()]
                    found[file.stem] = [
                        (float(x) - datum[0], datum[1] - float(y))
                        for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", path.get("d"))]
        return found

    def hpgl_outlines(self, name):
        """What pen 1 cuts; 40 steps to the mm. Places are the file's own."""
        text = (self.folder / name).read_text(encoding="ascii")
        found = []
        for start, rest in re.findall(r"PU(-?\d+,-?\d+);PD([-\d,]+);", text.split("SP1;")[1]):
            numbers = [int(n) / 40 for n in f"{start},{rest}".split(",")]
            points = list(zip(numbers[0::2], numbers[1::2]))
            assert points[0] == points[-1]
            found.append(points[:-1])
        return found


class CutterFiles(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.plain = Written(cls.room.name, "lopsided", "copies=2")

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def test_every_format_holds_the_same_pieces_areas_and_orientation(self):
        # A property over formats: the plan's polygons, turned over where that was asked for.
        for words in ((), ("lopsided",), ("mirror",), ("lopsided", "mirror"),
                      ("lopsided", "title=Ölüdeniz 12,5 m"),
                      *(("lopsided", f"turn={turn}") for turn in (0.7, 1.9, 3.1, 4.4, 5.6))):
            out = Written(self.room.name, *words)
            mirrored = "mirror" in words
            wanted = {}
            for piece in out.pieces:
                loop = [tuple(p) for p in out.parting(piece)]
                wanted[piece] = [(-x, y) for x, y in loop][::-1] if mirrored else loop
            for read in (out.outlines("templates.dxf"), out.outlines("templates-2000.dxf"),
                         out.svg_outlines()):
                self.assertEqual(sorted(read), sorted(wanted))
                for piece, loop in wanted.items():
                    self.assertLess(farthest(loop, read[piece]), 0.01, (words, piece))
                    self.assertGreater(area(read[piece]), 0)
                    self.assertAlmostEqual(area(read[piece]), out.pieces[piece]["area_mm2"],
                                           delta=1.0)
            plotted = out.hpgl_outlines("templates.plt")
            self.assertEqual(len(plotted), len(wanted))
            for loop, cut in zip(wanted.values(), plotted):
                # The plotter's row is the DXF's: only the place differs.
                shift = [min(p[k] for p in cut) - min(p[k] for p in loop) for k in (0, 1)]
                moved = [(x + shift[0], y + shift[1]) for x, y in loop]
                self.assertLess(max(to_loop(p, moved) for p in cut), 0.04)
                self.assertGreater(area(cut), 0)

    def test_holes_are_clockwise_cut_outs_in_every_format(self):
        # The hole is the piece's own outline at 0.4 of its size, torn or cut towards its middle.
        for words in (("lopsided", "hole=0.4"), ("lopsided", "hole=0.4", "mirror")):
            out = Written(self.room.name, *words)
            mirrored = "mirror" in words
            plotted = out.hpgl_outlines("templates.plt")
            self.assertEqual(len(plotted), 2 * len(out.pieces))
            for piece, flat in out.pieces.items():
                holes = flat["tear_holes"] or flat["cut_holes"]
                self.assertEqual(len(holes), 1, piece)
                hole = [tuple(p) for p in holes[0]]
                hole = [(-x, y) for x, y in hole][::-1] if mirrored else hole
                self.assertLess(area(hole), 0, piece)
                block = out.document("templates.dxf").blocks.get(piece)
                cut_out, = [e for e in block.query("POLYLINE") if e.dxf.layer == "11"]
                r12 = [(v.dxf.location.x, v.dxf.location.y) for v in cut_out.vertices]
                block = out.document("templates-2000.dxf").blocks.get(piece)
                line, = [e for e in block.query("LWPOLYLINE") if e.dxf.layer == "HOLES"]
                self.assertTrue(cut_out.is_closed and line.closed)
                cad = [(x, y) for x, y, *_ in line.get_points()]
                for found in (r12, cad, self.svg_hole(out, piece)):
                    self.assertLess(farthest(hole, found), 0.01, piece)
                    self.assertLess(area(found), 0, piece)
                alike = [cut for cut in plotted if abs(area(cut) - area(hole)) < 5.0]
                self.assertEqual(len(alike), 1, piece)

    @staticmethod
    def svg_hole(out, piece):
        root = ElementTree.parse(out.folder / "templates" / f"{piece}.svg").getroot()
        datum = [float(v) for v in re.search(r"\(([-\d.]+), ([-\d.]+)\)",
                                             root.find(f"{SVG}desc").text).groups()]
        path = root.find(f".//{SVG}g[@id='holes']/{SVG}path")
        return [(float(x) - datum[0], datum[1] - float(y))
                for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", path.get("d"))]

    def test_outlines_neither_cross_themselves_nor_repeat_a_point(self):
        for name in ("templates.dxf", "templates-2000.dxf"):
            for piece, loop in self.plain.outlines(name).items():
                self.assertEqual(crossings(loop), 0, piece)
                self.assertGreater(min(math.dist(a, b) for a, b in zip(loop, loop[1:] + loop[:1])),
                                   0.001)

    def test_r12_layers_are_those_of_the_standard(self):
        # SOURCES.md section 9: 1 boundary and piece text, 2 turn points, 3 curve points, 4 notches,
        # 7 grain line, 8 internal lines, 11 cut-outs, 13 drill holes, 15 annotation.
        out = Written(self.room.name, "lopsided", "drill")
        document = out.document("templates.dxf")
        for piece in out.pieces:
            block = document.blocks.get(piece)
            edge = out.r12_outline(block)
            layers = {}
            for entity in block:
                layers.setdefault(entity.dxf.layer, []).append(entity)
            self.assertLessEqual(set(layers), {"1", "2", "3", "4", "7", "8", "11", "13", "15"})
            points = [e for e in layers.get("2", []) + layers.get("3", [])]
            self.assertTrue(all(e.dxftype() == "POINT" for e in points))
            self.assertEqual(sorted((round(e.dxf.location.x, 4), round(e.dxf.location.y, 4))
                                    for e in points), sorted(edge))
            self.assertEqual({e.dxftype() for e in layers["4"]}, {"POINT"})
            for notch in layers["4"]:
                x, y, depth = notch.dxf.location
                self.assertLess(to_loop((x, y), edge), 0.01)
                self.assertTrue(2.0 <= depth <= 5.0, depth)
                # The angle leads into the piece: its middle is the origin of its frame.
                way = math.radians(notch.dxf.angle)
                self.assertGreater(-x * math.cos(way) - y * math.sin(way), 0)
            grain = [e for e in layers["7"] if e.dxftype() == "LINE"]
            self.assertEqual(len(grain), 1)
            self.assertEqual([tuple(e.dxf.location)[:2] for e in layers["13"]], [(0, 0)])
            words = {t.dxf.text: t for t in block.query("TEXT") if t.dxf.layer == "1"}
            self.assertIn(f"Piece Name: {piece}", words)
            for text in words.values():
                self.assertGreaterEqual(text.dxf.height, 3.0)
                self.assertLess(abs(text.dxf.insert.x), 250)

    def test_a_nested_roll_holds_every_copy_where_the_plan_lays_it(self):
        count = 0
        for roll in self.plain.plan["rolls"]:
            stem = "rolls/" + roll["fabric"].replace(" ", "-")
            document = self.plain.document(stem + ".dxf")
            inserts = document.modelspace().query("INSERT")
            self.assertEqual(len(inserts), len(roll["placed"]))
            cut = self.plain.hpgl_outlines(stem + ".plt")
            self.assertEqual(len(cut), len(roll["placed"]))
            for insert, place, plotted in zip(inserts, roll["placed"], cut):
                wanted = turned(self.plain.parting(place["piece"]), place["turn_deg"],
                                (place["x_mm"], place["y_mm"]))
                found = self.plain.r12_outline(document.blocks.get(insert.dxf.name))
                found = turned(found, 0, insert.dxf.insert)
                self.assertLess(farthest(wanted, found), 0.01)
                self.assertLess(max(to_loop(p, wanted) for p in plotted), 0.04)
                for x, y in found:
                    self.assertTrue(-0.01 <= x <= roll["length_mm"] + 0.01)
                    self.assertTrue(-0.01 <= y <= roll["width_mm"] + 0.01)
                count += 1
        self.assertEqual(count, 2 * len(self.plain.pieces))
        texts = [t.dxf.text for t in document.modelspace().query("TEXT")]
        self.assertTrue(any(text.startswith("Roll of mat 300:") for text in texts), texts)
        self.assertTrue(any("drag knife" in text for text in texts), texts)

    def test_a_mirrored_roll_is_the_roll_turned_over(self):
        out = Written(self.room.name, "lopsided", "mirror")
        for roll in out.plan["rolls"]:
            document = out.document("rolls/" + roll["fabric"].replace(" ", "-") + ".dxf")
            for insert, place in zip(document.modelspace().query("INSERT"), roll["placed"]):
                block = document.blocks.get(insert.dxf.name)
                wanted = turned(out.parting(place["piece"]), place["turn_deg"],
                                (place["x_mm"], place["y_mm"]))
                wanted = [(roll["length_mm"] - x, y) for x, y in wanted][::-1]
                self.assertLess(farthest(wanted, out.r12_outline(block)), 0.01)
                words = [t for t in block.query("TEXT") if t.dxf.text == "MIRRORED"]
                self.assertEqual(len(words), 1)
                at = words[0].dxf.align_point
                self.assertTrue(0 <= at.x <= roll["length_mm"])

    def test_mirrored_stands_on_the_piece_and_only_when_asked_for(self):
        out = Written(self.room.name, "lopsided", "mirror")
        for written, count in ((out, 1), (self.plain, 0)):
            for name in ("templates.dxf", "templates-2000.dxf"):
                document = written.document(name)
                for piece in written.pieces:
                    words = [t for t in document.blocks.get(piece).query("TEXT")
                             if t.dxf.text == "MIRRORED"]
                    self.assertEqual(len(words), count)
            for piece in written.pieces:
                text = (written.folder / "templates" / f"{piece}.svg").read_text("utf-8")
                self.assertEqual(">MIRRORED<" in text, bool(count))
            self.assertEqual("LBMIRRORED" in
                             (written.folder / "templates.plt").read_text("ascii"), bool(count))

    def test_a_file_a_piece(self):
        out = Written(self.room.name, "lopsided", "pieces", "copies=3")
        self.assertFalse((out.folder / "templates.dxf").exists())
        for piece in out.pieces:
            for end in (".dxf", "-2000.dxf"):
                found = out.outlines(f"templates/{piece}{end}")
                self.assertEqual(list(found), [piece])
                self.assertLess(farthest(out.parting(piece), found[piece]), 0.01)
            words = [t.dxf.text for t in
                     out.document(f"templates/{piece}.dxf").blocks.get(piece).query("TEXT")]
            self.assertIn("Quantity: 3", words)
            self.assertTrue((out.folder / "templates" / f"{piece}.plt").exists())

    def test_a_larger_chord_error_takes_fewer_points_and_keeps_its_word(self):
        out = Written(self.room.name, "lopsided", "chord=0.2")
        for piece, coarse in out.outlines("templates.dxf").items():
            fine = out.parting(piece)
            self.assertLess(len(coarse), 0.8 * len(fine))
            self.assertLess(max(to_loop(p, coarse) for p in fine), 0.2)
            self.assertEqual(crossings(coarse), 0)

    def test_arcs_stay_on_the_outline(self):
        # The flat panel without lopsidedness is a disc: a few arcs are enough.
        for words, most in (((), 16), (("lopsided",), 200)):
            out = Written(self.room.name, "arcs", *words)
            document = out.document("templates.dxf")
            for piece in out.pieces:
                line = [e for e in document.blocks.get(piece).query("POLYLINE")
                        if e.dxf.layer == "1"][0]
                nodes = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0))
                         for v in line.vertices]
                self.assertLess(len(nodes), most, piece)
                fine = []
                for (x, y, bulge), (nx, ny, _) in zip(nodes, nodes[1:] + nodes[:1]):
                    fine.append((x, y))
                    if bulge == 0.0:
                        continue
                    centre, start, end, radius = ezdxf.math.bulge_to_arc((x, y), (nx, ny), bulge)
                    sweep = (end - start) % (2 * math.pi)
                    steps = [start + sweep * k / 200 for k in range(1, 200)]
                    arc = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a))
                           for a in steps]
                    fine += arc if bulge > 0 else arc[::-1]
                loop = out.parting(piece)
                self.assertLess(max(to_loop(p, fine) for p in loop), 0.02)
                self.assertLess(max(to_loop(p, loop) for p in fine), 0.02)
                self.assertAlmostEqual(area(fine), area(loop), delta=5.0)

    def test_nested_and_single_files_audit_clean(self):
        own = ezdxf.new("R12")
        # This reader finds fault with the SEQEND of every R12 polyline in a block, its own too.
        own.blocks.new("A").add_polyline2d([(0, 0), (1, 0), (1, 1)], close=True)
        own_file = pathlib.Path(self.room.name) / "own.dxf"
        own.saveas(own_file)
        excused = {re.sub(r"#\w+", "#", f.message) for f in ezdxf.readfile(own_file).audit().fixes}
        out = Written(self.room.name, "lopsided", "pieces", "arcs", "drill")
        files = [*self.plain.folder.rglob("*.dxf"), *out.folder.rglob("*.dxf")]
        self.assertEqual(len(files), 2 * (1 + 3) + 2 * 3)
        for file in files:
            audit = ezdxf.readfile(file).audit()
            self.assertEqual([e.message for e in audit.errors], [], file)
            self.assertLessEqual({re.sub(r"#\w+", "#", f.message) for f in audit.fixes}, excused)

    def test_librecad_draws_a_piece_at_its_size(self):
        # LibreCAD 2 prints the file at scale 1, centred on A4; poppler draws that at 254 dpi, 10
        # pixels to the mm. The piece is the first block of ink from the top, the words stand 12 mm
        # under it; lines are 0.25 mm wide at most.
        out = Written(self.room.name, "pieces")
        for name in ("1A.dxf", "2A-2000.dxf"):
            pdf = (out.folder / "templates" / name).with_suffix(".pdf")  # where it is always put
            done = subprocess.run(
                ["librecad", "dxf2pdf", "-c", "-m", "-s", "1", str(out.folder / "templates" / name)],
                env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_RUNTIME_DIR": self.room.name,
                     "HOME": self.room.name}, capture_output=True, text=True, check=False)
            self.assertTrue(pdf.exists(), done.stderr)
            raw = subprocess.run(["pdftoppm", "-r", "254", "-gray", "-singlefile", str(pdf)],
                                 capture_output=True, check=True).stdout
            header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", raw)
            width = int(header.group(1))
            self.assertAlmostEqual(width, 2100, delta=4)
            grey = raw[header.end():].translate(bytes(0 if v < 160 else 1 for v in range(256)))
            rows = [grey[y:y + width] for y in range(0, len(grey), width)]
            first = next(y for y, row in enumerate(rows) if 0 in row)
            last = next(y for y in range(first, len(rows))
                        if not any(0 in row for row in rows[y:y + 50])) - 1
            columns = [x for x in range(width)
                       if 0 in bytes(row[x] for row in rows[first:last + 1])]
            loop = out.parting(name[:2])
            for k, pixels in ((0, columns[-1] - columns[0] + 1), (1, last - first + 1)):
                wanted = max(p[k] for p in loop) - min(p[k] for p in loop)
                self.assertAlmostEqual(pixels / 10, wanted, delta=0.3, msg=(name, k))

    def test_hpgl_repeats_no_point(self):
        for file in self.plain.folder.rglob("*.plt"):
            for start, rest in re.findall(r"PU(-?\d+,-?\d+);PD([-\d,]+);", file.read_text("ascii")):
                numbers = [int(n) for n in f"{start},{rest}".split(",")]
                points = list(zip(numbers[0::2], numbers[1::2]))
                self.assertTrue(all(a != b for a, b in zip(points, points[1:])), file)


if __name__ == "__main__":
    unittest.main(verbosity=2)
