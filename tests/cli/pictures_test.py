#!/usr/bin/env python3
"""The pictures of a plan, measured: overview.svg and those of the job sheet are read by an XML parser and
laid over plan.json's outlines, seen square on the repair and at the scale that their own bar says."""
import math
import pathlib
import re
import sys
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import sheet as reading  # noqa: E402
from closed_lines import area, inside, to_loop  # noqa: E402
from each import for_each  # noqa: E402
from random_repairs import OfPlans  # noqa: E402

SVG = "{http://www.w3.org/2000/svg}"
PLACE = 0.012  # mm: two decimals of a path's points, in x and in y
NUMBERS = (1, 3, 6, 7, 8)
INCH, POUND = 25.4, 453.59237


def loops(path):
    """Closed parts of a path as lists of points."""
    out = []
    for part in re.findall(r"M[^M]*", path):
        numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*", part)]
        out.append(list(zip(numbers[0::2], numbers[1::2])))
    return out


class View:
    """A picture that is seen square on: x of the frame to the right, y up."""

    def __init__(self, plan, scale, shown, outline):
        self.frame, self.scale, self.at = plan["frame"], scale, (0.0, 0.0)
        # Where it stands on paper: by the middle of an outline's box.
        flat = [self.of(p) for p in outline]
        self.at = tuple(0.5 * (max(p[k] for p in shown) + min(p[k] for p in shown)) -
                        0.5 * (max(p[k] for p in flat) + min(p[k] for p in flat)) for k in (0, 1))

    def of(self, point):
        away = [a - b for a, b in zip(point, self.frame["middle"])]
        x, y = (sum(a * b for a, b in zip(away, self.frame[k])) for k in "xy")
        return self.at[0] + self.scale * x, self.at[1] - self.scale * y

    def way(self, direction):
        return tuple(sign * sum(a * b for a, b in zip(direction, self.frame[k]))
                     for k, sign in (("x", 1), ("y", -1)))


class Overview:
    def __init__(self, made):
        self.made, self.plan = made, made.plan
        self.root = ElementTree.parse(made.folder / "overview.svg").getroot()
        self.groups = {g.get("id"): g for g in self.root.iter(f"{SVG}g") if g.get("id")}
        self.paths = list(self.groups["plies"].findall(f"{SVG}path"))
        bar = next(p for p in self.root.findall(f"{SVG}path") if p.get("stroke-width") == "0.7")
        (points,) = loops(bar.get("d"))
        self.bar_mm = points[2][0] - points[1][0]
        self.us = made.job["display_units"] == "us"
        self.scale = self.bar_mm / (4 * INCH if self.us else 100.0)
        shown = loops(self.paths[0].get("d"))[0]
        self.view = View(self.plan, self.scale, shown, self.plan["footprint"]["outline_3d"][0]["outer"])

    def texts(self):
        return [text.text or "" for text in self.root.iter(f"{SVG}text")]


each_picture = for_each(lambda self: self.overviews, lambda one: f"repair {one.made.number}")


class Pictures(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.overviews = [Overview(made) for made in cls.plan_repairs(NUMBERS)]

    def lies_on(self, shown, outline, view):
        """A loop of a picture and an outline of the plan are one curve."""
        wanted = [view.of(p) for p in outline]
        for p in shown[::5]:
            self.assertLess(to_loop(p, wanted), PLACE)
        for p in wanted[::5]:
            self.assertLess(to_loop(p, shown), PLACE + 0.02)

    @each_picture
    def test_every_outline_lies_where_the_plan_has_it(self, one):
        # Footprint, plies from the widest in, the scarf's edge, the damage: each above the one before.
        plan = one.plan
        order = sorted(plan["plies"], key=lambda ply: -ply["edge_offset_mm"])
        wanted = [r for r in plan["footprint"]["outline_3d"]]
        wanted += [r for ply in order for r in ply["outlines_3d"]]
        wanted += [r for r in plan["scarf"]["outline_3d"]]
        wanted += [{"outer": plan["damage"]["outline_3d"], "holes": []}]
        self.assertEqual(len(one.paths), len(wanted))
        for path, region in zip(one.paths, wanted):
            shown = loops(path.get("d"))
            self.assertEqual(len(shown), 1 + len(region["holes"]))
            for loop, outline in zip(shown, [region["outer"], *region["holes"]]):
                self.lies_on(loop, outline, one.view)

    @each_picture
    def test_each_ply_has_its_own_colour(self, one):
        fills = [path.get("fill") for path in one.paths if path.get("stroke") == "#fff" and
                 path.get("stroke-width") == "0.35"]
        self.assertEqual(len(set(fills)), len(one.plan["plies"]))

    @each_picture
    def test_a_plys_number_stands_on_its_own_edge(self, one):
        group = one.groups["ply-numbers"]
        circles, texts = group.findall(f"{SVG}circle"), group.findall(f"{SVG}text")
        self.assertEqual(sorted(int(t.text) for t in texts), [ply["number"] for ply in one.plan["plies"]])
        places = []
        for circle, text in zip(circles, texts):
            at = float(circle.get("cx")), float(circle.get("cy"))
            self.assertAlmostEqual(float(text.get("x")), at[0], delta=1e-3)
            ply = one.plan["plies"][int(text.text) - 1]
            edge = [one.view.of(p) for p in ply["outlines_3d"][0]["outer"]]
            self.assertLess(to_loop(at, edge), PLACE)
            places.append(at)
        for i, a in enumerate(places):
            for b in places[:i]:
                self.assertGreater(math.dist(a, b), 5.2, "a number on another")  # two circles of 2.6

    @each_picture
    def test_the_bar_says_the_scale(self, one):
        words = "4 in on the hull" if one.us else "100 mm on the hull"
        self.assertIn(words, one.texts())
        # Independent of the bar: the damage's extent on paper by its extent on the hull.
        shown = loops(one.paths[-1].get("d"))[0]
        x = one.plan["frame"]["x"]
        across = [sum(a * b for a, b in zip(p, x)) for p in one.plan["damage"]["outline_3d"]]
        ratio = (max(px for px, _ in shown) - min(px for px, _ in shown)) / (max(across) - min(across))
        self.assertAlmostEqual(ratio / one.scale, 1.0, delta=1e-3)

    @each_picture
    def test_arrows_point_to_the_bow_and_up(self, one):
        words = [t.text for t in one.groups["close-up"].findall(f"{SVG}text")]
        arrows = [loops(p.get("d"))[0] for p in one.groups["directions"].findall(f"{SVG}path")]
        self.assertEqual(len(arrows), len(words))
        self.assertGreater(len(words), 0)
        for word, (tail, tip) in zip(words, arrows):
            wanted = one.view.way({"BOW": (1, 0, 0), "UP": (0, 0, 1)}[word])
            way = tip[0] - tail[0], tip[1] - tail[1]
            cosine = ((way[0] * wanted[0] + way[1] * wanted[1]) /
                      math.hypot(*way) / math.hypot(*wanted))
            self.assertGreater(cosine, 0.9999, word)

    @each_picture
    def test_templates_stand_side_by_side_to_one_scale(self, one):
        scales, boxes = [], []
        for _, piece in one.made.pieces():
            group = one.groups[f"t{piece['id']}"]
            shown = loops(group.findall(f"{SVG}path")[0].get("d"))
            edge = piece["tear_line"] or piece["cut_line"] or piece["net_line"]
            holes = piece["tear_holes"] or piece["cut_holes"] or []
            self.assertEqual(len(shown), 1 + len(holes))
            # Same area, but for the scale squared; y down turns the loop round.
            scales.append(math.sqrt(-area(shown[0]) / area(edge)))
            low = [min(p[k] for p in shown[0]) for k in (0, 1)]
            high = [max(p[k] for p in shown[0]) for k in (0, 1)]
            boxes.append((low, high))
            self.assertGreaterEqual(low[0], 247.99)
            self.assertLessEqual(high[0], 408.01)
            self.assertGreaterEqual(low[1], 41.99)
            self.assertLessEqual(high[1], 250.01)
        for scale in scales:
            self.assertAlmostEqual(scale / scales[0], 1.0, delta=2e-3)
        for i, (low, high) in enumerate(boxes):
            for other_low, other_high in boxes[:i]:
                apart = any(high[k] <= other_low[k] or other_high[k] <= low[k] for k in (0, 1))
                self.assertTrue(apart, "a template on another")

    @each_picture
    def test_each_template_has_its_name_cloth_and_strain_below_it(self, one):
        texts = one.texts()
        for ply, piece in one.made.pieces():
            self.assertIn(piece["id"], texts)
            most = (f"{100 * piece['strain']['max']:.2f} %" if ply["kind"] == "mat"
                    else f"{piece['shear_deg']['max']:.1f}°")
            between = ", cover · " if ply["cover"] else " · "
            self.assertIn(ply["fabric"] + between + most, texts)

    @each_picture
    def test_the_heading_counts_and_sums(self, one):
        line = next(t for t in one.texts() if "  ·  glass " in t)
        count = sum(len(ply["pieces"]) for ply in one.plan["plies"])
        plies = len(one.plan["plies"])
        self.assertTrue(line.startswith(f"{plies} {'ply' if plies == 1 else 'plies'} in {count} "), line)
        found = reading.amounts(line)
        totals = one.plan["totals"]
        wanted = [totals["glass_area_m2"], totals["glass_g"], totals["resin_g"]]
        wanted += [totals["hardener_g"]] if totals["hardener_g"] is not None else []
        self.assertEqual(len(found), len(wanted), line)
        for amount, value in zip(found, wanted):
            self.assertTrue(reading.close(amount.value, amount.half, value), (line, value))
            self.assertEqual(amount.us, one.us)

    @each_picture
    def test_warnings_are_counted_by_rank(self, one):
        words = {"stop": "to stop for", "do": "to do", "know": "to know"}
        counts = {rank: sum(w["rank"] == rank for w in one.plan["warnings"]) for rank in words}
        line = next(t for t in one.texts() if t.startswith("Warnings: "))
        found = [int(n) for n in re.findall(r"(\d+) to", line)]
        self.assertEqual(found, [n for n in counts.values() if n])

    @each_picture
    def test_nothing_reaches_over_the_page(self, one):
        width, height = (float(one.root.get(k).removesuffix("mm")) for k in ("width", "height"))
        self.assertEqual((width, height), (420.0, 297.0))  # ISO 216, A3
        for text in one.root.iter(f"{SVG}text"):
            self.assertTrue(0 < float(text.get("x")) < width and 0 < float(text.get("y")) < height, text.text)
        for name, group in one.groups.items():
            if name in ("close-up", "inset", "plies", "net", "ply-numbers", "directions") or group.get("clip-path"):
                continue
            for path in group.findall(f"{SVG}path"):
                if path.get("class") != "yarns" and "h" not in path.get("d"):
                    for loop in loops(path.get("d")):
                        self.assertTrue(all(0 <= x <= width and 0 <= y <= height for x, y in loop), name)

    @each_picture
    def test_the_scale_of_strain_is_even_and_reaches_the_most(self, one):
        group = one.groups["strain-scale"]
        ticks = sorted(loops(p.get("d"))[0][0][0] for p in group.findall(f"{SVG}path")
                       if p.get("d").count("L") == 1 and p.get("stroke-width") == "0.2")
        steps = [b - a for a, b in zip(ticks, ticks[1:])]
        for step in steps:
            self.assertAlmostEqual(step, steps[0], delta=0.02)
        percents = [float(t.text[:-2]) for t in group.findall(f"{SVG}text")
                    if re.fullmatch(r"[\d.]+ %", t.text or "")]
        most = max((100 * piece["strain"]["max"] for ply, piece in one.made.pieces() if piece["strain"]), default=0)
        if percents:
            self.assertGreaterEqual(max(percents), most)
            for k, percent in enumerate(sorted(percents)):
                self.assertAlmostEqual(percent, k * max(percents) / (len(percents) - 1), delta=1e-6)

    @each_picture
    def test_the_ring_stands_where_the_strain_is_most(self, one):
        # Back from paper to the piece: by the cross of its datum, which is its origin.
        for ply, piece in one.made.pieces():
            group = one.groups[f"t{piece['id']}"]
            rings = [g for g in group.findall(f"{SVG}g") if g.get("class") == "most"]
            at = (piece["strain"] or piece["shear_deg"])["at"]
            most = (piece["strain"] or piece["shear_deg"])["max"]
            if not rings:
                self.assertLess(most, 0.5)
                continue
            circle = rings[0].find(f"{SVG}circle")
            edge = loops(group.findall(f"{SVG}path")[0].get("d"))[0]
            self.assertTrue(inside(edge, (float(circle.get("cx")), float(circle.get("cy")))), piece["id"])
            self.assertIsNotNone(at)


if __name__ == "__main__":
    unittest.main()
