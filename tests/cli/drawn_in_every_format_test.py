"""Random repairs in every format: each file has the lines that plan.json has, each once, on the layer of
its kind, and not one more; every word stands at the same place in all of them.

Expected lines are made anew from plan.json (tests/support/drawings.py); the files are read by an XML
parser, by ezdxf and by the pen's way through HPGL."""
import functools
import math
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import drawings  # noqa: E402
import system_python  # noqa: E402
from closed_lines import inside  # noqa: E402
from drawings import Line  # noqa: E402
from random_repairs import SAMPLES, OfPlans, Repair  # noqa: E402

ezdxf = system_python.module("ezdxf")

WRITTEN = 1.5e-4  # mm: four decimals in SVG and DXF, of a point and of the datum
STEP = 0.018  # mm: half a step of 1/40 mm in x and in y
FORMATS = ("--format", "svg,dxf,dxf2000,hpgl", "--cutter-files", "one,pieces,rolls")
# A cap of a sphere whose mat has to be darted; a C whose covers leave a hole.
DARTS = (SAMPLES / "sphere.toml").read_text(encoding="utf-8").replace("6.3046875 mm", "2.2 mm").replace(
    'model = "', f'model = "{SAMPLES}/') + '\n[[fabric]]\nname = "mat 450"\nstrain_limit = 0.009\n'


def jobs():
    yield "plain", Repair(7).text, ()
    yield "mirrored", Repair(6).text, ("--mirror",)
    yield "drilled", Repair(11).text, ("--drill",)
    yield "c", Repair(29, hull="panel", shape="c", order="smallest first").text, ("--mirror", "--drill")
    yield "darts", DARTS, ()
    yield "cylinder", Repair(3).text, ()
    yield "lapped", (SAMPLES / "curlew-deck-edge.toml").read_text(encoding="utf-8").replace('model = "', f'model = "{SAMPLES}/'), ()


@functools.cache
def document(path):
    return ezdxf.readfile(path)


def for_each_piece(check):
    """A test of every piece of every job."""
    @functools.wraps(check)
    def test(self):
        for made in self.made:
            for ply, piece in made.pieces():
                with self.subTest(job=made.name, piece=piece["id"]):
                    check(self, made, ply, piece)
    return test


class DrawnInEveryFormat(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for name, text, words in jobs():
            made = cls.plan(name, text, *FORMATS, *words)
            made.mirror, made.drill = "--mirror" in words, "--drill" in words

    def same_lines(self, wanted, found, slack):
        lost, more = drawings.unmatched(wanted, found, slack)
        self.assertEqual(lost, [], "lines of the plan that are not drawn there")
        self.assertEqual(more, [], "lines drawn that the plan does not have")

    def block(self, made, piece, end):
        return document(made.folder / "templates" / f"{piece['id']}{end}").blocks.get(piece["id"])

    def test_the_jobs_hold_every_kind_of_line(self):
        roles = {line.role for made in self.made for _, piece in made.pieces()
                 for line in drawings.expected_lines(piece, made.mirror, made.drill)}
        # Rings are a guide's; kerfs a core plug's, which marks_in_every_format_test.py reads.
        self.assertEqual(roles, set(drawings.CAD_LAYERS.values()) - {"ring", "kerf"})

    @for_each_piece
    def test_svg_has_each_line_in_the_group_of_its_kind(self, made, _, piece):
        drawn = drawings.of_svg(made.folder / "templates" / f"{piece['id']}.svg")
        wanted = [line for line in drawings.expected_lines(piece, made.mirror)
                  if line.role != "notch"]  # a cutter's alone
        self.same_lines(wanted, drawn.lines, WRITTEN)

    @for_each_piece
    def test_dxf_2000_has_each_line_on_the_layer_of_its_name(self, made, _, piece):
        drawn = drawings.of_dxf_2000(self.block(made, piece, "-2000.dxf"))
        wanted = [drawings.without_doubles(line)
                  for line in drawings.expected_lines(piece, made.mirror, made.drill)]
        self.same_lines(wanted, drawn.lines, WRITTEN)

    @for_each_piece
    def test_dxf_r12_has_each_line_on_the_layer_of_the_standard(self, made, ply, piece):
        drawn = drawings.of_dxf_r12(self.block(made, piece, ".dxf"))
        wanted = drawings.with_layers(
            [drawings.without_doubles(line)
             for line in drawings.expected_lines(piece, made.mirror, made.drill)])
        lines = drawn.lines
        if ply["kind"] == "mat":
            # The format's readers turn a piece by its grain line: mat has one that lies level,
            # a fifth of the drawing long.
            grain, = [line for line in lines if line.role == "7"]
            self.assertEqual(grain.points[0][1], grain.points[1][1])
            self.assertGreater(grain.points[1][0] - grain.points[0][0], 5.0)
            lines = [line for line in lines if line is not grain]
        # Depth and angle of a notch have four decimals: 5 mm by 1e-4 degrees and 0.5e-4 mm.
        self.same_lines(wanted, lines, 2 * WRITTEN)

    @for_each_piece
    def test_the_boundary_stands_in_dxf_r12_once_more_as_corners_and_points_of_curves(self, made, _, piece):
        # SOURCES.md section 9: layer 2 turn points, layer 3 curve points; a corner turns by more than
        # 15 degrees (base/tolerances.h, outline_corner).
        drawn = drawings.of_dxf_r12(self.block(made, piece, ".dxf"))
        edge, = [line.points for line in drawn.lines if line.role == "1"]
        corners = []
        for before, at, after in zip(edge[-1:] + edge[:-1], edge, edge[1:] + edge[:1]):
            (u, _), (v, _) = drawings.along(before, at), drawings.along(at, after)
            turn = math.degrees(math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]))
            self.assertGreater(abs(abs(turn) - 15.0), 0.01, "too near the limit to tell")
            corners += [at] if abs(turn) > 15.0 else []
        self.assertEqual(sorted(drawn.boundary_points["2"]), sorted(corners))
        self.assertEqual(sorted(drawn.boundary_points["3"]), sorted(set(edge) - set(corners)))

    @for_each_piece
    def test_hpgl_cuts_what_is_parted_and_draws_the_rest(self, made, _, piece):
        # Pens by default: 1 parts, 2 draws, 3 writes; what is parted comes last.
        plot = drawings.Plotted(made.folder / "templates" / f"{piece['id']}.plt")
        self.assertEqual(plot.order, [2, 3, 1])
        wanted = [line for line in drawings.expected_lines(piece, made.mirror) if len(line.points) > 1]
        for pen, parted in ((1, True), (2, False)):
            mine = [Line(str(pen), line.points, line.closed) for line in wanted
                    if (line.role in drawings.PARTED) == parted]
            self.assertEqual(len(plot.pens[pen]), len(mine))
            for line in mine:
                near = [other for other in plot.pens[pen] if self.along_each_other(line, other)]
                self.assertTrue(near, line)

    def along_each_other(self, line, other):
        """Point for point but for those that fall on one step of the plotter."""
        steps = [tuple(round(40 * v) / 40 for v in p) for p in line.points]
        steps = [p for i, p in enumerate(steps) if i == 0 or math.dist(p, steps[i - 1]) > 0.026]
        if abs(len(steps) - len(other.points)) > 0.02 * len(steps) + 1:
            return False
        return (max(min(math.dist(p, q) for q in other.points) for p in line.points) < 2 * STEP + 0.05 and
                max(min(math.dist(p, q) for q in line.points) for p in other.points) < STEP + 1e-3)

    @for_each_piece
    def test_labels_stand_where_the_plan_has_them(self, made, _, piece):
        wanted = drawings.expected_labels(piece, made.mirror)
        for drawn in (drawings.of_svg(made.folder / "templates" / f"{piece['id']}.svg"),
                      drawings.of_dxf_2000(self.block(made, piece, "-2000.dxf")),
                      drawings.of_dxf_r12(self.block(made, piece, ".dxf"))):
            left = list(drawn.texts)
            for text in wanted:
                if made.mirror and text.words == "THIS FACE TOWARDS YOU":
                    continue  # says the other face there, in its own size
                near = [other for other in left if other.words == text.words and
                        math.dist(other.base, text.base) < 3e-4 and math.dist(other.up, text.up) < 3e-4]
                self.assertTrue(near, text)
                left.remove(near[0])

    @for_each_piece
    def test_a_turned_sheet_says_so_once_and_shows_the_other_face(self, made, _, piece):
        words = drawings.of_svg(made.folder / "templates" / f"{piece['id']}.svg").words()
        mirrored = [w for w in words if "MIRRORED" in w]
        labels = [text.words for text in drawings.expected_labels(piece)]
        had_face = "THIS FACE TOWARDS YOU" in labels
        if made.mirror:
            self.assertIn("MIRRORED", mirrored)
            self.assertNotIn("THIS FACE TOWARDS YOU", words)
            self.assertEqual(len(mirrored), 1 + had_face)
            self.assertEqual("MIRRORED: THIS FACE TO THE HULL" in mirrored, had_face)
        else:
            self.assertEqual(mirrored, [])
            self.assertEqual("THIS FACE TOWARDS YOU" in words, had_face)

    @for_each_piece
    def test_words_stand_alike_in_every_format(self, made, _, piece):
        svg = drawings.of_svg(made.folder / "templates" / f"{piece['id']}.svg")
        cad = drawings.of_dxf_2000(self.block(made, piece, "-2000.dxf"))
        r12 = drawings.of_dxf_r12(self.block(made, piece, ".dxf"))
        plot = drawings.Plotted(made.folder / "templates" / f"{piece['id']}.plt")
        self.assertEqual(svg.words(), cad.words())
        self.assertEqual(svg.words(), r12.words())
        self.assertEqual(len(plot.texts), len(svg.texts))
        place = lambda text: (text.words, round(text.base[0], 2), round(text.base[1], 2))  # noqa: E731
        for a, b in zip(sorted(svg.texts, key=place), sorted(cad.texts, key=place)):
            self.assertLess(math.dist(a.base, b.base), 3e-4, a)
            self.assertLess(math.dist(a.up, b.up), 2e-3, a)

    @for_each_piece
    def test_a_plotters_words_are_centred_on_their_place(self, made, _, piece):
        # HPGL begins at the first letter: letters are 1.5 widths apart and 0.55 of their height wide,
        # sizes in cm (the plotter's own rule for SI).
        cad = drawings.of_dxf_2000(self.block(made, piece, "-2000.dxf"))
        plot = drawings.Plotted(made.folder / "templates" / f"{piece['id']}.plt")
        middles = []
        for start, (cos, sin), (wide, high), words, pen in plot.texts:
            self.assertEqual(pen, 3)
            self.assertAlmostEqual(math.hypot(cos, sin), 1.0, delta=2e-4)
            self.assertAlmostEqual(wide / high, 0.55, delta=0.02)
            half = 0.75 * wide * len(words)
            middles.append(((start[0] + half * cos, start[1] + half * sin), (-high * sin, high * cos),
                            len(words)))
        for text in cad.texts:
            near = [m for m in middles if m[2] == len(text.words) and
                    math.dist(m[0], text.base) < 0.05 + 0.004 * m[2] and
                    math.dist(m[1], text.up) < 0.02]
            self.assertTrue(near, text)

    @for_each_piece
    def test_a_piece_is_listed_by_name_cloth_and_number(self, made, ply, piece):
        drawn = drawings.of_dxf_r12(self.block(made, piece, ".dxf"))
        self.assertEqual(drawn.listed, {
            "Piece Name": piece["id"], "Material": ply["fabric"],
            "Quantity": str(made.job["layup"]["copies"]), "Units": "METRIC (mm)"})

    def test_one_file_has_every_piece_in_a_row_and_none_on_another(self):
        for made in self.made:
            for name, read in (("templates.dxf", drawings.of_dxf_r12),
                               ("templates-2000.dxf", drawings.of_dxf_2000)):
                file = document(made.folder / name)
                inserts = list(file.modelspace().query("INSERT"))
                self.assertEqual([i.dxf.name for i in inserts], [p["id"] for _, p in made.pieces()])
                right = 0.0
                for insert in inserts:
                    own = read(file.blocks.get(insert.dxf.name))
                    alone = self.block(made, {"id": insert.dxf.name}, name.removeprefix("templates"))
                    self.assertEqual(len(own.lines), len(read(alone).lines))
                    points = [p for line in own.lines for p in line.points]
                    left = min(x for x, _ in points) + insert.dxf.insert.x
                    # 20 mm between neighbours, whose words may reach beyond their lines.
                    self.assertGreaterEqual(left, right + 19.9)
                    right = max(x for x, _ in points) + insert.dxf.insert.x
                    self.assertGreaterEqual(min(y for _, y in points) + insert.dxf.insert.y, 19.9)

    def test_a_roll_has_each_piece_where_the_plan_lays_it(self):
        for made in self.made:
            for roll in made.plan["rolls"]:
                stem = made.folder / "rolls" / roll["fabric"].replace(" ", "-")
                pieces = {piece["id"]: piece for _, piece in made.pieces()}
                file = document(f"{stem}-2000.dxf")
                inserts = list(file.modelspace().query("INSERT"))
                self.assertEqual(len(inserts), len(roll["placed"]))
                copies = {}
                for insert, place in zip(inserts, roll["placed"]):
                    number = copies[place["piece"]] = copies.get(place["piece"], 0) + 1
                    self.assertEqual(insert.dxf.name, place["piece"] + (f"-{number}" if number > 1 else ""))
                    self.assertEqual(tuple(insert.dxf.insert), (0, 0, 0))
                    drawn = drawings.of_dxf_2000(file.blocks.get(insert.dxf.name))
                    wanted = [drawings.without_doubles(self.on_cloth(line, place, roll, made.mirror))
                              for line in drawings.expected_lines(pieces[place["piece"]], drill=made.drill)
                              if line.role != "sketch"]
                    lost, more = drawings.unmatched(wanted, drawn.lines, 2 * WRITTEN)
                    self.assertEqual(lost, [], place)
                    self.assertEqual([line for line in more if line.role != "sketch"], [], place)

    @staticmethod
    def on_cloth(line, place, roll, mirror):
        """A line turned and moved as the plan says; a mirrored roll is turned over as a whole."""
        c, s = (f(math.radians(place["turn_deg"])) for f in (math.cos, math.sin))
        points = [(c * x - s * y + place["x_mm"], s * x + c * y + place["y_mm"]) for x, y in line.points]
        if mirror:
            points = [(roll["length_mm"] - x, y) for x, y in points]
            points = points[::-1] if line.closed else points
        return Line(line.role, points, line.closed)

    def test_nothing_written_on_a_roll_lies_on_a_neighbours_cloth(self):
        for made in self.made:
            for roll in made.plan["rolls"]:
                stem = made.folder / "rolls" / roll["fabric"].replace(" ", "-")
                file = document(f"{stem}-2000.dxf")
                for insert in file.modelspace().query("INSERT"):
                    drawn = drawings.of_dxf_2000(file.blocks.get(insert.dxf.name))
                    edge = drawn.of("tear", "cut")[0].points
                    for text in drawn.texts:
                        if text.words != "MIRRORED":
                            self.assertTrue(inside(edge, text.base), text)
                    for line in drawn.of("sketch"):
                        self.assertTrue(inside(edge, line.points[0]), line)

    def test_the_sheet_says_unit_copies_and_cloth(self):
        for made in self.made:
            for name, copies in (("templates.dxf", made.job["layup"]["copies"]), ("templates-2000.dxf", None)):
                words = [t.dxf.text for t in document(made.folder / name).modelspace().query("TEXT")]
                self.assertIn("ALL DIMENSIONS IN MILLIMETRES", words)
                self.assertIn("Style Name: " + made.plan["job"]["title"], words)
                if copies:
                    self.assertEqual(f"MAKE {copies} OF EACH PIECE" in words, copies > 1)
            for roll in made.plan["rolls"]:
                stem = made.folder / "rolls" / roll["fabric"].replace(" ", "-")
                words = [t.dxf.text for t in document(f"{stem}.dxf").modelspace().query("TEXT")]
                self.assertIn(f"Roll of {roll['fabric']}: {roll['length_mm']:.0f} mm of length, "
                              f"{roll['width_mm']:.0f} mm wide", words)

    def test_the_guide_has_footprint_rings_and_leaders(self):
        for made in self.made:
            guide = made.plan["grind_guide"]
            drawn = drawings.of_svg(made.folder / "templates" / "grind-guide.svg")
            edge = [guide["footprint"]["outer"], *guide["footprint"]["holes"]]
            wanted = [Line("cut", edge[0], True)] + [Line("hole", hole, True) for hole in edge[1:]]
            for mark in guide["marks"]:
                wanted += drawings.of_mark(mark)
            for ring in guide["rings"]:
                for loop in ring["loops"]:
                    line = Line("ring", loop, True)  # rings that lie on each other are drawn once
                    if loop not in edge and all(drawings.gap(line, other) > 0.05 for other in wanted):
                        wanted.append(line)
                if ring.get("leader"):
                    wanted.append(Line("datum", ring["leader"], False))
            if made.mirror:
                wanted = [drawings.turned_over(line) for line in wanted]
            self.same_lines(wanted, drawn.lines, WRITTEN)
            for ring in guide["rings"]:
                # Under one line both names, "PLY 4  DEPTH 0 = SCARF EDGE: DEPTH 0".
                names = [name for words in drawn.words() for name in words.split(" = ")]
                self.assertIn(ring["text"], names)

    def test_each_format_asked_for_is_written_and_no_other(self):
        for made in self.made:
            names = {str(p.relative_to(made.folder)) for p in made.folder.rglob("*") if p.is_file()}
            ids = [piece["id"] for _, piece in made.pieces()]
            wanted = {"plan.json", "overview.svg", "job-sheet.html", "manifest.json", "templates.dxf",
                      "templates-2000.dxf", "templates.plt", "templates/grind-guide.svg"}
            wanted |= {f"templates/{i}{end}" for i in ids for end in (".svg", ".dxf", "-2000.dxf", ".plt")}
            wanted |= {f"pieces/{i}.bin" for i in ids}
            for roll in made.plan["rolls"]:
                wanted |= {f"rolls/{roll['fabric'].replace(' ', '-')}{end}"
                           for end in (".dxf", "-2000.dxf", ".plt")}
            self.assertEqual(names, wanted)


if __name__ == "__main__":
    unittest.main()
