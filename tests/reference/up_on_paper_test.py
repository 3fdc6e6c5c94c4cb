"""A template lies on paper as its reader sees the place on the hull: up (on a bottom or deck the
bow) at the top of the page, never mirrored, the arrows and the warp where they lie on the hull.

Expected directions are computed here from bow, up and the side alone (the definitions of the flat
frame and of the fibre axis) and found on the hull by each piece's own mesh, read from its file."""
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
from piece_mesh import PieceMesh, combined, cross, dot, minus, tangent, unit  # noqa: E402

SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"
BOW, UP = [1, 0, 0], [0, 0, 1]
AXES = (30, -45)


def on_curlew(side, centre):
    return {"model": "curlew.step", "skin": '\nskin = "9 mm"', "side": side, "centre": centre}


def on_panel(up):
    return {"model": "panel.step", "skin": '\noutward = "as modelled"', "side": "outside",
            "centre": [0, 0, 0], "up": up, "radius": 150}


# Name, place, the laying side's normal (roughly), what the top and the right of the paper point to.
# The panel faces +y; turned bow and up make it a deck, a bottom and what is just not one.
PLACES = {
    "starboard outside": (on_curlew("outside", [2300, -1055, 520]), [0, -1, 0], "up", "bow"),
    "port outside": (on_curlew("outside", [2300, 1055, 520]), [0, 1, 0], "up", "aft"),
    "starboard inside": (on_curlew("inside", [2300, -1055, 520]), [0, 1, 0], "up", "aft"),
    "port inside": (on_curlew("inside", [2300, 1055, 520]), [0, -1, 0], "up", "bow"),
    "transom outside": (on_curlew("outside", [0, -50, 520]), [-1, 0, 0], "up", "starboard"),
    "transom inside": (on_curlew("inside", [0, -50, 520]), [1, 0, 0], "up", "port"),
    "deck": (on_panel([0, 1, 0]), [0, 1, 0], "bow", "starboard"),
    "bottom": (on_panel([0, -1, 0]), [0, 1, 0], "bow", "port"),
    "steep bottom": (on_panel([0, -math.cos(math.radians(31)), math.sin(math.radians(31))]),
                     [0, 1, 0], "up", "aft"),
    "flat bottom": (on_panel([0, -math.cos(math.radians(29)), math.sin(math.radians(29))]),
                    [0, 1, 0], "bow", "port"),
}


def job(place):
    up = ", ".join(f"{v:.12f}" for v in place.get("up", UP))
    return f"""[hull]
model = "{SAMPLES / place['model']}"
bow = [1, 0, 0]
up = [{up}]{place['skin']}
[damage]
centre = {place['centre']}
radius = {place.get('radius', 60)}
depth = 2
side = "{place['side']}"
[layup]
stack = ["mat 300", {{fabric = "cloth", axis = {AXES[0]}}}, {{fabric = "cloth", axis = {AXES[1]}}}]
cover = []
[[fabric]]
name = "cloth"
kind = "woven"
weight = "300 g/m2"
"""


def degrees_apart(a, b):
    return math.degrees(math.acos(max(-1.0, min(1.0, dot(a, b)))))


Case = collections.namedtuple("Case", "name plan ply piece mesh roughly words top right")


class UpOnPaper(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.room = tempfile.TemporaryDirectory()
        cls.planned = {}
        for name, (place, *_) in PLACES.items():
            folder = pathlib.Path(cls.room.name) / name.replace(" ", "-")
            file = folder.with_suffix(".toml")
            file.write_text(job(place), encoding="utf-8")
            done = subprocess.run([os.environ["TEARLINE"], "plan", str(file), "-o", str(folder),
                                   "--format", "svg"], capture_output=True, text=True, check=False)
            assert done.returncode == 0, f"{name}: {done.stderr}"
            plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
            pieces = [(ply, piece, PieceMesh(folder / piece["mesh"]))
                      for ply in plan["plies"] for piece in ply["pieces"]]
            assert len(pieces) == 3, name
            cls.planned[name] = (plan, pieces)

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def cases(self):
        for name, (place, normal, top, right) in PLACES.items():
            plan, pieces = self.planned[name]
            up = place.get("up", UP)
            starboard = cross(BOW, up)
            words = {"bow": BOW, "aft": minus([0, 0, 0], BOW), "up": up,
                     "down": minus([0, 0, 0], up), "starboard": starboard,
                     "port": minus([0, 0, 0], starboard)}
            for ply, piece, mesh in pieces:
                yield Case(f"{name} {piece['id']}", plan, ply, piece, mesh, normal, words,
                           words[top], words[right])

    def test_the_top_of_the_paper_is_up_and_nothing_is_mirrored(self):
        for case in self.cases():
            with self.subTest(case.name):
                way, normal = case.mesh.on_hull((0, 0), (0, 1))
                self.assertGreater(dot(normal, case.roughly), 0.8)  # the laying side: not mirrored
                self.assertLess(degrees_apart(way, tangent(case.top, normal)), 0.5)
                self.assertGreater(dot(case.mesh.on_hull((0, 0), (1, 0))[0], case.right), 0.8)

    def test_the_plan_says_its_frame(self):
        for name, (_, _, top, right) in PLACES.items():
            plan, pieces = self.planned[name]
            frame = plan["frame"]
            with self.subTest(place=name):
                self.assertEqual(frame["points_to"]["top"], top)
                self.assertEqual(frame["points_to"]["right"], right)
                for _, _, mesh in pieces:
                    # Plies lie up to their depth under the frame: the same directions all the same.
                    for key, way in (("x", (1, 0)), ("y", (0, 1))):
                        self.assertLess(degrees_apart(frame[key], mesh.on_hull((0, 0), way)[0]),
                                        0.5)
                    self.assertLess(
                        degrees_apart(frame["normal"], mesh.on_hull((0, 0), (0, 1))[1]), 1.0)
                self.assertEqual(frame["bow_deg"] is None, name.startswith("transom"))

    def test_arrows_point_where_they_say(self):
        for case in self.cases():
            with self.subTest(case.name):
                arrows = [m for m in case.piece["marks"] if m["kind"] in ("bow", "up", "starboard")]
                self.assertGreater(len(arrows), 0)
                for mark in arrows:
                    (x0, y0), (x1, y1) = mark["points"]
                    way, normal = case.mesh.on_hull((0, 0), (x1 - x0, y1 - y0))
                    there = tangent(case.words[mark["kind"]], normal)
                    self.assertLess(degrees_apart(way, there), 0.5)

    def test_the_warp_lies_on_the_hull_at_its_axis_on_either_side(self):
        asked = iter(())
        for case in self.cases():
            with self.subTest(case.name):
                fibre = [m for m in case.piece["marks"] if m["kind"] == "fibre"]
                if case.ply["kind"] == "mat":
                    self.assertEqual(fibre, [], "mat has no grain")
                    asked = iter(AXES)
                    continue
                axis = next(asked)
                self.assertAlmostEqual(case.piece["axis_deg"], axis, delta=0.5)
                (x0, y0), (x1, y1) = fibre[0]["points"]
                way, normal = case.mesh.on_hull((0, 0), (x1 - x0, y1 - y0))
                origin = "starboard" if case.plan["frame"]["bow_deg"] is None else "bow"
                along = tangent(case.words[origin], normal)
                a = math.radians(axis)
                right = combined(math.cos(a), along, math.sin(a), cross(normal, along))
                apart = degrees_apart(way, right)  # a warp has no front
                self.assertLess(min(apart, 180.0 - apart), 1.0)

    def test_the_words_of_the_axis_are_true_on_the_hull(self):
        told = 0
        for case in self.cases():
            with self.subTest(case.name):
                if case.ply["kind"] == "mat":
                    continue
                fibre = next(m for m in case.piece["marks"] if m["kind"] == "fibre")
                (x0, y0), (x1, y1) = fibre["points"]
                way, normal = case.mesh.on_hull((0, 0), (x1 - x0, y1 - y0))
                text = " ".join(m["text"] for m in case.piece["marks"] if m["kind"] == "label")
                said = re.search(r"WARP (\d+) DEGREES (?:TO )?(\w+) FROM (?:THE )?(\w+)", text)
                self.assertIsNotNone(said, text)
                degrees, side, origin = int(said[1]), said[2].lower(), said[3].lower()
                from_there = tangent(case.words[origin], normal)
                if dot(way, from_there) < 0.0:
                    way = minus([0, 0, 0], way)
                self.assertAlmostEqual(degrees_apart(way, from_there), degrees, delta=1.0)
                self.assertGreater(dot(way, case.words[side]), 0.3)
                told += 1
        self.assertEqual(told, 2 * len(PLACES))

    def test_ticks_and_sections_name_the_ends_that_they_point_to(self):
        for case in self.cases():
            with self.subTest(case.name):
                for mark in (m for m in case.piece["marks"] if m["kind"] == "tick"):
                    _, outer = mark["points"]
                    way, normal = case.mesh.on_hull((0, 0), unit(outer))
                    self.assertGreater(dot(way, tangent(case.words[mark["text"]], normal)), 0.85)
        for name, (plan, _) in self.planned.items():
            for section in plan["sections"]:
                with self.subTest(place=name, section=section["name"]):
                    points = plan["frame"]["points_to"]
                    ends = {0: ["left", "right"], 90: ["bottom", "top"]}[section["angle_deg"]]
                    self.assertEqual(section["ends"], [points[end] for end in ends])
                    self.assertLess(section["edge"][0][0], 0)


if __name__ == "__main__":
    unittest.main(verbosity=2)
