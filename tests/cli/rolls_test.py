#!/usr/bin/env python3
"""Pieces on their rolls, checked piece by piece with plane geometry of this script's own: inside the cloth, a
gap apart, every copy once, warp along the roll, no longer than a carpenter's rows of boxes would be."""
import math
import pathlib
import re
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from closed_lines import area, inside  # noqa: E402
from each import for_each  # noqa: E402
from random_repairs import OfPlans, Planned, Repair  # noqa: E402


def with_rolls(text, *changes):
    """A job with other figures of rolls, gap and copies."""
    for old, new in changes:
        text = re.sub(old, new, text)
    return text


def with_roll(text, fabric, width):
    """A job whose cloth comes on a roll of another width."""
    head = f'[[fabric]]\nname = "{fabric}"\n'
    return (text if head in text else text + head).replace(head, head + f"roll_width = {width}\n")


def jobs():
    """Names, job texts: copies, narrow rolls, gaps, cloth that must lie along the roll."""
    many = r"copies = \d+", "copies = 9"
    yield "many", with_rolls(Repair(1).text, many)
    yield "narrow", with_roll(with_rolls(Repair(22).text, many), "mat 450", 400)
    yield "gap", with_rolls(Repair(3).text, (r"copies = \d+", "copies = 4")) + "\n[shop]\ncutting_gap = 25\n"
    yield "cloth", with_roll(with_rolls(Repair(13).text, (r"copies = \d+", "copies = 5")), "cloth 300", 600)
    yield "c", with_rolls(Repair(29, hull="panel", shape="c", order="smallest first").text,
                          (r"copies = \d+", "copies = 3"))
    yield "too wide", with_roll(Repair(8).text, "mat 450", 150)


def turned(points, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(c * x - s * y, s * x + c * y) for x, y in points]


def segments(loop, low, high):
    """Sides of a loop whose box comes near another box."""
    for a, b in zip(loop, loop[1:] + loop[:1]):
        if (max(a[0], b[0]) >= low[0] and min(a[0], b[0]) <= high[0] and
                max(a[1], b[1]) >= low[1] and min(a[1], b[1]) <= high[1]):
            yield a, b


def box(loop, by=0.0):
    return ([min(p[k] for p in loop) - by for k in (0, 1)], [max(p[k] for p in loop) + by for k in (0, 1)])


def from_segment(p, a, b):
    dx, dy = b[0] - a[0], b[1] - a[1]
    whole = dx * dx + dy * dy
    t = max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / whole)) if whole else 0.0
    return math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def near(a, b, gap):
    """The least distance from corners of one loop to sides of the other, or the gap where it is more."""
    least = gap
    for loop, other in ((a, b), (b, a)):
        low, high = box(other, gap)
        sides = list(segments(other, *box(loop, gap)))
        for p in loop:
            if low[0] <= p[0] <= high[0] and low[1] <= p[1] <= high[1]:
                least = min([least, *(from_segment(p, *side) for side in sides)])
    return least


class Laid:
    """A roll of a plan with its pieces as they lie on it."""

    def __init__(self, name, made, roll):
        self.name, self.made, self.roll = f"{name}: {roll['fabric']}", made, roll
        self.pieces = {piece["id"]: (ply, piece) for ply, piece in made.pieces()}
        self.fabric = next(f for f in made.job["fabric"] if f["name"] == roll["fabric"])
        self.gap = made.job["shop"]["cutting_gap"]
        self.loops = [(place["piece"], self.loop(place)) for place in roll["placed"]]

    def edge(self, name):
        piece = self.pieces[name][1]
        return piece["tear_line"] or piece["cut_line"] or piece["net_line"]

    def loop(self, place):
        return [(x + place["x_mm"], y + place["y_mm"]) for x, y in turned(self.edge(place["piece"]), place["turn_deg"])]


each_roll = for_each(lambda self: self.rolls, lambda roll: roll.name)


class Rolls(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.rolls = []
        for name, text in jobs():
            made = cls.plan(name, text)
            cls.rolls += [Laid(name, made, roll) for roll in made.plan["rolls"]]

    @each_roll
    def test_every_copy_of_every_piece_lies_on_its_own_cloth_once(self, laid):
        copies = laid.made.job["layup"]["copies"]
        left_out = {w["piece"] for w in laid.made.plan["warnings"] if w["code"] == "wider-than-roll"}
        wanted = sorted(piece["id"] for ply, piece in laid.made.pieces() for _ in range(copies)
                        if ply["fabric"] == laid.roll["fabric"] and piece["id"] not in left_out)
        self.assertEqual(sorted(name for name, _ in laid.loops), wanted)

    @each_roll
    def test_pieces_lie_inside_the_cloth(self, laid):
        self.assertEqual(laid.roll["width_mm"], laid.fabric["roll_width"])
        for name, loop in laid.loops:
            (x0, y0), (x1, y1) = box(loop)
            self.assertGreaterEqual(min(x0, y0), -0.01, name)
            self.assertLessEqual(x1, laid.roll["length_mm"] + 0.01, name)
            self.assertLessEqual(y1, laid.roll["width_mm"] + 0.01, name)

    @each_roll
    def test_the_roll_is_as_long_as_its_pieces_reach(self, laid):
        if laid.loops:
            reach = max(x for _, loop in laid.loops for x, _ in loop)
            self.assertAlmostEqual(laid.roll["length_mm"], reach, delta=0.01)

    @each_roll
    def test_pieces_are_a_gap_apart_and_none_lies_in_another(self, laid):
        self.assertEqual(laid.roll["gap_mm"], laid.gap)
        for k, (name, loop) in enumerate(laid.loops):
            for other_name, other in laid.loops[:k]:
                low, high = box(other, laid.gap)
                own_low, own_high = box(loop)
                if any(own_high[j] < low[j] or own_low[j] > high[j] for j in (0, 1)):
                    continue
                where = (name, other_name)
                # Pieces are nested by outlines thinned to a fifth of a mm.
                self.assertGreaterEqual(near(loop, other, laid.gap), laid.gap - 0.5, where)
                self.assertFalse(inside(other, loop[0]) and near(loop, other, laid.gap) < laid.gap, where)

    @each_roll
    def test_cloth_lies_with_its_warp_along_the_roll(self, laid):
        # x runs along the roll; cloth may lie either way round, mat as it likes.
        for place in laid.roll["placed"]:
            ply, piece = laid.pieces[place["piece"]]
            if ply["kind"] != "mat":
                off = (place["turn_deg"] + piece["warp_deg"]) % 180
                self.assertAlmostEqual(min(off, 180 - off), 0.0, delta=0.01, msg=place)

    @each_roll
    def test_the_share_used_is_the_pieces_area_by_the_cloths(self, laid):
        if not laid.loops:
            return
        # Holes are cut-offs: what is cut out of a piece is cloth all the same.
        whole = sum(laid.pieces[name][1]["area_mm2"] for name, _ in laid.loops)
        cloth = laid.roll["length_mm"] * laid.roll["width_mm"]
        self.assertAlmostEqual(laid.roll["used_fraction"], whole / cloth, delta=2e-3)
        self.assertLessEqual(laid.roll["used_fraction"], 1.0)
        self.assertLessEqual(laid.roll["area_bound_mm"], laid.roll["length_mm"] + 0.01)
        self.assertAlmostEqual(laid.roll["area_bound_mm"], whole / laid.roll["width_mm"],
                               delta=2e-3 * laid.roll["area_bound_mm"])

    @each_roll
    def test_no_roll_is_longer_than_rows_of_boxes_would_be(self, laid):
        # Second way: boxes as they lie, the largest first, side by side across the roll and row after row,
        # the gap between. Nesting must not be worse than that.
        boxes = []
        for place in laid.roll["placed"]:
            (x0, y0), (x1, y1) = box(turned(laid.edge(place["piece"]), place["turn_deg"]))
            boxes.append((x1 - x0, y1 - y0))
        rows, width = 0.0, laid.roll["width_mm"]
        row, across = 0.0, 0.0
        for long, wide in sorted(boxes, reverse=True):
            if across > 0 and across + laid.gap + wide > width:
                rows += row + laid.gap
                row, across = 0.0, 0.0
            across += wide + (laid.gap if across > 0 else 0.0)
            row = max(row, long)
        self.assertLessEqual(laid.roll["length_mm"], rows + row + 0.5)

    def test_a_ply_wider_than_its_roll_is_laid_in_pieces_that_fit_and_that_is_told(self):
        # 40 mm of radius and 25 + 20 mm beyond it do not lie on 150 mm; two halves that lap do.
        made = self.named("too wide")
        ply = next(ply for ply in made.plan["plies"] if ply["fabric"] == "mat 450")
        self.assertGreater(len(ply["pieces"]), 1)
        for piece in ply["pieces"]:
            self.assertLessEqual(min_breadth(piece["tear_line"]), 150.0)
        told, = [w for w in made.plan["warnings"] if w["code"] == "laid-in-pieces"]
        self.assertEqual(told["ply"], ply["number"])
        # Together they are the ply and a lap: more than its net area, less than twice.
        net = sum(area(piece["net_line"]) for piece in ply["pieces"])
        self.assertGreaterEqual(net, 0.999 * ply["surface_area_mm2"])
        self.assertLess(net, 2 * ply["surface_area_mm2"])

    def test_a_roll_too_narrow_for_any_lap_is_refused(self):
        narrow = Planned(self.room.name, with_roll(Repair(8).text, "mat 450", 100), name="narrower")
        self.assertEqual(narrow.run.returncode, 4)
        self.assertIn("over the roll_width of 100 mm", narrow.run.stderr)
        self.assertFalse(narrow.folder.exists())

    def test_a_narrow_roll_is_longer_than_a_wide_one(self):
        # The same pieces: what the roll is shorter in width it is longer, by area at least.
        roll = next(r for r in self.named("narrow").plan["rolls"] if r["fabric"] == "mat 450")
        self.assertEqual(roll["width_mm"], 400)
        self.assertGreaterEqual(roll["length_mm"], roll["area_bound_mm"])

    def test_more_copies_take_more_cloth_but_less_for_each(self):
        one = Planned(self.room.name, re.sub(r"copies = \d+", "copies = 1", Repair(1).text), "--format", "svg",
                      name="one")
        many = self.named("many")
        for a, b in zip(one.plan["rolls"], many.plan["rolls"]):
            self.assertGreater(b["length_mm"], a["length_mm"])
            self.assertLessEqual(b["length_mm"], 9 * (a["length_mm"] + a["gap_mm"]))


def min_breadth(loop):
    """The least breadth over turns of half a degree, which a roll's width is compared with [mm]."""
    return min(max(y for _, y in points) - min(y for _, y in points)
               for points in (turned(loop[::3], 0.5 * k) for k in range(360)))


if __name__ == "__main__":
    unittest.main()
