#!/usr/bin/env python3
"""The job files that the workbench writes and takes in, its figures and what a click does to an outline: the parts of
it that need no document. TOML is read back by tomllib; a property that stands for a key is a plain value here."""
import json
import math
import os
import pathlib
import random
import re
import sys
import tomllib
import types
import unittest

SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
sys.path[:0] = [str(SOURCE / "cad-plugin"), str(SOURCE / "tests" / "support")]
from system_python import module  # noqa: E402

numpy = module("numpy")


class Vector:
    """As much of the CAD program's own as these modules use."""

    def __init__(self, x=0.0, y=0.0, z=0.0):
        self.x, self.y, self.z = float(x), float(y), float(z)

    def distanceToPoint(self, other):
        return math.dist((self.x, self.y, self.z), (other.x, other.y, other.z))


# What FreeCAD shows a length in: its sign, and the mm in it.
MM, INCHES = ("mm", 1.0), ("in", 25.4)
shown_in = MM


def quantity(value, unit):
    return types.SimpleNamespace(getUserPreferred=lambda: (f"{value / shown_in[1]} {shown_in[0]}", *shown_in[::-1]))


sys.modules["FreeCAD"] = types.SimpleNamespace(Vector=Vector, addDocumentObserver=lambda observer: None,
                                               Units=types.SimpleNamespace(Length=object(), Quantity=quantity))
for name in ("Part", "Mesh", "Points"):
    sys.modules[name] = types.SimpleNamespace()
sys.modules["tearline_cad.document.repair"] = types.SimpleNamespace(make_repair=None)
from tearline_cad.engine import words  # noqa: E402

for name in ("document.survey", "document.words", "view.nodes"):
    sys.modules[f"tearline_cad.{name}"] = types.SimpleNamespace(tr=words.tr)
from tearline_cad.document import boat_job, figures, job_file, job_text, keys, pieces, tables, toml  # noqa: E402
from tearline_cad.marking import handles  # noqa: E402
from tearline_cad.view import laid  # noqa: E402

START = 20261130


def repair(**told):
    """A repair at its start values, marked by a triangle."""
    values = {each.prop: keys.start_value(each) for each in keys.KEYS}
    values |= {prop: [] for prop, *_ in keys.PLACES}
    values |= {"Title": "", "Label": "Repair", "Mirror": "not said", "DamageShape": "points", "Join": "smooth",
               "Outline": [Vector(0, 0, 0), Vector(90, 0, 0), Vector(0, 80, 0)], "Centred": False,
               "Centre": Vector(), "Radius": 80.0, "Length": 200.0, "Height": 120.0, "GelTemperature": 20.0,
               "GelPercent": 1.25, "GelMass": 100.0, "FurtherKeys": [], "FurtherTables": [], "Scans": []}
    values |= {"Bow": Vector(1, 0, 0), "Up": Vector(0, 0, 1)}
    return types.SimpleNamespace(**(values | told))


def written(of, model="hull.brep", unit=""):
    """What the job file of a repair says. Depth is a quantity, which carries mm in Value."""
    of.Depth = types.SimpleNamespace(Value=float(getattr(of.Depth, "Value", of.Depth)))
    return tomllib.loads(job_text.job_text(of, model, unit))


class JobText(unittest.TestCase):
    def test_at_its_start_says_what_has_to_stand_and_no_more(self):
        self.assertEqual(written(repair()), {
            "tearline": 1, "title": "Repair",
            "hull": {"model": "hull.brep", "bow": [1.0, 0.0, 0.0], "up": [0.0, 0.0, 1.0]},
            "damage": {"outline": [[0.0, 0.0, 0.0], [90.0, 0.0, 0.0], [0.0, 80.0, 0.0]], "depth": 6.0}})

    def test_says_each_shape_of_damage_in_its_own_keys(self):
        disc = written(repair(DamageShape="disc", Centred=True, Centre=Vector(1, 2, 3)))["damage"]
        self.assertEqual(disc, {"centre": [1.0, 2.0, 3.0], "radius": 80.0, "depth": 6.0})
        ellipse = written(repair(DamageShape="ellipse", Centred=True))["damage"]
        self.assertEqual((ellipse["length"], ellipse["height"]), (200.0, 120.0))
        self.assertNotIn("radius", ellipse)
        straight = written(repair(Join="straight"))["damage"]
        self.assertEqual(straight["join"], "straight")

    def test_unmarked_damage_is_said_to_be_so(self):
        for of in (repair(Outline=[Vector(), Vector(1)]), repair(DamageShape="disc"), repair(DamageShape="ellipse")):
            with self.assertRaisesRegex(job_text.Incomplete, "^Mark the damage: "):
                written(of)

    def test_every_changed_property_stands_in_its_own_table(self):
        for key in keys.KEYS:
            start = keys.start_value(key)
            if key.kind in (keys.LENGTH, keys.FLOAT, keys.WHOLE) and key.prop != "Depth":
                with self.subTest(key.prop):
                    of = repair(**{key.prop: start + 1})
                    told = written(of)
                    for table in filter(None, key.table.split(".")):
                        told = told[table]
                    value = told[key.key]
                    # A mass or a stress is a text with its unit.
                    self.assertEqual(float(str(value).split()[0]), start + 1)

    def test_a_stack_takes_the_place_of_what_fills(self):
        told = written(repair(Stack=["mat 450", "roving 600 @ 45"], Fill="mat 300"))["layup"]
        self.assertEqual(told, {"stack": ["mat 450", {"fabric": "roving 600", "axis": 45.0}]})

    def test_a_changed_topcoat_over_epoxy_is_said_whole(self):
        thickness = keys.start_value(next(key for key in keys.KEYS if key.prop == "TopcoatThickness"))
        told = written(repair(ResinKind="epoxy", TopcoatThickness=thickness + 0.1))["topcoat"]
        self.assertEqual(set(told), {"thickness", "density"})
        self.assertNotIn("topcoat", written(repair(ResinKind="epoxy")))

    def test_a_gel_time_goes_with_where_it_holds(self):
        self.assertEqual(written(repair(GelMinutes=14.0))["resin"],
                         {"gel_minutes": 14.0, "gel_at": {"temperature": 20.0, "percent": 1.25, "mass": "100.0 g"}})
        self.assertNotIn("resin", written(repair()))

    def test_titles_and_models_of_any_letters_come_back(self):
        for text in ("Möwe", 'a "b" \\ c', "two\nlines", "\x01\x7f", "λίμνη \U0001F6A4"):
            told = written(repair(Title=text), model=text)
            self.assertEqual((told["title"], told["hull"]["model"]), (text, text))

    def test_further_keys_and_tables_come_back_and_a_lone_mark_stays_at_home(self):
        lines = ["[marks.A]", "at = [1, 2, 3]", "[[fabric]]", 'name = "mat 999"', "weight = 999"]
        of = repair(FurtherKeys=["hull.mirror = true", "damage.round = \"arc\""], FurtherTables=lines)
        told = written(of)
        self.assertEqual(told["hull"]["mirror"], True)
        self.assertEqual(told["damage"]["round"], "arc")
        self.assertEqual(told["fabric"], [{"name": "mat 999", "weight": 999}])
        self.assertNotIn("marks", told, "of one mark the engine knows no place")
        of.FurtherTables = [*lines, "[marks.B]", "at = [4, 5, 6]"]
        self.assertEqual(set(written(of)["marks"]), {"A", "B"})


def plain(value):
    """A value without its unit, so that 6 mm is 6: each key has one kind."""
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, list):
        return [plain(each) for each in value]
    matched = re.fullmatch(r"([-\d.e]+) (mm|cm|m|g|kg|g/m2|MPa)", value) if isinstance(value, str) else None
    if not matched:
        return float(value) if isinstance(value, int) and not isinstance(value, bool) else value
    return float(matched[1]) * {"cm": 10.0, "m": 1000.0, "kg": 1000.0}.get(matched[2], 1.0)


class Taken(unittest.TestCase):
    """A job file that becomes a repair says the same when it is written again."""

    def again(self, text):
        of, job = repair(), tomllib.loads(text)
        for key in ("model", "unit"):  # of the object that holds the hull
            job.get("hull", {}).pop(key, None)
        job_file.take_job(of, job)
        return written(of)

    def expect_same(self, was, now, path=""):
        for key, value in was.items():
            where = f"{path}.{key}".lstrip(".")
            if where in ("layup.fill", "layup.cover") and isinstance(value, str):
                value = [value]  # of plies one may stand without its brackets
            if where in ("title", "tearline", "hull.model", "hull.unit"):
                continue
            if isinstance(value, dict) and isinstance(now.get(key, {}), dict):
                self.expect_same(value, now.get(key, {}), where)
            elif key not in now and where in keys.PROPERTIES:
                row = next(each for each in keys.KEYS if each.prop == keys.PROPERTIES[where])
                self.assertEqual(plain(value), plain(keys.start_value(row)), f"{where} is gone, and was no default")
            elif key not in now:
                self.assertIn(value, ({}, []), where)
            else:
                self.assertEqual(plain(value), plain(now[key]), where)

    def test_every_sample_says_the_same_again(self):
        count = 0
        for path in sorted((SOURCE / "sample-models").glob("*.toml")):
            text = path.read_text(encoding="utf-8")
            # Those by tape or over scans of the ground, and boats, have marks that a document keeps.
            if "model" not in text or re.search(r"^\[\[(repair|remnant|damage\.scan)|^\[damage\.scan", text, re.M):
                continue
            if isinstance(tomllib.loads(text)["damage"].get("outline", [[]])[0], dict):
                continue
            with self.subTest(path.name):
                self.expect_same(tomllib.loads(text), self.again(text))
                count += 1
        self.assertGreaterEqual(count, 8)

    def test_what_no_property_can_hold_is_kept_as_it_was_written(self):
        text = ('tearline = 1\nfuture = "key"\n[hull]\nmodel = "a.step"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                "[damage]\noutline = [[0, 0, 0], [90, 0, 0], [0, 80, 0]]\n"
                'depth = "1/4 in"\n[layup]\nfill = {fabric = "mat 450", more = 1}\n[resin]\ncup = "8 oz"\n'
                '[prices]\n"mat 450" = 12.5\n[[damage.sounding]]\nat = [1, 2, 3]\ndepth = 4.5\n')
        self.expect_same(tomllib.loads(text), self.again(text))
        self.assertEqual(self.again(text)["damage"]["depth"], "1/4 in")
        self.assertEqual(self.again(text)["resin"]["cup"], "8 oz")

    def test_a_hole_right_through_has_no_depth(self):
        text = "[damage]\noutline = [[0, 0, 0], [90, 0, 0], [0, 80, 0]]\nthrough = true\n"
        self.assertNotIn("depth", self.again(text)["damage"])

    def test_marks_by_tape_in_the_outline_are_refused_in_words(self):
        for damage in ('outline = [{A = "1 m", B = "2 m"}]', "centre = [1, 2]", "centre = [1, 2, 3]\nlength = 9"):
            with self.subTest(damage), self.assertRaisesRegex(job_file.Unreadable, "^damage: "):
                self.again(f"[damage]\n{damage}\n")


class Figures(unittest.TestCase):
    def test_units_are_those_of_their_definitions(self):
        # International yard and pound agreement: 1 lb 0.45359237 kg, 1 yd 0.9144 m; standard gravity 9.80665.
        ounce, pound = 453.59237 / 16.0, 453.59237
        for text, unit, value in (
                ("2 oz", "g", 2 * ounce), ("1 lb", "g", pound), ("0.5 kg", "g", 500.0),
                ("9 oz/yd2", "g/m2", 9 * ounce / 0.9144**2), ("1.5 oz/ft2", "g/m2", 1.5 * ounce / 0.3048**2),
                ("100 psi", "MPa", 100 * pound / 1000 * 9.80665 / 25.4**2), ("500 kPa", "MPa", 0.5),
                ("1100 kg/m3", "g/mL", 1.1), ("1.5 h", "minutes", 90.0), ("90 min", "hours", 1.5),
                ("10 %", "fraction", 0.1), ("0.1", "fraction", 0.1), ("12 : 1", "ratio", 12.0),
                ("12", "ratio", 12.0), ("1.25 %", "%", 1.25), ("20 °C", "degrees Celsius", 20.0)):
            with self.subTest(text):
                self.assertTrue(math.isclose(figures.read(text, unit), value, rel_tol=1e-9), figures.read(text, unit))

    def test_a_decimal_comma_is_one_and_what_may_be_two_things_is_none(self):
        self.assertEqual(figures.read("1,5", "g"), 1.5)
        self.assertEqual(figures.read("-0,25 kg", "g"), -250.0)
        self.assertEqual(figures.read("1500,25", "g"), 1500.25)
        for text in ("1,500", "12,500 g", "1.500,25", "1,500,250", "1,2,3", "1.2.3", ".", ",", "", "g", "five",
                     "5 stone", "5 oz/yd", "nan", "inf", "1e", "5 5"):
            with self.subTest(text), self.assertRaises(figures.Unclear):
                figures.read(text, "g")

    def test_a_share_without_its_sign_may_not_be_taken_for_percent(self):
        with self.assertRaisesRegex(figures.Unclear, "10 % or 0.1"):
            figures.read("10", "fraction")
        self.assertEqual(figures.read("1", "fraction"), 1.0)

    def test_what_is_shown_is_read_back(self):
        global shown_in
        self.addCleanup(globals().update, shown_in=MM)
        draw = random.Random(START)
        for shown_in in (MM, INCHES):
            for unit in figures.UNITS:
                # What is turned into another unit is shown to four digits.
                turned = figures.sign_of(unit) != next(iter(figures.UNITS[unit]))
                for _ in range(50):
                    value = round(draw.uniform(0.001, 0.999 if unit == "fraction" else 5000.0), 4)
                    with self.subTest(unit, value=value, shown_in=shown_in):
                        again = figures.read(figures.shown(value, unit), unit)
                        # [degrees Celsius] half a last digit of up to 9,032 degrees Fahrenheit
                        self.assertTrue(math.isclose(again, value, rel_tol=5e-4 if turned else 1e-9,
                                                     abs_tol=0.5 / 1.8 if unit == "degrees Celsius" else 0.0),
                                        f"{value} shown as {figures.shown(value, unit)}")

    def test_those_of_a_kind_follow_what_lengths_are_shown_in(self):
        global shown_in
        self.addCleanup(globals().update, shown_in=MM)
        # As above; 0 and 100 degrees Celsius are 32 and 212 Fahrenheit.
        for shown_in, signs in ((MM, ("g", "g/m2", "MPa", "°C")), (INCHES, ("oz", "oz/yd2", "psi", "°F"))):
            for unit, sign in zip(("g", "g/m2", "MPa", "degrees Celsius"), signs):
                self.assertTrue(figures.shown(20.0, unit).endswith(sign), figures.shown(20.0, unit))
        self.assertEqual(figures.read("212", "degrees Celsius"), 100.0)
        self.assertEqual(figures.read("32 °F", "degrees Celsius"), 0.0)
        self.assertAlmostEqual(figures.read("2", "g"), 2 * 453.59237 / 16.0, 9)


class Tables(unittest.TestCase):
    LINES = ["[marks.A]", "at = [1, 2, 3]", "", "[[fabric]]", 'name = "mat 999"', "weight = 999  # by hand",
             "[marks.B]", 'A = "412 mm"', "[[fabric]]", 'name = "x"']

    def of(self, lines=None):
        return types.SimpleNamespace(FurtherTables=self.LINES if lines is None else lines)

    def test_are_cut_where_each_begins_and_nothing_is_lost(self):
        cut = tables.cut(self.LINES)
        self.assertEqual([tables.path_of(each) for each in cut], ["marks.A", "fabric", "marks.B", "fabric"])
        self.assertEqual([line for each in cut for line in each], self.LINES)
        self.assertEqual(tables.cut([]), [])
        self.assertEqual(tables.path_of(["  [[ hull.scan.tape ]]  # two"]), "hull.scan.tape")
        self.assertEqual(tables.path_of(["key = 1"]), "")

    def test_of_a_kind_are_told_with_their_values(self):
        self.assertEqual(tables.all_of(self.of(), "marks"),
                         [{"name": "A", "at": [1, 2, 3]}, {"name": "B", "A": "412 mm"}])
        self.assertEqual([each["name"] for each in tables.all_of(self.of(), "fabric")], ["mat 999", "x"])

    def test_one_is_changed_or_taken_out_and_the_others_stay(self):
        fabric = tomllib.loads("\n".join(tables.changed(self.of(), "fabric", 1, {"name": "y", "weight": 3.5})))
        self.assertEqual(fabric["fabric"], [{"name": "mat 999", "weight": 999}, {"name": "y", "weight": 3.5}])
        self.assertEqual(set(fabric["marks"]), {"A", "B"})
        without = tomllib.loads("\n".join(tables.changed(self.of(), "marks", 0, None)))
        self.assertEqual(set(without["marks"]), {"B"})
        self.assertEqual(len(without["fabric"]), 2)
        self.assertEqual(tables.changed(self.of(), "marks", 7, None), self.LINES)

    def test_one_more_is_read_back_whatever_it_holds(self):
        told = {"name": "C", "at": [1.0, 2.0, 3.0], "side": 'a "b"', "A": "1 m", "used": True}
        more = tables.with_one(self.of(), "marks", told)
        self.assertEqual(tables.all_of(self.of(more), "marks")[-1], told)
        self.assertEqual(tomllib.loads("\n".join(more))["marks"]["C"],
                         {key: value for key, value in told.items() if key != "name"})
        self.assertEqual(tables.written("damage.scan", {"model": "a.ply"})[0], "[damage.scan]")

    def test_a_new_mark_has_a_letter_of_its_own(self):
        self.assertEqual(tables.new_mark(self.of([])), "A")
        self.assertEqual(tables.new_mark(self.of()), "C")
        every = [f"[marks.{letter}]" for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
        self.assertEqual(tables.new_mark(self.of(every)), "A1")


class Boat(unittest.TestCase):
    def named(self, *labels):
        return boat_job.names_of([types.SimpleNamespace(Label=label) for label in labels])

    def test_names_are_letters_and_figures_and_all_different(self):
        # Files and pieces bear them: case alone does not tell two apart everywhere, and two names are the boat's.
        self.assertEqual(self.named("Port bow", "port-BOW", "rolls", "Möwe/1", "", "../..", "x" * 50),
                         ["Port-bow", "port-BOW-2", "rolls-2", "M-we-1", "R", "R-2", "x" * 36])
        self.assertEqual(self.named("a", "a", "a", "a-2"), ["a", "a-2", "a-3", "a-2-2"])

    def test_says_once_what_is_the_boats_and_of_each_place_its_own(self):
        lines = ["[[fabric]]", 'name = "mat 999"', "weight = 999"]
        first = repair(Label="port", Ratio=10.0, Temperature=15.0, FurtherTables=lines)
        second = repair(Label="stern", Temperature=15.0, FurtherTables=lines, Title="The stern")
        for of in (first, second):
            of.Depth = types.SimpleNamespace(Value=6.0)
        told = tomllib.loads(boat_job.boat_text([first, second], "Curlew", "hull.brep", ""))
        self.assertEqual(told["title"], "Curlew")
        self.assertEqual(told["shop"], {"temperature": 15.0})
        self.assertEqual(told["fabric"], [{"name": "mat 999", "weight": 999}], "both say the same cloth: once")
        self.assertEqual([place["name"] for place in told["repair"]], ["port", "stern"])
        self.assertEqual([place["title"] for place in told["repair"]], ["port", "The stern"])
        self.assertEqual(told["repair"][0]["scarf"], {"ratio": 10.0})
        self.assertNotIn("scarf", told["repair"][1])
        self.assertEqual(len(told["repair"][1]["damage"]["outline"]), 3)
        self.assertNotIn("damage", told)

    def test_repairs_that_say_two_things_of_one_boat_are_refused_with_both(self):
        first, second = repair(Label="port", Temperature=15.0), repair(Label="stern", Temperature=20.5)
        for of in (first, second):
            of.Depth = types.SimpleNamespace(Value=6.0)
        with self.assertRaisesRegex(boat_job.Differ, r"port and stern differ in \[shop\]: temperature = 15.0 / "
                                                     r"temperature = 20.5\. "):
            boat_job.boat_text([first, second], "Curlew", "hull.brep", "")


class Handles(unittest.TestCase):
    SQUARE = [Vector(0, 0), Vector(100, 0), Vector(100, 100), Vector(0, 100)]

    def curve(self, outline, step=5.0):
        """The outline as it is drawn, dense."""
        dense = []
        for a, b in zip(outline, outline[1:] + outline[:1]):
            steps = max(1, round(a.distanceToPoint(b) / step))
            dense += [Vector(a.x + (b.x - a.x) * k / steps, a.y + (b.y - a.y) * k / steps) for k in range(steps)]
        return dense

    def test_a_point_beside_the_curve_belongs_between_its_neighbours(self):
        # By hand: beside the middle of side k, between corner k and the next; whichever way the curve runs and
        # wherever it begins.
        beside = [Vector(50, -3), Vector(103, 40), Vector(60, 104), Vector(2, 50)]
        dense = self.curve(self.SQUARE)
        for begin in (0, 7, 33, 61):
            for curve in (dense[begin:] + dense[:begin], (dense[begin:] + dense[:begin])[::-1]):
                for side, point in enumerate(beside):
                    self.assertEqual(handles.place_in_outline(self.SQUARE, curve, point), side + 1, (begin, side))

    def test_of_three_points_each_side_is_found_both_ways_round(self):
        triangle = self.SQUARE[:3]
        for curve in (self.curve(triangle), self.curve(triangle)[::-1]):
            for side, point in enumerate((Vector(50, -1), Vector(101, 50), Vector(50, 52))):
                self.assertEqual(handles.place_in_outline(triangle, curve, point), side + 1)

    def test_clicks_and_drags_change_one_point(self):
        of = repair(Outline=list(self.SQUARE))
        marked = handles.handles_of(of)
        draft = types.SimpleNamespace(outline=self.curve(self.SQUARE))
        new = Vector(50, -3)
        marked.click(new, draft, True)
        self.assertEqual(of.Outline, [self.SQUARE[0], new, *self.SQUARE[1:]])
        marked.delete(1)
        self.assertEqual(of.Outline, self.SQUARE)
        marked.drag(3, new)
        self.assertEqual(of.Outline, [*self.SQUARE[:3], new])
        marked.click(new, draft, False)
        self.assertEqual(len(of.Outline), 5)

    def test_the_rim_of_a_disc_is_pulled_to_a_radius_and_of_an_ellipse_to_a_length(self):
        of = repair(DamageShape="disc", Centred=True, Centre=Vector(10, 0, 0))
        handles.handles_of(of).drag(1, Vector(10, 55, 0))
        self.assertEqual(of.Radius, 55.0)
        of.DamageShape = "ellipse"
        handles.handles_of(of).drag(1, Vector(110, 0, 0))
        handles.handles_of(of).drag(2, Vector(10, 0, 30))
        self.assertEqual((of.Length, of.Height), (200.0, 60.0))
        handles.handles_of(of).drag(2, of.Centre)
        self.assertEqual(of.Height, 2.0, "never nothing")
        handles.handles_of(of).delete(0)
        self.assertEqual(handles.handles_of(of).handles(types.SimpleNamespace(outline=[])), [])


def mesh_file(**arrays):
    """Arrays as a piece's file has them (core/formats/piece_mesh.h): a line of JSON, then their bytes."""
    entries, body = [], b""
    for name, numbers in arrays.items():
        rows = numpy.asarray(numbers)
        kind = "int32" if rows.dtype.kind == "i" else "float64"
        rows = rows.astype("<i4" if kind == "int32" else "<f8")
        entries.append({"name": name, "shape": [len(rows), rows.size // max(len(rows), 1)], "type": kind,
                        "offset": len(body)})
        body += rows.tobytes()
    return json.dumps({"arrays": entries}).encode() + b"\n" + body


class Light(unittest.TestCase):
    """What a document keeps of a piece: what is drawn, as finely as it is told to be."""

    def test_places_are_off_by_half_a_part_and_figures_by_half_a_digit(self):
        draw = numpy.random.default_rng(START)
        base = draw.uniform(-20000, 20000, (500, 3))
        strain = draw.uniform(-0.05, 0.05, (400, 2)) * 10.0 ** draw.integers(-6, 1, (400, 1))
        faces = draw.integers(0, 500, (400, 3))
        kept = pieces.read_arrays(pieces.light(mesh_file(base=base, lay=base, triangles=faces, strain=strain)))
        self.assertEqual(set(kept), {"base", "triangles", "strain"}, "lay is not drawn")
        self.assertLessEqual(numpy.abs(pieces.rows(kept["base"]) - base).max(), 0.5 / 256 + 1e-12)
        self.assertTrue((pieces.rows(kept["triangles"]) == faces).all())
        off = numpy.abs(pieces.rows(kept["strain"], 2) - strain)
        self.assertLessEqual((off / numpy.abs(strain)).max(), 2.0 ** -10 + 1e-9)

    def test_large_meshes_and_none_come_back_whole(self):
        faces = numpy.array([[0, 1, 70000], [65535, 65536, 2]])
        kept = pieces.read_arrays(pieces.light(mesh_file(triangles=faces, depth=numpy.array([0.0, -0.0, 1e-300]))))
        self.assertTrue((pieces.rows(kept["triangles"]) == faces).all())
        self.assertTrue(numpy.allclose(kept["depth"], 0.0, atol=1e-30))
        empty = pieces.read_arrays(pieces.light(mesh_file(triangles=numpy.empty((0, 3), int), base=numpy.empty((0, 3)))))
        self.assertEqual([len(each) for each in empty.values()], [0, 0])

    def test_what_is_light_stays_as_it_is(self):
        once = pieces.light(mesh_file(base=numpy.array([[1 / 3, 2.0, -3.7]]), triangles=numpy.array([[0, 0, 0]])))
        self.assertEqual(pieces.read_arrays(pieces.light(once)), pieces.read_arrays(once))


class GuideLines(unittest.TestCase):
    def test_each_ring_lies_where_it_is_on_the_hull(self):
        def region(k):
            return {"outline_3d": [{"outer": [k], "holes": [[-k]]}]}
        rings = [{"ply": number, "text": str(number)} for number in (0, 2, -1, -2, -3)]
        plan = {"plies": [{"number": 2, "outlines_3d": region(2)["outline_3d"]}], "damage": {"outline_3d": [[0]]},
                "scarf": region(7), "footprint": region(9), "grind_guide": {"rings": rings}}
        told = dict(laid.guide_lines(plan))
        self.assertEqual(told, {"0": [[[0]]], "2": [[2], [-2]], "-1": [[7], [-7]], "-2": [[9], [-9]]})
        self.assertNotIn("-3", told, "what is steep there has no line on the hull, least of all the outermost")

    def test_a_card_stands_on_the_hull_across_its_section(self):
        # By hand: a section at 90 degrees runs along y, its heights along the normal, from the middle on.
        frame = {"middle": [10, 20, 30], "x": [1, 0, 0], "y": [0, 1, 0], "normal": [0, 0, 1]}
        edge, outline = laid._card({"angle_deg": 90.0, "edge": [[-5, 1], [0, 2], [5, 0]]}, frame)
        numpy.testing.assert_allclose(edge, [[10, 15, 31], [10, 20, 32], [10, 25, 30]], atol=1e-12)
        numpy.testing.assert_allclose(outline[3:], [[10, 25, 92], [10, 15, 92]], atol=1e-12)


class WrittenToml(unittest.TestCase):
    def test_any_value_comes_back(self):
        draw = random.Random(START)

        def value(depth=0):
            kind = draw.randrange(7 if depth < 2 else 4)
            if kind == 0:
                return draw.choice([True, False])
            if kind == 1:
                return draw.randrange(-999, 999)
            if kind == 2:
                return draw.uniform(-1e6, 1e6)
            if kind == 3:
                return "".join(draw.choice('ab "\\\n\tλ#=[]{},') for _ in range(draw.randrange(8)))
            if kind == 4:
                return [value(depth + 1) for _ in range(draw.randrange(4))]
            return {draw.choice(["a", "b c", "d-1", "é", "x.y"]): value(depth + 1) for _ in range(draw.randrange(3))}

        for _ in range(500):
            given = value()
            self.assertEqual(tomllib.loads("v = " + toml.written(given))["v"], given)

    def test_one_line_values_are_read_as_tomllib_reads_them(self):
        for text in ("1", "-2.5", "true", '"a b"', "[1, 2]", '{A = "1 m", B = 2}', '{"a b" = 1, c = [1, 2]}',
                     '[{a = 1}, {b = 2}]', '"a = b"'):
            self.assertEqual(toml.read(text), tomllib.loads("v = " + text)["v"], text)
        self.assertEqual(toml.read("1979-05-27"), "1979-05-27")


if __name__ == "__main__":
    unittest.main()
