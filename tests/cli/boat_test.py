#!/usr/bin/env python3
"""Several places of one boat, as a user runs it: sums, the one nest, shared cups, refusals, threads.

Expected values come from the plans of the places themselves, summed anew here; from what a job of
that place alone gives (a second route); or from the rules of core/DEFINITIONS.md, Boats.
"""
import collections
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
from closed_lines import to_loop  # noqa: E402
from closed_schema import closed  # noqa: E402
from pdf_text import text_of  # noqa: E402

jsonschema = system_python.module("jsonschema")
ezdxf = system_python.module("ezdxf")
TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
SAMPLES = SOURCE / "sample-models"
SAMPLE = SAMPLES / "boats" / "curlew-refit.toml"

# A flat panel, 1500 x 1000 about the origin, facing +y: places are told by x and z.
PANEL = f"""
title = "Panel"
[hull]
model = "{SAMPLES / 'panel.step'}"
bow = [1, 0, 0]
up = [0, 0, 1]
outward = "as modelled"
skin = "9 mm"
[resin]
kind = "polyester"
hardener_percent = 1.25
gel_minutes = 25
gel_at = {{temperature = 20, percent = 1.25, mass = "100 g"}}
[damage]
depth = "2 mm"
radius = "15 mm"
[layup]
fill = "mat 300"
cover = ["mat 300"]
"""


def place(x, z, more="", name=None):
    return ("[[repair]]\n" + (f'name = "{name}"\n' if name else "") + more +
            f"\ndamage.centre = [{x}, 0, {z}]\n")


def run(job, *words, cpus=None):
    command = [TEARLINE, "plan", str(job), *words]
    if cpus:
        command = ["taskset", "-c", cpus, *command]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=300)


class Room(unittest.TestCase):
    def setUp(self):
        self.room = pathlib.Path(self.enterContext(tempfile.TemporaryDirectory()))

    def plan(self, text, *words, status=0, top=PANEL):
        job = self.room / "boat.toml"
        # Keys of the boat itself stand before the first table.
        job.write_text(text if top is None else top + text, encoding="utf-8")
        self.out = self.room / "out"
        done = run(job, "-o", str(self.out), "--format", "svg,dxf", *words)
        self.assertEqual(done.returncode, status, done.stderr)
        self.said = done.stderr
        if not (self.out / "plan.json").exists():
            return None
        return json.loads((self.out / "plan.json").read_text("utf-8"))

    def refused(self, text, *words, top=PANEL):
        """Bad input: nothing written, one line."""
        self.plan(text, status=3, top=top)
        self.assertFalse(self.out.exists())
        self.assertEqual(len(self.said.strip().splitlines()), 1, self.said)
        for word in words:
            self.assertIn(word, self.said)

    def own(self, name):
        return json.loads((self.out / name / "plan.json").read_text("utf-8"))


class Sample(unittest.TestCase):
    """The boat of eight places."""

    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.out = pathlib.Path(cls.room.name) / "refit"
        done = run(SAMPLE, "-o", str(cls.out))
        assert done.returncode == 0, done.stderr
        cls.boat = json.loads((cls.out / "plan.json").read_text("utf-8"))
        cls.plans = {repair["name"]: json.loads((cls.out / repair["plan"]).read_text("utf-8"))
                     for repair in cls.boat["repairs"]}
        cls.sheet = (cls.out / "job-sheet.html").read_text("utf-8")

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def test_eight_places_each_with_a_folder_as_a_plan_writes(self):
        self.assertEqual(self.boat["schema"], "tearline-boat/1")
        self.assertEqual(len(self.plans), 8)
        for name, plan in self.plans.items():
            self.assertEqual(plan["schema"], "tearline-plan/1")
            self.assertEqual(plan["job"]["repair"], name)
            for file in ("overview.svg", "job-sheet.html", "templates.dxf"):
                self.assertTrue((self.out / name / file).is_file(), f"{name}/{file}")

    def test_it_is_as_its_schema_says(self):
        formats = SOURCE / "core" / "formats"
        plan = json.loads((formats / "plan.schema.json").read_text("utf-8"))
        schema = json.loads((formats / "boat.schema.json").read_text("utf-8"))
        resolver = jsonschema.RefResolver("", schema, store={"plan.schema.json": plan})
        found = jsonschema.Draft202012Validator(closed(schema), resolver=resolver)
        self.assertEqual([e.message[:200] for e in found.iter_errors(self.boat)], [])
        own = jsonschema.Draft202012Validator(closed(plan))
        for one in self.plans.values():
            self.assertEqual([e.message[:200] for e in own.iter_errors(one)], [])

    def test_totals_are_the_sums_of_the_plans(self):
        for key, total in self.boat["totals"].items():
            parts = [plan["totals"][key] for plan in self.plans.values()]
            parts = [part for part in parts if part is not None]
            self.assertTrue(math.isclose(total, sum(parts), rel_tol=1e-9), key)

    def test_totals_of_a_repair_are_those_of_its_plan(self):
        for repair in self.boat["repairs"]:
            self.assertEqual(repair["totals"], self.plans[repair["name"]]["totals"])

    def test_every_piece_of_every_place_lies_once_in_the_nest(self):
        wanted = collections.Counter(f"{name}-{piece['id']}" for name, plan in self.plans.items()
                                     for ply in plan["plies"] for piece in ply["pieces"])
        laid = collections.Counter(place["piece"] for part in ("rolls", "remnants")
                                   for cloth in self.boat[part] for place in cloth["placed"])
        self.assertEqual(laid, wanted)

    def test_no_two_pieces_of_a_cloth_overlap(self):
        overlaps = overlapping(self.boat, self.plans)
        self.assertEqual(overlaps, [])

    def test_the_remnant_comes_before_the_roll(self):
        remnant = self.boat["remnants"][0]
        self.assertGreater(len(remnant["placed"]), 0)
        self.assertEqual(outside_remnant(remnant, self.plans), [])

    def test_the_name_stands_on_every_template_and_sheet(self):
        for name in self.plans:
            templates = list((self.out / name / "templates").glob("*.svg"))
            self.assertTrue(templates)
            for template in templates:
                self.assertIn(name, template.read_text("utf-8"), template)
            self.assertIn(name, (self.out / name / "job-sheet.html").read_text("utf-8"))

    def test_the_roll_files_hold_every_piece_by_its_name(self):
        text = "".join(file.read_text("utf-8", "replace")
                       for folder in ("rolls", "remnants")
                       for file in (self.out / folder).glob("*.dxf"))
        for part in ("rolls", "remnants"):
            for cloth in self.boat[part]:
                for place in cloth["placed"]:
                    self.assertIn(f"Piece Name: {place['piece']}", text)

    def test_cups_hold_all_resin(self):
        """Cups of the places and the shared ones together hold totals.resin_g, as one plan's do."""
        held = sum(cup["cup"]["resin_g"] for cup in self.boat["cups"])
        for plan in self.plans.values():
            for stage in plan["stages"]:
                if "boat_cup" not in stage:
                    held += sum(cup["resin_g"] for cup in stage["cups"])
        self.assertTrue(math.isclose(held, self.boat["totals"]["resin_g"], rel_tol=1e-6), held)

    def test_a_shared_cup_stands_in_one_place(self):
        self.assertGreater(len(self.boat["cups"]), 0)
        for shared in self.boat["cups"]:
            cup, takes = shared["cup"], shared["takes"]
            self.assertGreater(len({take["repair"] for take in takes}), 1)
            self.assertTrue(math.isclose(sum(take["resin_g"] for take in takes), cup["resin_g"]))
            # Spread at 0.05 m2 a minute within 0.6 of 25 minutes (core/SOURCES.md, defaults).
            self.assertLessEqual(sum(take["area_m2"] for take in takes), 0.05 * 0.6 * 25 + 1e-9)
            self.assertLessEqual(cup["mix_resin_g"], 250 + 1e-6)
            self.assertIn(f"<b>Cup {shared['number']}</b>", self.sheet)
            for take in takes:
                plan = self.plans[take["repair"]]
                stage = plan["stages"][take["stage"] - 1]
                self.assertEqual(stage["boat_cup"], shared["number"])
                self.assertEqual([c["mix_resin_g"] for c in stage["cups"]], [0])
                own = (self.out / take["repair"] / "job-sheet.html").read_text("utf-8")
                self.assertIn(f"Boat sheet, cup {shared['number']}", own)

    def test_a_place_whose_cups_are_all_shared_prints_no_dose_of_resin(self):
        alone = [name for name, plan in self.plans.items()
                 if all("boat_cup" in stage for stage in plan["stages"])]
        self.assertTrue(alone)
        for name in alone:
            own = (self.out / name / "job-sheet.html").read_text("utf-8")
            table = own[own.index('class="cups"'):]
            table = table[:table.index("Last: topcoat")]
            self.assertNotIn("cup 1 of", table)

    def test_every_stage_stands_once_in_the_order_of_work(self):
        seen = collections.Counter()
        last = {}
        for number, part in enumerate(self.boat["order"]):
            for go in part["goes"]:
                for stage in go["stages"]:
                    seen[go["repair"], stage] += 1
                    # In the order of its own plan, never before the one it lies on.
                    self.assertGreaterEqual(stage, last.get(go["repair"], 0))
                    last[go["repair"]] = stage
                self.assertGreater(go["minutes"], 0)
        laid = {(name, i + 1) for name, plan in self.plans.items() if name != "rock-hole"
                for i in range(len(plan["stages"]))}
        self.assertTrue(laid <= set(seen))
        self.assertEqual(set(seen.values()), {1})

    def test_a_place_alone_gives_the_same_geometry(self):
        """A second route: the chine as a job of its own."""
        with tempfile.TemporaryDirectory() as folder:
            job = pathlib.Path(folder) / "job.toml"
            text = (SAMPLES / "curlew.toml").read_text("utf-8")
            text = text.replace('"curlew.step"', f'"{SAMPLES / "curlew.step"}"')
            job.write_text(text, encoding="utf-8")
            done = run(job, "--json")
        self.assertEqual(done.returncode, 0, done.stderr)
        alone, here = json.loads(done.stdout), self.plans["chine"]
        self.assertEqual(alone["damage"], here["damage"])
        self.assertEqual(alone["scarf"], here["scarf"])
        for a, b in zip(alone["plies"], here["plies"], strict=True):
            for one, other in zip(a["pieces"], b["pieces"], strict=True):
                self.assertEqual(one["net_line"], other["net_line"])

    def test_shopping_has_one_line_a_thing(self):
        items = self.boat["shopping"]["items"]
        names = [(item["kind"], item["name"]) for item in items]
        self.assertEqual(len(names), len(set(names)))
        for roll in self.boat["rolls"]:
            metres = [item["amount"] for item in items
                      if item["kind"] == "cloth" and item["name"] == roll["fabric"]]
            self.assertEqual(len(metres), 1)
            self.assertTrue(math.isclose(metres[0], roll["length_mm"] / 1000))
        # Resin and hardener: all cups and one test cup, of 1.25 %.
        resin = next(item for item in items if item["kind"] == "resin")
        mixed = self.boat["totals"]["resin_g"] + self.boat["test_cup"]["mix_resin_g"]
        mixed += sum(cup["cup"]["left_g"] for cup in self.boat["cups"])
        mixed += sum(cup["left_g"] for plan in self.plans.values() for stage in plan["stages"]
                     for cup in stage["cups"])
        self.assertTrue(math.isclose(resin["amount"], mixed, rel_tol=1e-6))
        self.assertEqual(resin["packs"], math.ceil(mixed / resin["pack"]))

    def test_the_same_bytes_whatever_the_number_of_threads(self):
        with tempfile.TemporaryDirectory() as folder:
            other = pathlib.Path(folder) / "refit"
            done = run(SAMPLE, "-o", str(other), cpus="0")
            self.assertEqual(done.returncode, 0, done.stderr)
            names = sorted(p.relative_to(self.out) for p in self.out.rglob("*") if p.is_file())
            self.assertEqual(names, sorted(p.relative_to(other) for p in other.rglob("*")
                                           if p.is_file()))
            for name in names:
                self.assertEqual((self.out / name).read_bytes(), (other / name).read_bytes(), name)

    def test_the_print_program_takes_the_folder(self):
        with tempfile.TemporaryDirectory() as folder:
            pdf = pathlib.Path(folder) / "all.pdf"
            done = subprocess.run([TEARLINE, "print", str(self.out), "--pdf", str(pdf)],
                                  capture_output=True, text=True, check=False, timeout=200)
            self.assertEqual(done.returncode, 0, done.stderr)
            words = text_of(pdf, "-layout")
        for name, plan in self.plans.items():
            for ply in plan["plies"]:
                for piece in ply["pieces"]:
                    self.assertIn(f"{name}-{piece['id']}", words)


# ---- geometry, by another program's polygons: even-odd sampling would miss slivers, so edges too

def turned(point, degrees, move):
    a = math.radians(degrees)
    c, s = math.cos(a), math.sin(a)
    return (c * point[0] - s * point[1] + move[0], s * point[0] + c * point[1] + move[1])


def outline_of(piece):
    return piece["tear_line"] or piece["cut_line"]


def pieces_by_name(plans):
    return {f"{name}-{piece['id']}": outline_of(piece) for name, plan in plans.items()
            for ply in plan["plies"] for piece in ply["pieces"]}


def laid_outlines(cloth, plans):
    known = pieces_by_name(plans)
    return [(place["piece"], [turned(p, place["turn_deg"], (place["x_mm"], place["y_mm"]))
                              for p in known[place["piece"]]]) for place in cloth["placed"]]


def crosses(a, b, c, d):
    def side(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def contains(loop, point):
    inside = False
    for (x0, y0), (x1, y1) in zip(loop, loop[1:] + loop[:1]):
        if (y0 > point[1]) != (y1 > point[1]):
            if point[0] < x0 + (point[1] - y0) * (x1 - x0) / (y1 - y0):
                inside = not inside
    return inside


def box(loop):
    xs, ys = [p[0] for p in loop], [p[1] for p in loop]
    return min(xs), min(ys), max(xs), max(ys)


def meet(one, other):
    a, b = box(one), box(other)
    if a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]:
        return False
    if contains(one, other[0]) or contains(other, one[0]):
        return True
    sides = list(zip(one, one[1:] + one[:1]))
    others = [(p, q) for p, q in zip(other, other[1:] + other[:1])
              if not (max(p[0], q[0]) < a[0] or min(p[0], q[0]) > a[2])]
    return any(crosses(*side, *more) for side in sides for more in others
               if not (max(side[0][0], side[1][0]) < b[0] or min(side[0][0], side[1][0]) > b[2]))


def overlapping(boat, plans):
    found = []
    for part in ("rolls", "remnants"):
        for cloth in boat[part]:
            laid = laid_outlines(cloth, plans)
            for i, (name, one) in enumerate(laid):
                found += [(name, other) for other, two in laid[i + 1:] if meet(one, two)]
    return found


def outside_remnant(remnant, plans):
    """Pieces with a point off the remnant or in a box that is kept off."""
    edge = [tuple(p) for p in remnant["outline"]]
    found = []
    for name, loop in laid_outlines(remnant, plans):
        if any(not contains(edge, p) and to_loop(p, edge) > 0.01 for p in loop):
            found.append(name)
        for kept in remnant["keep_off"]:
            if meet(loop, [tuple(p) for p in kept]):
                found.append((name, "keep_off"))
    return found


class Names(Room):
    def test_places_without_a_name_are_numbered(self):
        boat = self.plan(place(-400, 0) + place(0, 0, name="keel_2") + place(400, 0))
        self.assertEqual([repair["name"] for repair in boat["repairs"]], ["R1", "keel_2", "R3"])

    def test_names_that_are_no_folder_are_refused(self):
        for name in ("..", ".", "a/b", "ä", "a b", "R1\\u0000", "x" * 41, "rolls", "Remnants"):
            with self.subTest(name):
                self.refused(place(0, 0, name=name), "boat.toml:", "repair[1].name")

    def test_twins_are_refused_whatever_their_case(self):
        self.refused(place(-300, 0, name="Keel") + place(300, 0, name="keel"), "keel", "Keel")
        self.refused(place(-300, 0, name="R2") + place(300, 0), "R2")


class Keys(Room):
    def test_what_is_shared_is_refused_in_a_place(self):
        for table in ("hull", "resin", "shop", "laminator", "prices", "marks"):
            with self.subTest(table):
                self.refused(place(0, 0) + f"[repair.{table}]\nx = 1\n", f"repair[1].{table}",
                             "whole boat")
        self.refused(place(0, 0) + '[[repair.fabric]]\nname = "mat 300"\n', "repair[1].fabric")

    def test_unknown_keys_are_named_with_the_nearest(self):
        self.refused(place(0, 0, more="copyes = 2"), "copyes", "copies")
        self.refused("repairs = 1\n" + PANEL + place(0, 0), "repairs", "repair", top=None)

    def test_a_wrong_value_is_told_with_its_place_and_line(self):
        text = place(-300, 0) + place(300, 0, name="bow", more="damage.depth = -1")
        line = (PANEL + text).splitlines().index("damage.depth = -1") + 1
        self.refused(text, f"boat.toml:{line}: repair bow, damage.depth")

    def test_remnants_and_overlap_go_with_places(self):
        self.refused("allow_overlap = true\n" + PANEL, "[[repair]]", top=None)
        self.refused("[[remnant]]\n", "remnant", "[[repair]]")

    def test_any_outline_replaces_every_form_of_the_top(self):
        top = PANEL.replace('radius = "15 mm"', "outline = [[-20,0,-20],[20,0,-20],[0,0,20]]")
        boat = self.plan(place(300, 0, more="damage.radius = 12") + "[[repair]]\n", top=top)
        self.assertEqual(boat["repairs"][0]["status"], "planned")
        self.assertEqual(self.own("R1")["job"]["effective"]["damage"]["outline"], None)
        self.assertEqual(len(self.own("R2")["job"]["effective"]["damage"]["outline"]), 3)

    def test_arrays_are_replaced_whole(self):
        self.plan(place(-300, 0, more='layup.cover = ["mat 450", "mat 450"]') + place(300, 0))
        covers = {name: [ply["fabric"] for ply in self.own(name)["plies"] if ply["cover"]]
                  for name in ("R1", "R2")}
        self.assertEqual(covers, {"R1": ["mat 450", "mat 450"], "R2": ["mat 300"]})

    def test_a_stack_replaces_the_fill_of_the_top(self):
        self.plan(place(0, 0, more='layup.stack = ["mat 225", "mat 450"]'))
        stack = [ply["fabric"] for ply in self.own("R1")["plies"] if not ply["cover"]]
        self.assertEqual(stack, ["mat 225", "mat 450"])

    def test_copies_count_in_totals_nest_and_shopping(self):
        one = self.plan(place(-300, 0) + place(300, 0))
        three = self.plan(place(-300, 0, more="copies = 3") + place(300, 0))
        parts = [repair["totals"]["resin_g"] for repair in one["repairs"]]
        self.assertTrue(math.isclose(three["totals"]["resin_g"], 3 * parts[0] + parts[1]))
        count = collections.Counter(p["piece"] for r in three["rolls"] for p in r["placed"])
        self.assertEqual(count["R1-1A"], 3)
        self.assertEqual(count["R2-1A"], 1)
        self.assertEqual(three["repairs"][0]["copies"], 3)


class Refusals(Room):
    def test_one_refused_place_does_not_stop_the_others(self):
        # A fitting of 8 mm stays in a disc of 15: a scarf of 24 mm to it leaves no floor (exit 4).
        fitting = ('damage.opening = [{keep = true, centre = [300, 0, 0], radius = 8, '
                   'scarf_to = "opening"}]')
        boat = self.plan(place(-300, 0) + place(300, 0, name="fitting", more=fitting) +
                         place(0, 0), status=4)
        self.assertEqual([r["status"] for r in boat["repairs"]],
                         ["planned", "refused", "planned"])
        self.assertEqual(boat["repairs"][1]["plan"], None)
        self.assertEqual(boat["repairs"][1]["totals"], None)
        self.assertIn("scarf_to", boat["repairs"][1]["refusal"])
        self.assertFalse((self.out / "fitting").exists())
        self.assertIn("repair fitting", self.said)
        self.assertIn("NOT PLANNED", (self.out / "job-sheet.html").read_text("utf-8"))

    def test_overlapping_ground_refuses_both(self):
        boat = self.plan("allow_overlap = true\n" + PANEL + place(-20, 0) + place(20, 0) +
                         place(400, 0), status=4, top=None)
        self.assertEqual([r["status"] for r in boat["repairs"]],
                         ["refused", "refused", "planned"])
        self.assertIn("overlaps", boat["repairs"][0]["refusal"])
        self.assertIn("[[repair]]", boat["repairs"][0]["refusal"])
        self.assertFalse((self.out / "R1").exists())
        self.assertTrue((self.out / "R3").is_dir())
        self.assertIn("NOT PLANNED", (self.out / "job-sheet.html").read_text("utf-8"))
        self.assertEqual([w["repairs"] for w in boat["warnings"] if w["code"] == "repair-refused"],
                         [["R1"], ["R2"]])
        self.assertEqual(self.said.count("repair R1: "), 1)

    def test_one_place_within_another_is_refused(self):
        self.plan(place(0, 0, more="damage.radius = 120") + place(0, 0, more="damage.radius = 5"),
                  status=4)
        self.assertIn("ground", self.said)
        self.assertFalse(self.out.exists())  # none is planned: nothing is written

    def test_covers_may_lie_on_one_another_where_the_job_says_so(self):
        # Disc 15, scarf 12 x 2 = 24 to 39; the cover 25 wider and torn 20 more: 84. Closed form.
        for gap, status in ((2 * 84 + 4, 0), (2 * 84 - 4, 4), (2 * 39 + 4, 4)):
            with self.subTest(gap):
                places = place(-gap / 2, 0) + place(gap / 2, 0)
                self.plan(places + place(500, 0), status=status)
                if status == 0:
                    continue
                self.assertIn("covers or torn bands of R1 and R2 overlap", self.said)
                self.assertIn("allow_overlap", self.said)
                boat = self.plan("allow_overlap = true\n" + PANEL + places + place(500, 0),
                                 top=None)
                self.assertEqual([w["repairs"] for w in boat["warnings"]
                                  if w["code"] == "footprints-meet"], [["R1", "R2"]])
        self.plan(place(-39 + 2, 0) + place(39 - 2, 0) + place(500, 0), status=4)
        self.assertIn("the ground of R1 and R2 overlaps", self.said)

    def test_ground_on_opposite_faces_is_refused(self):
        self.plan(place(0, 0) + place(10, 0, more='damage.side = "inside"') + place(500, 0),
                  status=4)
        self.assertIn("opposite faces", self.said)
        self.plan(place(-300, 0) + place(300, 0, more='damage.side = "inside"'))

    def test_bad_input_of_one_place_writes_nothing(self):
        self.refused(place(0, 0) + place(5000, 0, name="off"), "repair off")


class Remnants(Room):
    REMNANT = '\n[[remnant]]\nfabric = "mat 300"\noutline = [[0, 0], [300, 0], [300, 250], [0, 400]]\n'

    def test_pieces_lie_on_the_remnant_and_clear_of_what_is_kept_off(self):
        boat = self.plan(place(-300, 0) + place(300, 0) + self.REMNANT +
                         "keep_off = [[0, 0, 40, 400]]\n")
        plans = {name: self.own(name) for name in ("R1", "R2")}
        self.assertGreater(len(boat["remnants"][0]["placed"]), 0)
        self.assertEqual(outside_remnant(boat["remnants"][0], plans), [])
        self.assertEqual(overlapping(boat, plans), [])

    def test_a_plotter_is_never_sent_beyond_its_home(self):
        left = self.REMNANT.replace("[[0, 0], [300, 0], [300, 250], [0, 400]]",
                                    "[[-300, -99], [0, -99], [0, 151], [-300, 301]]")
        self.assertNotEqual(left, self.REMNANT)
        self.plan(place(-300, 0) + left, "--format", "hpgl")
        pens = (self.out / "remnants" / "01-remnant-1.plt").read_text("ascii").replace("\n", "")
        moves = [re.findall(r"-?\d+", order) for order in pens.split(";") if re.match(r"P[UD]-?\d", order)]
        xs, ys = [[int(step) for move in moves for step in move[axis::2]] for axis in (0, 1)]
        # By hand, 40 steps to the millimetre: the remnant is 300 x 400 mm, its corner at the machine's home.
        self.assertEqual((min(xs), min(ys), max(xs), max(ys)), (0, 0, 12000, 16000))

    def test_a_small_one_and_one_of_another_cloth_are_told(self):
        boat = self.plan(place(0, 0) + """
[[remnant]]
name = "scrap"
fabric = "mat 300"
outline = [[0, 0], [40, 0], [0, 40]]
[[remnant]]
fabric = "mat 600"
outline = [[0, 0], [900, 0], [0, 900]]
""")
        told = [w["message"] for w in boat["warnings"] if w["code"] == "remnant-not-used"]
        self.assertEqual(len(told), 2)
        self.assertIn('"scrap"', told[0])
        self.assertIn("no place lays that cloth", told[1])
        self.assertEqual([r["placed"] for r in boat["remnants"]], [[], []])

    def test_a_locked_piece_stays_where_it_is(self):
        boat = self.plan(place(0, 0) + self.REMNANT.replace("[0, 400]]", "[0, 250]]") +
                         'locked = [{piece = "R1-1A", at = [150, 100], turn = 30}]\n')
        lies = {p["piece"]: p for p in boat["remnants"][0]["placed"]}["R1-1A"]
        self.assertAlmostEqual(lies["x_mm"], 150, places=6)
        self.assertAlmostEqual(lies["y_mm"], 100, places=6)
        self.assertAlmostEqual(lies["turn_deg"], 30, places=6)
        self.assertEqual(overlapping(boat, {"R1": self.own("R1")}), [])

    def test_a_piece_locked_wrongly_is_refused(self):
        for lock, word in (('{piece = "R1-1A", at = [0, 0]}', "hang over"),
                           ('{piece = "R9-1A", at = [150, 100]}', "R9-1A"),
                           ('{piece = "R1-1A", at = [150, 100]}, {piece = "R1-1A", at = [90, 90]}',
                            "R1-1A")):
            with self.subTest(lock):
                self.refused(place(0, 0) + self.REMNANT + f"locked = [{lock}]\n", word)

    def test_cloth_needs_its_roll_and_its_face(self):
        cloth = self.REMNANT.replace("mat 300", "roving 600")
        self.refused(place(0, 0) + cloth, "remnant[1].roll_direction")
        self.refused(place(0, 0) + cloth + "roll_direction = 0\n", "remnant[1].face")

    def test_cloth_lies_along_the_roll_of_the_remnant(self):
        fill = 'layup.stack = ["mat 300", {fabric = "roving 600", axis = 0}]'
        for face in ("up", "down"):
            boat = self.plan(place(0, 0, more=fill) + """
[[remnant]]
fabric = "roving 600"
outline = [[0, 0], [500, 0], [500, 400], [0, 500]]
roll_direction = 30
face = "%s"
""" % face)
            laid = boat["remnants"][0]["placed"]
            self.assertEqual(len(laid), 1)
            warp = next(piece["warp_deg"] for ply in self.own("R1")["plies"]
                        for piece in ply["pieces"] if f"R1-{piece['id']}" == laid[0]["piece"])
            # Turned by its place the warp lies along the roll, which seen from the other face runs
            # at 180 - 30.
            along = {"up": 30, "down": 150}[face]
            off = (warp + laid[0]["turn_deg"] - along) % 180
            self.assertAlmostEqual(min(off, 180 - off), 0, places=6)

    def test_outlines_that_are_none_are_refused(self):
        for outline, word in (("[[0, 0], [10, 10]]", "3 points"),
                              ("[[0, 0], [300, 300], [300, 0], [0, 300]]", "crosses itself"),
                              ("[[0, 0], [5, 0], [0, 5]]", "1 cm2")):
            with self.subTest(outline):
                self.refused(place(0, 0) + '[[remnant]]\nfabric = "mat 300"\noutline = ' + outline,
                             word)
        self.refused(place(0, 0) + '[[remnant]]\nfabric = "mat 300"\n', "remnant[1].outline")
        self.refused(place(0, 0) + '[[remnant]]\nfabric = "mat 301"\noutline = [[0,0],[9,0],[0,9]]',
                     "mat 300")
        self.refused(place(0, 0) + '[[remnant]]\nfabric = "mat 300"\nmodel = "none.dxf"\n',
                     "none.dxf")

    def test_a_dxf_of_our_own_comes_back(self):
        """What the program writes of a remnant it reads: a roll's file has many outlines, and says so."""
        drawing = ezdxf.new("R2000")
        drawing.modelspace().add_lwpolyline([(0, 0, 0), (10, 0, 0), (10, 8, 1), (0, 8, 0)],
                                            format="xyb", close=True)
        drawing.saveas(self.room / "left.dxf")
        remnant = '[[remnant]]\nfabric = "mat 300"\nmodel = "left.dxf"\n'
        self.refused(place(0, 0) + remnant, 'unit = "m"')  # what ezdxf writes in the header of a new drawing
        boat = self.plan(place(0, 0) + remnant + 'unit = "in"\n')
        outline = boat["remnants"][0]["outline"]
        twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1)
                    in zip(outline, outline[1:] + outline[:1]))
        # 10 x 8 in and half a disc of 5 in radius, whose chords lose under 1 %.
        inches = twice / 2 / 25.4 ** 2
        self.assertAlmostEqual(inches, 80 + 12.5 * math.pi, delta=0.1)


class Elsewhere(Room):
    def test_other_commands_say_what_takes_a_boat(self):
        job = self.room / "boat.toml"
        job.write_text(PANEL + place(0, 0), encoding="utf-8")
        for words in (["plan", str(job), "--vary", "scarf.ratio=8,12"],
                      ["look", str(job), "-o", str(self.room / "page.html")]):
            done = subprocess.run([TEARLINE, *words], capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 3, done.stderr)
            self.assertIn("tearline plan ", done.stderr)
        (self.room / "jobs.txt").write_text("boat.toml\n", encoding="utf-8")
        subprocess.run([TEARLINE, "batch", str(self.room / "jobs.txt"), "-o",
                        str(self.room / "batch")], capture_output=True, text=True, check=False)
        line = json.loads((self.room / "batch" / "results.jsonl").read_text("utf-8"))
        self.assertEqual(line["status"], 3)
        self.assertIn("boat", line["message"])

    def test_after_is_refused(self):
        job = self.room / "boat.toml"
        job.write_text(PANEL + place(0, 0), encoding="utf-8")
        done = run(job, "--json", "--after", "2")
        self.assertEqual(done.returncode, 3)
        self.assertIn("--after", done.stderr)

    def test_a_folder_of_a_boat_is_replaced_and_an_edited_one_kept(self):
        self.plan(place(-300, 0) + place(300, 0))
        self.plan(place(-300, 0))
        self.assertFalse((self.out / "R2").exists())
        (self.out / "R1" / "plan.json").write_text("{}", encoding="utf-8")
        self.plan(place(-300, 0), status=5)
        self.assertIn("plan.json", self.said)

    def test_without_a_pot_life_no_cup_is_shared(self):
        top = re.sub(r"gel_.*\n", "", PANEL)
        boat = self.plan(place(-300, 0) + place(300, 0), top=top)
        self.assertEqual(boat["cups"], [])
        self.assertIn("no-cup-shared", [w["code"] for w in boat["warnings"]])

    def test_json_alone_writes_the_boat_to_stdout(self):
        job = self.room / "boat.toml"
        job.write_text(PANEL + place(-300, 0) + place(300, 0), encoding="utf-8")
        done = run(job, "--json")
        self.assertEqual(json.loads(done.stdout)["schema"], "tearline-boat/1")


if __name__ == "__main__":
    unittest.main(verbosity=2)
