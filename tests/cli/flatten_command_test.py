"""`tearline flatten`: its files, its words, and what it refuses."""
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
import system_python  # noqa: E402
from closed_schema import closed  # noqa: E402
from pdf_text import text_of  # noqa: E402

jsonschema = system_python.module("jsonschema")
ezdxf = system_python.module("ezdxf")
TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
SAMPLES = SOURCE / "sample-models"
SCHEMA = json.loads((SOURCE / "core" / "formats" / "flat.schema.json").read_text("utf-8"))


VALIDATOR = jsonschema.Draft202012Validator(closed(SCHEMA))


class Case(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = pathlib.Path(self.temporary.name)
        self.out = self.folder / "out"

    def flatten(self, *words, status=0):
        done = subprocess.run([TEARLINE, "flatten", *map(str, words)], capture_output=True,
                              text=True, timeout=120, check=False)
        self.assertEqual(done.returncode, status, done.stderr)
        return done

    def plan(self, *words):
        done = self.flatten(*words, "-o", self.out, "--json")
        plan = json.loads(done.stdout)
        self.assertEqual([e.message for e in VALIDATOR.iter_errors(plan)], [])
        self.assertEqual(json.loads((self.out / "plan.json").read_text("utf-8")), plan)
        return plan


class Files(Case):
    def test_the_files_of_a_plan_but_those_of_a_repair(self):
        plan = self.plan(SAMPLES / "cylinder.step", "--margin", "15", "--format",
                         "svg,dxf,dxf2000,hpgl,pdf", "--paper", "roll 914")
        written = {p.relative_to(self.out).as_posix() for p in self.out.rglob("*") if p.is_file()}
        self.assertEqual(written, {
            "plan.json", "manifest.json", "overview.svg", "pieces/flat.bin", "templates/flat.svg",
            "templates.dxf", "templates-2000.dxf", "templates.plt", "templates-A4.pdf",
            "templates-roll-914-mm.pdf"})
        self.assertEqual(plan["rolls"], [], "any sheet has no roll")
        text = (self.out / "templates" / "flat.svg").read_text("utf-8")
        for word in ("FLAT", "THIS FACE TOWARDS YOU", "SEEN FROM OUTSIDE", "MARGIN 15 MM INCLUDED",
                     "GIVES BY UP TO 0.0 %"):
            self.assertIn(word, text)
        for word in ("PLY", "glass", "resin"):
            self.assertNotIn(word, text)
        # A second run into the same folder, and one with a foreign file in it.
        self.plan(SAMPLES / "cylinder.step")
        (self.out / "mine.txt").write_text("x")
        self.flatten(SAMPLES / "cylinder.step", "-o", self.out, status=5)

    def test_the_cutter_file_has_its_cut_line(self):
        plan = self.plan(SAMPLES / "frustum.step", "--face", 1)
        document = ezdxf.readfile(self.out / "templates.dxf")
        self.assertEqual(len(document.audit().errors), 0)
        blocks = [b for b in document.blocks if not b.name.startswith("*")]
        self.assertTrue(blocks)
        cut = plan["plies"][0]["pieces"][0]["cut_line"]
        longest = max((len(list(e.vertices)) for b in blocks for e in b.query("POLYLINE")), default=0)
        self.assertGreaterEqual(longest, len(cut) // 2)

    def test_the_options_of_a_plan_shape_its_cutter_files(self):
        self.plan(SAMPLES / "cylinder.step", "--format", "svg,dxf,page", "--pens", "1,0,0", "--cutter-files", "pieces",
                  "--chord-error", "0.1", "--arcs", "--drill")
        written = {p.relative_to(self.out).as_posix() for p in self.out.rglob("*") if p.is_file()}
        self.assertEqual(written, {"plan.json", "manifest.json", "overview.svg", "page.html", "pieces/flat.bin",
                                   "templates/flat.svg", "templates/flat.dxf", "templates/flat.plt"})
        text = (self.out / "templates" / "flat.plt").read_text("ascii")
        self.assertIn("SP1;", text)
        self.assertNotIn("SP3;", text, "pen 0 writes no words")

    def test_pages_say_nothing_of_a_repair(self):
        self.plan(SAMPLES / "panel.step", "--format", "pdf")
        text = text_of(self.out / "templates-A4.pdf", "-layout")
        self.assertIn("Try the paper in place before you cut", text)
        for word in ("Peroxide", "grinding", "Mix"):
            self.assertNotIn(word, text)

    def test_cloth_lies_by_its_yarns_on_its_roll(self):
        plan = self.plan(SAMPLES / "sandpiper.step", "--outline",
                         self.on_sandpiper(), "--cloth", "biaxial 400", "--axis", 30)
        ply = plan["plies"][0]
        self.assertEqual((ply["fabric"], ply["kind"]), ("biaxial 400", "biaxial"))
        piece = ply["pieces"][0]
        self.assertIsNone(piece["strain"])
        self.assertGreaterEqual(piece["shear_deg"]["max"], 0.0)
        self.assertAlmostEqual(piece["axis_deg"], 30, delta=0.05)  # at the middle, as it came out
        self.assertEqual([roll["fabric"] for roll in plan["rolls"]], ["biaxial 400"])
        placed = [p["piece"] for p in plan["rolls"][0]["placed"]]
        self.assertEqual(placed, [p["id"] for p in ply["pieces"]])

    def on_sandpiper(self):
        """A square of the dinghy's bottom, from a plan of its own job."""
        done = subprocess.run([TEARLINE, "plan", SAMPLES / "sandpiper.toml", "--json"],
                              capture_output=True, text=True, check=True)
        loop = json.loads(done.stdout)["footprint"]["outline_3d"][0]["outer"]
        return "; ".join(",".join(f"{c:.3f}" for c in p) for p in loop[::max(1, len(loop) // 12)])

    @staticmethod
    def off_line(p, loop):
        """How far a point lies off a closed line."""
        def off(a, b):
            way = (b[0] - a[0], b[1] - a[1])
            share = ((p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]) / (way[0] ** 2 + way[1] ** 2)
            share = min(1.0, max(0.0, share))
            return math.dist(p, (a[0] + share * way[0], a[1] + share * way[1]))
        return min(off(a, b) for a, b in zip(loop, loop[1:] + loop[:1]))

    def test_from_the_other_side_it_is_turned_over(self):
        def area(loop):
            return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(loop, loop[1:] + loop[:1])) / 2

        outline = "0,-150,-476.97; 400,-150,-476.97; 400,150,-476.97; 0,250,-433.0127"
        there = self.plan(SAMPLES / "cylinder.step", "--outline", outline)
        here = self.plan(SAMPLES / "cylinder.step", "--outline", outline, "--side", "inside")
        a, b = (p["plies"][0]["pieces"][0] for p in (there, here))
        self.assertAlmostEqual(area(a["net_line"]), area(b["net_line"]), delta=1.0)
        # Outside and inside of a bottom: the bow to the top of both, starboard left and right.
        ends = [p["frame"]["points_to"] for p in (there, here)]
        self.assertEqual(ends[0]["right"], ends[1]["left"])
        mirrored = [[-x, y] for x, y in a["net_line"]]
        for p in mirrored:
            self.assertLess(self.off_line(p, b["net_line"]), 0.1)

    def test_what_does_not_tell_its_outside_may_be_mirrored_and_says_so(self):
        corners = [(0, 0, 0), (400, 0, 0), (300, 200, 0), (0, 150, 0)]  # its mirror image is another shape

        def plate(*order):
            text = "".join("facet normal 0 0 0\nouter loop\n" + "".join(
                "vertex {} {} {}\n".format(*corners[order[i]]) for i in t) + "endloop\nendfacet\n"
                           for t in ((0, 1, 2), (0, 2, 3)))
            (self.folder / "plate.stl").write_text(f"solid p\n{text}endsolid p\n", encoding="utf-8")
            return self.folder / "plate.stl"

        def turns(plan):
            """Whether its slant of 223.6 mm comes after the side of 400, or before it."""
            loop = plan["plies"][0]["pieces"][0]["net_line"]
            ways = [math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in zip(loop, loop[1:] + loop[:1])]
            sharp = [p for p, before, after in zip(loop, ways[-1:] + ways, ways)
                     if abs(math.remainder(after - before, 2 * math.pi)) > 0.2]
            sides = [round(math.dist(p, q)) for p, q in zip(sharp, sharp[1:] + sharp[:1])]
            self.assertEqual(sorted(sides), [150, 224, 304, 400])
            return sides[(sides.index(400) + 1) % 4] == 224

        def words():
            return next(self.out.glob("templates/*.svg")).read_text(encoding="utf-8")

        one = plate(0, 1, 2, 3)
        first = self.plan(one, "--unit", "mm")
        self.assertEqual([w["code"] for w in first["warnings"]], ["outside-unknown"])
        self.assertIn("MAY BE MIRRORED", words())
        self.assertNotIn("SEEN FROM OUTSIDE", words())
        told = self.plan(one, "--unit", "mm", "--outward", "as modelled")
        self.assertEqual(told["warnings"], [])
        self.assertIn("SEEN FROM OUTSIDE", words())
        turned = self.plan(one, "--unit", "mm", "--outward", "reversed")
        other = self.plan(plate(3, 2, 1, 0), "--unit", "mm", "--outward", "as modelled")
        self.assertEqual([turns(plan) for plan in (first, told, turned, other)], [True, True, False, False])
        self.flatten(one, "--unit", "mm", "--outward", "outside", "--json", status=2)

    def test_the_same_bytes_again(self):
        first = self.flatten(SAMPLES / "wigley.step", "--face", 1, "--json").stdout
        self.assertEqual(self.flatten(SAMPLES / "wigley.step", "--face", 1, "--json").stdout, first)

    def test_every_face_of_the_samples_that_unrolls_is_laid_flat(self):
        for name in ("panel", "cylinder", "cone", "frustum"):
            with self.subTest(name):
                plan = self.plan(SAMPLES / f"{name}.step", "--face", 1)
                self.assertLess(plan["plies"][0]["pieces"][0]["strain"]["max"], 1e-4)

    def test_print_takes_the_folder(self):
        self.plan(SAMPLES / "panel.step")
        done = subprocess.run([pathlib.Path(TEARLINE).parent / "tearline-print", self.out,
                               "--pdf", self.folder / "a.pdf"], capture_output=True, text=True,
                              env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)


class Refusals(Case):
    def refused(self, status, *words, holds=()):
        said = self.flatten(*words, "-o", self.out, status=status).stderr
        self.assertEqual(said.count("\n"), 1, said)
        for word in holds:
            self.assertIn(word, said)
        self.assertNotIn("damage.", said)
        self.assertNotIn("hull.", said)
        self.assertFalse(self.out.exists(), "nothing half-written")

    def test_what_is_closed_names_the_ways(self):
        solid = self.folder / "box.stl"
        corners = [(x, y, z) for x in (0, 400) for y in (0, 300) for z in (0, 200)]
        quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
        text = "solid b\n"
        for a, b, c, d in quads:
            for t in ((a, b, c), (a, c, d)):
                text += "facet normal 0 0 0\nouter loop\n" + "".join(
                    f"vertex {corners[i][0]} {corners[i][1]} {corners[i][2]}\n" for i in t)
                text += "endloop\nendfacet\n"
        solid.write_text(text + "endsolid b\n", encoding="utf-8")
        self.refused(4, solid, "--unit", "mm", holds=("closed", "--outline"))

    def test_a_tube_a_fold_and_a_scan_say_what_to_do_on_the_command_line(self):
        self.refused(4, SAMPLES / "cone.stl", "--unit", "mm", holds=("winds round a tube", " near (", "--outline"))
        self.assertNotIn("--face", self.flatten(SAMPLES / "cone.stl", "--unit", "mm", "--json", status=4).stderr,
                         "a mesh has no face that could be named")
        # By reading: a whole boat without its deck has one rim; it is no tube, it is too round for one piece.
        self.refused(4, SAMPLES / "curlew.stl", "--unit", "mm", holds=("curves too much near (", "--outline"))
        said = self.flatten(SAMPLES / "curlew.stl", "--unit", "mm", "--json", status=4).stderr
        self.assertNotIn("tube", said)
        self.refused(3, SAMPLES / "curlew-photo.ply", "--unit", "m", holds=("looks like a scan", "--exact"))

    def test_a_sheet_in_pieces_is_told_as_no_ply(self):
        said = self.flatten(SAMPLES / "sphere.step", "--json").stderr
        self.assertIn("the sheet (mat) is cut in 4 pieces that meet edge to edge", said)
        self.assertNotIn("ply", said)
        self.assertNotIn("damage", said)

    def test_a_whole_hull_is_parted_along_its_creases(self):
        # Two bottoms, two topsides and a transom: five pieces, no seam more, and the area of the model's faces.
        plan = self.plan(SAMPLES / "curlew.step")
        pieces = plan["plies"][0]["pieces"]
        self.assertEqual(len(pieces), 5)
        faces = re.findall(r"(?m)^face \d+ +([\d.]+) m2", subprocess.run(
            [TEARLINE, "hull", SAMPLES / "curlew.step"], capture_output=True, text=True, check=True).stderr)
        flat = sorted(piece["area_mm2"] / 1e6 for piece in pieces)
        for one, other in zip(flat, sorted(map(float, faces)), strict=True):
            self.assertAlmostEqual(one / other, 1.0, delta=0.005)
        # By reading: a piece of no ply has no ply's number, and what meets edge to edge no lap.
        overview = (self.out / "overview.svg").read_text("utf-8")
        self.assertIn("seam, edge to edge", overview)
        self.assertNotIn("number", overview)
        middles = [mark["text"] for piece in pieces for mark in piece["marks"] if mark["kind"] == "datum"]
        self.assertEqual(set(middles) - {"MIDDLE"}, set())
        self.assertEqual([warning["code"] for warning in plan["warnings"]], ["laid-in-pieces"])

    def test_a_face_that_is_not_there(self):
        self.refused(3, SAMPLES / "curlew.step", "--face", 99, holds=("--face", "faces 1 to"))
        self.refused(3, SAMPLES / "cylinder.step", "--face", 2, holds=("--face", "one face"))
        self.refused(3, SAMPLES / "cylinder.stl", "--unit", "mm", "--face", 1,
                     holds=("--face", "--outline"))

    def test_an_outline_that_is_off_or_empty(self):
        model = SAMPLES / "cylinder.step"
        self.refused(3, model, "--outline", "0,0,-530; 100,0,-530; 100,100,-520",
                     holds=("--outline[", "mm off the hull"))
        self.refused(3, model, "--outline", "0,0,-500; 100,0,-500", holds=("--outline", "2 points"))
        self.refused(3, model, "--outline", "0,0,-500; a,b,c; 1,2,3",
                     holds=("point 2", "must be x,y,z"))
        for point in ("nan,0,0", "inf,0,0", "1e308,0,0", "1e12,0,0"):
            self.refused(3, model, "--outline", f"{point}; 100,0,-500; 100,100,-489.9", holds=("point 1", "in mm"))
        self.refused(3, model, "--outline", "", holds=("--outline",))
        # However far off, the place that is told is one of the model: x 0 to 2000, z -500 to 0.
        said = self.flatten(model, "--outline", "9e6,0,0; 100,0,-500; 100,100,-489.9", "-o", self.out, status=3).stderr
        x, y, z = (float(word) for word in re.search(r"nearest place of the hull is \((.*)\)", said)[1].split(","))
        self.assertAlmostEqual(x, 2000, delta=0.1)
        self.assertAlmostEqual(math.hypot(y, z), 500, delta=10)  # of its facets
        self.refused(3, model, "--outline", "nowhere.txt", holds=("there is no such file",))
        empty = self.folder / "empty.txt"
        empty.write_text("# nothing\n", encoding="utf-8")
        self.refused(3, model, "--outline", empty, holds=("0 points",))
        bad = self.folder / "bad.txt"
        bad.write_text("0 0 -500\n1 2\n", encoding="utf-8")
        self.refused(3, model, "--outline", bad, holds=("bad.txt:2",))
        bad.write_bytes(bytes(100000))
        said = self.flatten(model, "--outline", bad, "-o", self.out, status=3).stderr
        self.assertLess(len(said), 1000, "what is quoted of a file is short")
        self.refused(3, model, "--outline",
                     "0,0,-500; 300,100,-489.9; 300,0,-500; 0,100,-489.9", holds=("cross",))

    def test_a_surface_that_does_not_lie_flat_says_why_and_where(self):
        r, n, a = 600.0, 24, 0.9
        points = "; ".join(f"{r * math.sin(a) * math.cos(2 * math.pi * i / n):.4f},"
                           f"{r * math.sin(a) * math.sin(2 * math.pi * i / n):.4f},"
                           f"{-r * math.cos(a):.4f}" for i in range(n))
        self.refused(4, SAMPLES / "sphere.step", "--outline", points, "--strain-limit", "0.0005",
                     holds=("%", "near (", "a smaller piece (--outline)"))

    def test_words_that_make_no_sense(self):
        model = SAMPLES / "cylinder.step"
        self.refused(3, model, "--cloth", "biaxal 400", holds=("--cloth", "biaxial 400"))
        self.refused(3, model, "--margin", "-3", holds=("--margin",))
        self.refused(3, model, "--margin", "3 oz", holds=("--margin",))
        self.refused(3, model, "--bow", "0,0,1", holds=("--up", "parallel"))
        self.refused(3, model, "--bow", "0,0,0", holds=("--bow",))
        self.refused(3, model, "--bow", "nan,0,1", holds=("--bow", "finite"))
        self.refused(3, model, "--cloth", "mat\n\x1b450", holds=("--cloth", "mat\\x0a\\x1b450"))
        # As a job file's title.
        self.refused(3, model, "--title", "a" * 201, holds=("--title", "201 characters"))
        self.refused(3, model, "--title", "a\x1bb", holds=("--title", "cannot be printed"))
        # What would do nothing is not taken without a word.
        self.refused(3, model, "--axis", "45", holds=("--axis", "cloth"))
        self.refused(3, model, "--axis-free", "5", "--cloth", "mat 450", holds=("--axis-free", "cloth"))
        self.refused(3, model, "--format", "dxf", "--cutter-files", "rolls", holds=("--cutter-files", "no roll"))
        self.refused(3, self.folder / "none.step", holds=("there is no such file",))
        self.refused(3, SAMPLES / "cylinder.stl", holds=("--unit",))
        self.refused(3, model, "--cloth", "biaxial 400", "--strain-limit", "0.01",
                     holds=("--strain-limit",))
        for words in (["--face", 1, "--outline", "0,0,0;1,1,1;2,2,2"], ["--face", 0],
                      ["--format", "png"], ["--margin"], ["--bow", "1,0"], ["--format", "svg", "--arcs"], ["--join", "smooth"]):
            self.flatten(model, *words, "-o", self.out, status=2)
        self.flatten(model, status=2)  # neither a folder nor --json


if __name__ == "__main__":
    unittest.main(verbosity=2)
