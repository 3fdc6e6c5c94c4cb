"""Corners and fillets told by their few figures, against the closed forms of planes and a cylinder
unrolled: deck to coaming, hull to deck, hull to transom.

Runs the program that TEARLINE names.
"""

import json
import math
import os
import re
import resource
import subprocess
import tempfile
import unittest
from pathlib import Path

TEARLINE = os.environ["TEARLINE"]
MAT = 1.05078125  # mm of mat 450: 0.45 (2.56/0.30 - 1.36)/3.072, SOURCES.md section 2
DEEP = 4 * MAT
DISC, APART, FLAT = 60.0, 520.0, 320.0
SLOWEST = 2.0  # s of processor time a plan: others may use the machine
FACING = "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\n"


def corner(radius, angle, convex, more=""):
    return (f"[hull.corner]\nradius = {radius}\nangle = {angle}\n"
            f"convex = {str(convex).lower()}\nflats = [{FLAT}, {FLAT}]\nlength = 1000\n{more}")


def layup(more=""):
    return ('[scarf]\nratio = 12\n[layup]\nfill = "mat 450"\ncover = []\n' + more +
            "[resin]\nhardener_percent = 1.25\n")


MARKS = f"[marks.A]\n[marks.B]\nA = {APART}\n"


def ring(count=12, radius=DISC):
    """Points of a ring across the bend in the unrolled plane: along, round."""
    return [(radius * math.cos(2 * math.pi * (i + 0.5) / count),
             radius * math.sin(2 * math.pi * (i + 0.5) / count)) for i in range(count)]


def by_tape(points, sides=("up", "down")):
    """The same as tapes from A and B, which are straight on a surface that unrolls."""
    return "outline = [" + ", ".join(
        f'{{A = {math.hypot(x + APART / 2, s):.6f}, B = {math.hypot(x - APART / 2, s):.6f}, '
        f'side = "{sides[0] if s > 0 else sides[1]}"}}' for x, s in points) + (
            ']\njoin = "straight"\n')


def off_ring(x, s, count=12):
    """How far a place lies outside the ring's straight sides, which are straight unrolled."""
    return max(x * math.cos(2 * math.pi * i / count) + s * math.sin(2 * math.pi * i / count)
               for i in range(count)) - DISC * math.cos(math.pi / count)


def place(along, round_, radius, angle, convex):
    """The closed form: a place of the corner, straight on the flats, an arc between."""
    half = math.radians(angle) / 2
    sign = -1.0 if convex else 1.0
    turn = max(-half, min(half, round_ / radius))
    flat = round_ - turn * radius
    return (along, radius * math.sin(turn) + flat * math.cos(turn),
            sign * (radius * (1 - math.cos(turn)) + abs(flat) * math.sin(abs(turn))))


def unrolled(p, radius, angle, convex):
    """Its inverse: how far along and round a place of the corner lies."""
    half = math.radians(angle) / 2
    end, edge = radius * math.sin(half), radius * half
    x, y, z = p
    if abs(y) <= end:
        return x, radius * math.asin(y / radius)
    rise = abs(z) - radius * (1 - math.cos(half))
    return x, math.copysign(edge + math.hypot(abs(y) - end, rise), y)


def crossings(points):
    """Where a closed line crosses x = 0: the other coordinate."""
    found = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1]):
        if (x0 > 0) != (x1 > 0):
            found.append(y0 + (y1 - y0) * x0 / (x0 - x1))
    return sorted(found)


class Case(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)

    def run_job(self, text):
        job = Path(self.temporary.name) / "job.toml"
        job.write_text(text, encoding="utf-8")
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run([TEARLINE, "plan", str(job), "--json"], capture_output=True,
                              text=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        self.seconds = (after.ru_utime + after.ru_stime) - (before.ru_utime + before.ru_stime)
        return done

    def plan(self, text):
        done = self.run_job(text)
        self.assertEqual(done.returncode, 0, done.stderr + text)
        return json.loads(done.stdout)

    def refused(self, text, status=3):
        done = self.run_job(text)
        self.assertEqual(done.returncode, status, done.stderr + text)
        return done.stderr


class EighteenCorners(Case):
    def check(self, radius, angle, convex):
        shape = (radius, angle, convex)
        plan = self.plan(FACING + corner(*shape) + MARKS + "[damage]\n" + by_tape(ring()) +
                         f"depth = {DEEP}\n" + layup())
        self.assertLess(self.seconds, SLOWEST)
        # Marks half their distance aft and forward on the middle of the bend.
        self.assertEqual([m["name"] for m in plan["marks"]], ["A", "B"])
        for mark, x in zip(plan["marks"], (-APART / 2, APART / 2)):
            self.assertLess(math.dist(mark["at"], (x, 0, 0)), 0.01)
        # Tapes round the bend end where the closed form has them.
        on_hull = plan["damage"]["outline_3d"]
        for x, s in ring():
            here = place(x, s, *shape)
            self.assertLess(min(math.dist(here, p) for p in on_hull), 0.05)
        for p in on_hull:
            self.assertAlmostEqual(off_ring(*unrolled(p, *shape)), 0.0, delta=0.05)
        self.assertEqual(len(plan["plies"]), 4)
        turn = math.radians(angle)
        for ply in plan["plies"]:
            depth = ply["lay_depth_mm"]
            self.assertAlmostEqual(depth, (4 - ply["number"] + 0.5) * MAT, places=6)
            base = crossings([unrolled(p, *shape) for p in ply["outlines_3d"][0]["outer"]])
            self.assertEqual(len(ply["pieces"]), 1)
            flat = crossings(ply["pieces"][0]["net_line"])
            self.assertEqual((len(base), len(flat)), (2, 2))
            # Girth of the bend at depth d: (radius - d) turn where it bulges, (radius + d) turn in a
            # hollow; straight on the flats.
            girth = base[1] - base[0] + (-depth if convex else depth) * turn
            self.assertAlmostEqual(flat[1] - flat[0], girth, delta=0.1)
            # Planes and a cylinder unroll without strain.
            self.assertLess(ply["pieces"][0]["strain"]["max"], 1e-3)

    def test_girths_are_those_of_the_closed_forms(self):
        for radius in (15, 20, 30):
            for angle in (60, 90, 120):
                for convex in (True, False):
                    with self.subTest(radius=radius, angle=angle, convex=convex):
                        self.check(radius, angle, convex)


class OtherWays(Case):
    def test_points_go_along_and_round_by_tape(self):
        shape = (20, 90, True)
        rows = ", ".join(f"[{x:.6f}, {s:.6f}]" for x, s in ring())
        taped = self.plan(FACING + corner(*shape) + MARKS + "[damage]\n" + by_tape(ring()) +
                          f"depth = {DEEP}\n" + layup())
        told = self.plan(FACING + corner(*shape) + f"[damage]\noutline = [{rows}]\n"
                         'join = "straight"\n'
                         f"depth = {DEEP}\n" + layup())
        for a, b in zip(taped["damage"]["outline_3d"], told["damage"]["outline_3d"]):
            self.assertLess(math.dist(a, b), 0.05)
        marks = self.plan(FACING + corner(*shape) + "[marks.A]\nat = [-260, 0]\n[marks.B]\n"
                          "at = [260, 10]\n[damage]\ncentre = [0, 0]\nradius = 60\n"
                          f"depth = {DEEP}\n" + layup())["marks"]
        self.assertLess(math.dist(marks[1]["at"], place(260, 10, *shape)), 0.01)

    def test_a_narrow_bend_between_wide_flats_is_no_tube(self):
        # The whole corner, 1000 mm long, is laid out to find a place by [along, round]: a bend of 21 mm (20, and
        # 1 mm more to tell what the radius moves) through 120 degrees, and one through all that may be asked.
        for radius, angle in ((20, 120), (18, 150)):
            with self.subTest(radius=radius, angle=angle):
                plan = self.plan(FACING + corner(radius, angle, True) + "[damage]\ncentre = [0, 0]\nradius = 60\n"
                                 f"depth = {DEEP}\n" + layup())
                told = {m["place"]: m for m in plan["measured"]}
                self.assertIsNotNone(told["hull.corner.radius"]["edge_mm_per_mm"])
                turn = math.radians(angle)
                for ply in plan["plies"]:
                    flat = crossings(ply["pieces"][0]["net_line"])
                    girth = 2 * (DISC + ply["edge_offset_mm"]) - ply["lay_depth_mm"] * turn
                    self.assertAlmostEqual(flat[1] - flat[0], girth, delta=0.1)

    def test_marks_on_a_bend_of_a_few_millimetres(self):
        # The way between the marks runs along a bend that is narrower than a facet of the flats beside it.
        for radius in (2, 3, 6):
            with self.subTest(radius=radius):
                plan = self.plan(FACING + corner(radius, 90, False) + MARKS + "[damage]\n" + by_tape(ring()) +
                                 f"depth = {DEEP}\n" + layup())
                for ply in plan["plies"]:
                    base = crossings([unrolled(p, radius, 90, False) for p in ply["outlines_3d"][0]["outer"]])
                    flat = crossings(ply["pieces"][0]["net_line"])
                    girth = base[1] - base[0] + ply["lay_depth_mm"] * math.pi / 2
                    self.assertAlmostEqual(flat[1] - flat[0], girth, delta=0.1)

    def test_a_line_that_bends_however_far_has_a_way_between_its_marks(self):
        # Rays along a bent fillet part behind the vertices of its facets: none of them ends right on the mark.
        bent = 'batten = "600 mm"\ngaps_along = [0, {gap}]\n'
        for gap in (5, 12, 25, 28, 29, 30, 32, 40):
            with self.subTest(gap=gap):
                plan = self.plan(FACING + corner(20, 90, False, bent.format(gap=gap)) + MARKS + "[damage]\n" +
                                 f"centre = {{A = 265, B = 265, side = \"up\"}}\nradius = 50\ndepth = {DEEP}\n" + layup())
                a, b = (mark["at"] for mark in plan["marks"])
                # By tape from A to B the bend's line is no shorter than the chord, and hardly longer: 520 mm
                # along an arc as round as the roundest here (40 in 600: R 1145) have a chord of 515.5.
                self.assertLess(math.dist(a, b), APART + 0.1)
                self.assertGreater(math.dist(a, b), APART - 4.5)
                # Equal tapes from marks that lie alike aft and forward: the place lies between them.
                along = [p[0] for p in plan["damage"]["outline_3d"]]
                self.assertAlmostEqual((min(along) + max(along)) / 2, 0.0, delta=0.1)

    def test_tapes_that_just_meet_are_taken_and_warned_of(self):
        # 260 and 260 between marks 520 apart, 300 and 220: on the line between them, as a person measures it.
        for from_a in (260, 300):
            plan = self.plan(FACING + corner(20, 90, False) + MARKS +
                             f"[damage]\ncentre = {{A = {from_a}, B = {APART - from_a}, side = \"up\"}}\n"
                             f"radius = 50\ndepth = {DEEP}\n" + layup())
            # A disc reaches as far aft as forward of its centre.
            along = [p[0] for p in plan["damage"]["outline_3d"]]
            self.assertAlmostEqual((min(along) + max(along)) / 2, from_a - APART / 2, delta=0.1)
            self.assertIn("tapes-meet-flat", [w["code"] for w in plan["warnings"]])

    def test_upright_where_the_hull_meets_the_transom(self):
        # The same corner turned by a quarter: what was along is up.
        shape = (20, 90, True)
        level = self.plan(FACING + corner(*shape) + MARKS + "[damage]\n" + by_tape(ring()) +
                          f"depth = {DEEP}\n" + layup())
        points = ring()
        upright = self.plan(FACING + corner(*shape, 'runs = "upright"\n') + MARKS + "[damage]\n" +
                            by_tape(points, ("forward", "aft")) + f"depth = {DEEP}\n" + layup())
        for mark, y in zip(upright["marks"], (-APART / 2, APART / 2)):
            self.assertLess(math.dist(mark["at"], (0, y, 0)), 0.01)
        self.assertAlmostEqual(upright["damage"]["area_mm2"], level["damage"]["area_mm2"], delta=2)
        for p in upright["damage"]["outline_3d"]:
            along, round_ = unrolled((p[1], p[0], p[2]), *shape)
            self.assertAlmostEqual(off_ring(along, round_), 0.0, delta=0.05)

    def test_by_contour_gauge_as_by_its_radius(self):
        # Twenty-five pins over an arc of 20 mm and its two flats, to a tenth of a millimetre. A
        # curve through them may differ by what the pins do not say: the ends of the arc.
        shape = (20, 90, True)
        pins = []
        for i in range(25):
            u = -48 + 4 * i
            s = next(s / 50 for s in range(-6000, 6001) if place(0, s / 50, *shape)[1] >= u)
            pins.append([u, round(place(0, s, *shape)[2], 1)])
        job = (FACING + f"[hull.corner]\nprofile = {pins}\nflats = [280, 280]\nlength = 1000\n" +
               "[damage]\ncentre = [0, 0]\nradius = 60\n" + f"depth = {DEEP}\n" + layup())
        gauged = self.plan(job)
        exact = self.plan(FACING + corner(*shape) + "[damage]\ncentre = [0, 0]\nradius = 60\n" +
                          f"depth = {DEEP}\n" + layup())
        for a, b in zip(gauged["plies"], exact["plies"]):
            a, b = (crossings(ply["pieces"][0]["net_line"]) for ply in (a, b))
            self.assertAlmostEqual(a[1] - a[0], b[1] - b[0], delta=0.6)
        figures = {m["place"] for m in gauged["measured"]}
        self.assertEqual(figures, {f"hull.corner.profile[{i + 1}]" for i in range(25)})

    def test_a_pin_misread_by_ten_times_is_refused_with_its_line(self):
        pins = [[u, round(-abs(u) ** 1.5 / 30, 1)] for u in range(-60, 61, 10)]
        pins[3][1] -= 45
        text = (FACING + "[hull.corner]\nprofile = [\n" +
                ",\n".join(str(pin) for pin in pins) + "]\nlength = 1000\n"
                "[damage]\ncentre = [0, 0]\nradius = 20\ndepth = 2\n")
        self.assertIn("job.toml:9: hull.corner.profile[4]: value", self.refused(text))

    def test_from_inside_it_is_as_deep_as_the_skin(self):
        # The outer face of a convex corner of radius R is, 6 mm in, one of R - 6 laid from inside:
        # hollow there. Girth at depth d from inside: (R - 6 + d) turn.
        skin, radius = 6.0, 30.0
        shape = (radius, 90, True)
        plan = self.plan(FACING + f"skin = {skin}\n" + corner(*shape) +
                         '[damage]\ncentre = [0, 0]\nradius = 60\nside = "inside"\n'
                         f"depth = {DEEP}\n" + layup())
        turn = math.radians(90)
        for ply in plan["plies"]:
            # The disc's own girth on the inner face is 60 + its step to either side.
            girth = 2 * (DISC + ply["edge_offset_mm"]) + ply["lay_depth_mm"] * turn
            flat = crossings(ply["pieces"][0]["net_line"])
            self.assertAlmostEqual(flat[1] - flat[0], girth, delta=0.1)

    def test_the_radius_moves_the_edge_by_what_the_girth_says(self):
        # 1 mm more of radius: the disc keeps its girth on the surface, so the template changes by
        # nothing where the cloth lies at the same depth (closed form).
        plan = self.plan(FACING + corner(20, 90, True) + MARKS + "[damage]\n" + by_tape(ring()) +
                         f"depth = {DEEP}\n" + layup())
        told = {m["place"]: m for m in plan["measured"]}
        self.assertEqual(told["hull.corner.radius"]["figure_mm"], 20)
        self.assertLess(told["hull.corner.radius"]["edge_mm_per_mm"], 0.1)


class ByStringNet(Case):
    """The same corners by a net of strings before them, its middle row before the middle of the bend."""

    def check(self, radius, angle, convex, row):
        shape = (radius, angle, convex)

        def rise(u):  # of the section over its middle, by the way across
            end = radius * math.sin(math.radians(angle) / 2)
            if abs(u) <= end:
                return place(0, radius * math.asin(u / radius), *shape)[2]
            flat = (abs(u) - end) / math.cos(math.radians(angle) / 2)
            return place(0, radius * math.radians(angle) / 2 + flat, *shape)[2]
        rows = int(140 * math.cos(math.radians(angle) / 2) // row)
        offsets = [[round(300 - rise(k * row), 1)] * 11 for k in range(-rows, rows + 1)]
        plan = self.plan(FACING + f"[hull.grid]\nspacing_along = 65\nspacing_across = {row}\noffsets = {offsets}\n" +
                         MARKS + "[damage]\n" + by_tape(ring()) + f"depth = {DEEP}\n" + layup())
        self.assertLess(self.seconds, SLOWEST)
        for ply in plan["plies"]:
            girth = (2 * (DISC * math.cos(math.pi / 12) + ply["edge_offset_mm"]) +
                     (-1 if convex else 1) * ply["lay_depth_mm"] * math.radians(angle))
            flat = crossings(ply["pieces"][0]["net_line"])
            self.assertAlmostEqual(flat[-1] - flat[0], girth, delta=0.2)  # figures to a tenth

    def test_marks_stand_behind_its_middle_row_and_girths_are_the_closed_forms(self):
        for shape in ((20, 90, False, 10), (15, 120, True, 8)):
            with self.subTest(shape):
                self.check(*shape)


class BentLine(Case):
    """A deck edge that bends: the deck is flat, the side below it a cylinder."""

    SIDE, BATTEN = 3000.0, 600.0

    def gap(self):
        return self.SIDE - math.sqrt(self.SIDE ** 2 - (self.BATTEN / 2) ** 2)

    def test_the_side_is_a_cylinder_and_the_deck_a_plane(self):
        radius, half = 20.0, math.radians(45)
        plan = self.plan(FACING + corner(radius, 90, True,
                                         f"batten = {self.BATTEN}\ngaps_along = [{self.gap()}, 0]\n")
                         + MARKS + "[damage]\n" + by_tape(ring()) + f"depth = {DEEP}\n" + layup())
        # Normals of the flats in the section (across, out), and where the bend ends.
        end = radius * math.sin(half)
        drop = radius * (1 - math.cos(half))
        side, deck = (-math.sin(half), math.cos(half)), (math.sin(half), math.cos(half))
        seen = set()
        for region in plan["footprint"]["outline_3d"]:
            for x, y, z in region["outer"]:
                if y > end + 5:  # on the deck: its plane
                    off = (y - end) * deck[0] + (z + drop) * deck[1]
                    self.assertAlmostEqual(off, 0.0, delta=0.02)
                    seen.add("deck")
                if y < -end - 5:  # on the side: its distance from an upright axis
                    out = (y + end) * side[0] + (z + drop) * side[1] + self.SIDE
                    self.assertAlmostEqual(math.hypot(out, x), self.SIDE, delta=0.02)
                    seen.add("side")
        self.assertEqual(seen, {"deck", "side"})
        for m in plan["measured"]:
            self.assertAlmostEqual(m["figure_mm"], m["passes_mm"], places=6)

    def test_a_line_that_bends_too_far_is_refused(self):
        message = self.refused(FACING + corner(20, 90, True, "batten = 200\ngaps_along = [45, 45]\n")
                               + "[damage]\ncentre = [0, 0]\nradius = 60\ndepth = 4\n")
        self.assertRegex(message, r"hull\.corner\.(length|gaps_along): ")


class BadCorners(Case):
    GOOD = (FACING + corner(20, 90, True) +
            "[damage]\ncentre = [0, 0]\nradius = 60\ndepth = 4\n")

    def check(self, old, new, *words):
        self.assertIn(old, self.GOOD)
        message = self.refused(self.GOOD.replace(old, new))
        self.assertRegex(message, r"job\.toml:\d+: ")
        for word in words:
            self.assertIn(word, message)

    def test_each_figure_that_is_missing_or_wrong_is_named(self):
        self.plan(self.GOOD)
        self.check("radius = 20\n", "", "hull.corner", "radius", "contour gauge")
        self.check("angle = 90\n", "", "hull.corner", "deck to coaming 90")
        self.check("convex = true\n", "", "hull.corner", "hollow")
        self.check("length = 1000\n", "", "hull.corner", "length")
        self.check(f"flats = [{FLAT}, {FLAT}]\n", "", "hull.corner", "flats")
        self.check("angle = 90", "angle = 180", "hull.corner.angle", "150")
        self.check("radius = 20", "radius = 0", "hull.corner.radius")
        self.check(f"[{FLAT}, {FLAT}]", f"[{FLAT}]", "hull.corner.flats", "two")
        self.check("length = 1000", "length = 1000\ngaps_along = [1, 1]", "batten")
        self.check("length = 1000", "length = 1000\nbatten = 600", "gaps_along")
        self.check("length = 1000", "length = 1000\nbatten = 100\ngaps_along = [30, 0]",
                   "hull.corner.gaps_along", "quarter")
        self.check("length = 1000", "length = 1000\nprofile = [[-9, 0], [9, 0]]",
                   "hull.corner.radius", "profile")
        self.check("length = 1000", "length = 1000\n[hull.measured]\nbatten = 600\ngap_along = 1\n"
                   "gap_across = 1\n", "hull.corner", "already")
        self.check("up = [0, 1, 0]", "up = [0, 1, 0]\nmirror = true", "hull.mirror")
        self.check("centre = [0, 0]", "centre = [0, 500]", "damage.centre", "outside the corner")
        self.check("centre = [0, 0]", "centre = [600, 0]", "damage.centre", "outside the corner")

    def test_profiles_that_tell_nothing(self):
        good = FACING + ("[hull.corner]\nprofile = [[-60, -40], [-30, -12], [0, 0], [30, -12], "
                         "[60, -40]]\nflats = [200, 200]\nlength = 900\n"
                         "[damage]\ncentre = [0, 0]\nradius = 40\ndepth = 3\n")
        self.plan(good)
        for old, new, words in (("[0, 0], ", "", "5 to"), ("[-30, -12]", "[-70, -12]", "ascend"),
                                ("[-60, -40], [-30, -12], [0, 0]",
                                 "[10, -40], [12, -12], [14, 0]", "line of the marks"),
                                ("[-60, -40]", "[-60, -40, 1]", "")):
            self.assertIn(words, self.refused(good.replace(old, new)))

    def test_a_batten_that_finds_a_corner_names_the_way(self):
        message = self.refused(FACING + "[hull.measured]\nbatten = 600\ngap_along = 0\n"
                               "gap_across = 200\n[damage]\ncentre = [0, 0]\nradius = 60\n"
                               "depth = 4\n")
        self.assertIn("[hull.corner]", message)

    def test_a_bulge_tighter_than_its_depth_is_refused_as_of_a_model(self):
        message = self.refused(FACING + corner(6, 90, True) +
                               f"[damage]\ncentre = [0, 0]\nradius = 60\ndepth = {8 * MAT}\n" +
                               layup(), 4)
        self.assertIn("the hull's radius there is smaller than the depth", message)

    def test_a_hollow_tighter_than_its_cloth_is_told_as_of_a_model(self):
        plan = self.plan(FACING + corner(6, 90, False) +
                         f"[damage]\ncentre = [0, 0]\nradius = 60\ndepth = {8 * MAT}\n" + layup())
        self.assertIn("radius-concave", {w["code"] for w in plan["warnings"]})
        for ply in plan["plies"]:
            girth = 2 * (DISC + ply["edge_offset_mm"]) + ply["lay_depth_mm"] * math.pi / 2
            flat = crossings(ply["pieces"][0]["net_line"])
            self.assertAlmostEqual(flat[-1] - flat[0], girth, delta=0.1)


class Sheets(Case):
    def test_the_measuring_sheet_has_a_box_for_every_figure(self):
        page = subprocess.run([TEARLINE, "new", "--measuring-sheet", "corner", "-"],
                              capture_output=True, text=True, check=True).stdout
        for word in ("radius", "angle", "convex = true", "flats", "length", "batten",
                     "gaps_along", "batten_across", "gaps_across", "profile", "[hull.corner]",
                     'runs = "upright"'):
            self.assertIn(word, page)

    def test_the_net_shows_its_zero_and_its_order(self):
        page = subprocess.run([TEARLINE, "new", "--measuring-sheet", "grid", "-"],
                              capture_output=True, text=True, check=True).stdout
        picture = re.search(r"<svg.*?</svg>", page, re.S).group(0)
        self.assertRegex(picture, r">0</text>")
        for word in ("1", "2", "3", "row 1", "row 2"):
            self.assertIn(f">{word}</text>", picture)


if __name__ == "__main__":
    unittest.main(verbosity=2)
