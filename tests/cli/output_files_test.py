"""The files of a finished plan, read by programs that are not ours: an XML parser, librsvg, ezdxf.

The plan is the hand-made flat panel of tests/support/flat_plan.h with a lopsided outline, so that a
mirrored template would show."""
import json
import math
import os
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import system_python  # noqa: E402
import written_words as written  # noqa: E402
from closed_lines import area, farthest  # noqa: E402

ezdxf = system_python.module("ezdxf")
WRITER = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "tests" / "write_flat_plan"
SVG = "{http://www.w3.org/2000/svg}"


def write(folder, *words, environment=None):
    return subprocess.run([WRITER, folder, *words], capture_output=True, text=True,
                          env={**os.environ, **(environment or {})}, check=False)


class OutputFiles(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.room.name) / "Möwe out put"
        done = write(cls.folder, "lopsided", "title=Räucherei & <Söhne> \"6 m\"")
        assert done.returncode == 0, done.stderr
        cls.plan = json.loads((cls.folder / "plan.json").read_text(encoding="utf-8"))
        cls.pieces = [p for ply in cls.plan["plies"] for p in ply["pieces"]]

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def parting(self, piece):
        return piece["tear_line"] or piece["cut_line"]

    def test_plan_has_the_fixed_names(self):
        # DEFINITIONS.md, Plan file.
        self.assertEqual(self.plan["schema"], "tearline-plan/1")
        for name in ("program", "job", "damage", "scarf", "footprint", "plies", "rolls", "stages",
                     "totals", "warnings"):
            self.assertIn(name, self.plan)
        for name in ("id", "net_line", "net_holes", "tear_line", "cut_line", "tear_holes", "cut_holes",
                     "marks", "relief_cuts", "area_mm2", "strain", "shear_deg", "axis_deg", "mesh"):
            self.assertIn(name, self.pieces[0])
        mat, woven = self.pieces[0], self.pieces[1]
        self.assertIsNone(mat["cut_line"])
        self.assertIsNone(mat["shear_deg"])
        self.assertIsNone(woven["tear_line"])
        self.assertIsNone(woven["strain"])

    def test_outer_loops_are_counter_clockwise_and_areas_agree(self):
        for piece in self.pieces:
            self.assertGreater(area(piece["net_line"]), 0)
            self.assertAlmostEqual(area(self.parting(piece)), piece["area_mm2"], delta=0.01)

    def test_a_long_title_keeps_clear_of_the_models_name(self):
        # Room of letters: DejaVu Sans, the widest of the usual faces (tests/support).
        for title in ("Curlew", "Räucherei, a repair job with a title of some length",
                      "Ä very long title " * 12, "W" * 300):
            folder = pathlib.Path(self.room.name) / "titles"
            self.assertEqual(write(folder, "lopsided", f"title={title}").returncode, 0)
            head = [text for text in ElementTree.parse(folder / "overview.svg").getroot().iter(
                f"{SVG}text") if text.get("y") == "18"]
            said, model = head
            wide = [float(text.get("font-size")) * sum(map(written.advance, text.text))
                    for text in head]
            self.assertLess(float(said.get("x")) + written.BOLD * wide[0],
                            float(model.get("x")) - wide[1], title)
            whole = said.text == title
            self.assertEqual(whole, len(title) < 60)
            self.assertTrue(whole or said.text.endswith("…"), said.text)

    def test_meshes_hold_what_their_header_says(self):
        for piece in self.pieces:
            data = (self.folder / piece["mesh"]).read_bytes()
            line, body = data.split(b"\n", 1)
            header = json.loads(line)
            self.assertEqual(header["bytes"], len(body))
            arrays = {a["name"]: a for a in header["arrays"]}
            flat = arrays["flat"]
            count = flat["shape"][0] * 2
            xy = struct.unpack_from(f"<{count}d", body, flat["offset"])
            # The net line runs through vertices of the mesh.
            vertices = list(zip(xy[0::2], xy[1::2]))
            for point in piece["net_line"][::25]:
                self.assertLess(min(math.dist(point, v) for v in vertices), 1e-6)

    def test_svg_is_true_to_the_millimetre_and_holds_the_plan(self):
        for piece in self.pieces:
            file = self.folder / "templates" / f"{piece['id']}.svg"
            root = ElementTree.parse(file).getroot()
            width, height = (float(root.get(k).removesuffix("mm")) for k in ("width", "height"))
            self.assertEqual(root.get("viewBox"), f"0 0 {root.get('width')[:-2]} {root.get('height')[:-2]}")
            group = root.find(f".//{SVG}g[@id='tear-line']")
            if group is None:
                group = root.find(f".//{SVG}g[@id='cut-line']")
            path = group.find(f"{SVG}path").get("d")
            datum = [float(v) for v in re.search(r"\(([-\d.]+), ([-\d.]+)\)",
                                                 root.find(f"{SVG}desc").text).groups()]
            points = [(float(x) - datum[0], datum[1] - float(y))
                      for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", path)]
            self.assertLess(farthest(self.parting(piece), points), 0.01)
            # librsvg at 96 dpi: 1 mm is 96 / 25.4 px.
            png = subprocess.run(["rsvg-convert", "-d", "96", "-p", "96", file], capture_output=True,
                                 check=True).stdout
            px = struct.unpack(">II", png[16:24])
            self.assertAlmostEqual(px[0], width * 96 / 25.4, delta=1.0)
            self.assertAlmostEqual(px[1], height * 96 / 25.4, delta=1.0)

    def test_pictures_and_sheet_are_well_formed(self):
        for file in [*self.folder.glob("*.svg"), *self.folder.glob("templates/*.svg"),
                     self.folder / "job-sheet.html"]:
            done = subprocess.run(["xmllint", "--noout", file], capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
        sheet = (self.folder / "job-sheet.html").read_text(encoding="utf-8")
        self.assertIn("Räucherei &amp; &lt;Söhne&gt;", sheet)
        # The sheet's own order: who is asked first, what can hurt, what this plan warns of, the work.
        headings = re.findall(r"<h2[^>]*>(.*?)</h2>", sheet)
        parts = ["Ask first", "Cautions, the gravest first", "What this plan warns of",
                 "Before: survey and preparation", "Plies, in the order of laying", "Mixing",
                 "Laying: stages and cups", "Cure", "Finish",
                 "Record while you work"]
        self.assertEqual([h for h in headings if h in parts], parts)
        self.assertLess(sheet.index("data sheet comes first"), sheet.index("Cautions, the gravest"))
        self.assertLess(sheet.index("eyes blinds"), sheet.index("Rags with peroxide"))

    def test_the_sheet_gives_every_template_by_distances_from_the_datum(self):
        # Read off the plan's own polygon: where the ray at 30 degrees meets the tear line.
        sheet = (self.folder / "job-sheet.html").read_text(encoding="utf-8")
        row = re.search(r"<tr><td>30°</td>(.*?)</tr>", sheet).group(1)
        cells = re.findall(r"<td>([\d.]+) / ([\d.]+)</td>", row)
        self.assertEqual(len(cells), len(self.pieces))
        way = (math.cos(math.radians(30)), math.sin(math.radians(30)))
        for piece, read in zip(self.pieces, cells):
            for loop, told in zip((piece["net_line"], self.parting(piece)), map(float, read)):
                met = [p for p in loop if abs(math.atan2(p[1], p[0]) - math.radians(30)) < 0.05]
                far = [p[0] * way[0] + p[1] * way[1] for p in met]
                self.assertLessEqual(min(far) - 0.06, told)
                self.assertLessEqual(told, max(far) + 0.2)
        self.assertEqual(len(re.findall(r"<tr><td>[\d]+°</td>", sheet)), 24)
        self.assertNotIn("above the bound", sheet)  # a figure for plan.json, not for the bench

    def read_blocks(self, name):
        document = ezdxf.readfile(self.folder / name)
        found = {}
        for insert in document.modelspace().query("INSERT"):
            block = document.blocks.get(insert.dxf.name)
            found[insert.dxf.name] = block
        return document, found

    def test_dxf_r12_holds_the_polygons_of_the_plan(self):
        document, blocks = self.read_blocks("templates.dxf")
        self.assertEqual(document.dxfversion, "AC1009")
        self.assertEqual(sorted(blocks), sorted(p["id"] for p in self.pieces))
        for piece in self.pieces:
            outer = [e for e in blocks[piece["id"]].query("POLYLINE") if e.dxf.layer == "1"]
            self.assertEqual(len(outer), 1)
            self.assertTrue(outer[0].is_closed)
            points = [(v.dxf.location.x, v.dxf.location.y) for v in outer[0].vertices]
            self.assertLess(farthest(self.parting(piece), points), 0.01)
            self.assertGreater(area(points), 0)
            self.assertGreater(min(math.dist(a, b) for a, b in zip(points, points[1:] + points[:1])), 0.001)
            self.assertEqual(len([e for e in blocks[piece["id"]].query("POINT") if e.dxf.layer == "4"]), 4)
            self.assertTrue([e for e in blocks[piece["id"]] if e.dxf.layer == "7"])
        texts = [t.dxf.text for t in document.modelspace().query("TEXT")]
        self.assertIn("ALL DIMENSIONS IN MILLIMETRES", texts)

    def test_dxf_audits_as_clean_as_the_readers_own_files(self):
        audit = self.read_blocks("templates-2000.dxf")[0].audit()
        self.assertEqual([e.message for e in [*audit.errors, *audit.fixes]], [])
        # This reader finds fault with the SEQEND of every R12 polyline in a block, its own included.
        own = ezdxf.new("R12")
        own.blocks.new("A").add_polyline2d([(0, 0), (1, 0), (1, 1)], close=True)
        own_file = pathlib.Path(self.room.name) / "own.dxf"
        own.saveas(own_file)
        excused = {re.sub(r"#\w+", "#", f.message) for f in ezdxf.readfile(own_file).audit().fixes}
        audit = self.read_blocks("templates.dxf")[0].audit()
        self.assertEqual([e.message for e in audit.errors], [])
        self.assertLessEqual({re.sub(r"#\w+", "#", f.message) for f in audit.fixes}, excused)

    def test_dxf_2000_holds_the_polygons_of_the_plan(self):
        document, blocks = self.read_blocks("templates-2000.dxf")
        self.assertEqual(document.header["$INSUNITS"], 4)
        for piece in self.pieces:
            outer = [e for e in blocks[piece["id"]].query("LWPOLYLINE")
                     if e.dxf.layer in ("TEAR_LINE", "CUT_LINE")]
            points = [(x, y) for x, y, *_ in outer[0].get_points()]
            self.assertTrue(outer[0].closed)
            self.assertLess(farthest(self.parting(piece), points), 0.01)

    def test_hpgl_holds_the_same_areas(self):
        # 40 steps to the mm; the knife's pen is 1 and comes last.
        text = (self.folder / "templates.plt").read_text(encoding="ascii")
        cut = text.split("SP1;")[1]
        areas = []
        for start, rest in re.findall(r"PU(-?\d+,-?\d+);PD([-\d,]+);", cut):
            numbers = [int(n) / 40 for n in f"{start},{rest}".split(",")]
            areas.append(area(list(zip(numbers[0::2], numbers[1::2]))))
        for piece, found in zip(self.pieces, areas, strict=True):
            self.assertAlmostEqual(found, piece["area_mm2"], delta=piece["area_mm2"] * 2e-4)

    def test_mirror_turns_every_format_over_and_says_so(self):
        folder = pathlib.Path(self.room.name) / "mirrored"
        self.assertEqual(write(folder, "lopsided", "mirror").returncode, 0)
        document = ezdxf.readfile(folder / "templates.dxf")
        for piece in self.pieces:
            block = document.blocks.get(piece["id"])
            outer = [e for e in block.query("POLYLINE") if e.dxf.layer == "1"][0]
            points = [(v.dxf.location.x, v.dxf.location.y) for v in outer.vertices]
            turned = [(-x, y) for x, y in self.parting(piece)][::-1]
            self.assertLess(farthest(turned, points), 0.01)
            self.assertIn("MIRRORED", [t.dxf.text for t in block.query("TEXT")])
            self.assertIn("MIRRORED", (folder / "templates" / f"{piece['id']}.svg").read_text("utf-8"))
        for file in self.folder.glob("templates/?A.svg"):
            self.assertNotIn("MIRRORED", file.read_text("utf-8"))

    def test_the_same_plan_gives_the_same_bytes_under_any_locale(self):
        first, second = (pathlib.Path(self.room.name) / name for name in ("one", "two"))
        self.assertEqual(write(first, environment={"LC_ALL": "C"}).returncode, 0)
        self.assertEqual(write(second, environment={"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}).returncode, 0)
        names = sorted(p.relative_to(first) for p in first.rglob("*") if p.is_file())
        self.assertGreater(len(names), 10)
        for name in names:
            self.assertEqual((first / name).read_bytes(), (second / name).read_bytes(), name)

    def test_a_foreign_file_stops_the_writing(self):
        folder = pathlib.Path(self.room.name) / "ours"
        self.assertEqual(write(folder).returncode, 0)
        (folder / "notes.txt").write_text("mine", encoding="utf-8")
        before = (folder / "plan.json").read_bytes()
        done = write(folder, "lopsided")
        self.assertEqual(done.returncode, 5)
        self.assertIn("notes.txt", done.stderr)
        self.assertEqual((folder / "plan.json").read_bytes(), before)


if __name__ == "__main__":
    unittest.main()
