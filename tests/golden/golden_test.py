"""Sample jobs against their golden copies: plan.json and one template each; and a boat's plan.json.

    golden_test.py                  compares and says what changed
    UPDATE_GOLDEN=1 golden_test.py  writes the copies anew; say why in the commit

They hold point for point with the libraries that they were made with (Debian 12's); with others
outlines hold as curves, and areas and masses, as two_releases.py says.

The numbers of the copies are the program's own: they prove nothing but that nothing moved. What is
right stands in tests/reference.
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import two_releases  # noqa: E402
import what_changed  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent
TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"
UPDATE = os.environ.get("UPDATE_GOLDEN") == "1"
# job: the template kept
JOBS = {"panel": "1A", "frustum": "2A", "curlew-deck-edge": "2A", "curlew-coaming": "3A"}


MADE_WITH = "OpenCASCADE 7.6"
SAME_LIBRARIES = MADE_WITH in subprocess.run([TEARLINE, "--version"], capture_output=True, text=True,
                                             check=True).stdout


def changes(was, plan):
    if SAME_LIBRARIES:
        return what_changed.changes(was, plan)
    seen = two_releases.Comparison()
    seen.look(was, plan)
    return seen.faults


class Golden(unittest.TestCase):
    def check(self, job, template):
        with tempfile.TemporaryDirectory() as room:
            out = pathlib.Path(room) / "out"
            run = subprocess.run([TEARLINE, "plan", str(SAMPLES / f"{job}.toml"), "-o", str(out),
                                  "--format", "svg"], capture_output=True, text=True, check=False)
            self.assertEqual(run.returncode, 0, run.stderr)
            plan = json.loads((out / "plan.json").read_text(encoding="utf-8"))
            svg = (out / "templates" / f"{template}.svg").read_text(encoding="utf-8")
        kept_plan, kept_svg = HERE / f"{job}.plan.json", HERE / f"{job}.{template}.svg"
        if UPDATE:
            kept_plan.write_text(what_changed.written(what_changed.canonical(plan)) + "\n",
                                 encoding="utf-8")
            kept_svg.write_text(svg, encoding="utf-8")
        was = json.loads(kept_plan.read_text(encoding="utf-8"))
        found = changes(was, plan)
        if SAME_LIBRARIES:
            found += [f"{kept_svg.name}: {line}" for line in what_changed.svg_changes(
                kept_svg.read_text(encoding="utf-8"), svg)]
        self.assertEqual(found, [], f"{job}:\n" + "\n".join(found))

    def test_boat(self):
        """Eight places of one boat: what they share. Their own plans are as those of single jobs."""
        kept = HERE / "curlew-refit.plan.json"
        with tempfile.TemporaryDirectory() as room:
            run = subprocess.run([TEARLINE, "plan", str(SAMPLES / "boats" / "curlew-refit.toml"), "--json"],
                                 capture_output=True, text=True, check=False, cwd=room)
        self.assertEqual(run.returncode, 0, run.stderr)
        boat = json.loads(run.stdout)
        if UPDATE:
            kept.write_text(what_changed.written(what_changed.canonical(boat)) + "\n", encoding="utf-8")
        self.assertEqual(changes(json.loads(kept.read_text(encoding="utf-8")), boat), [])

    def test_panel(self):
        self.check("panel", JOBS["panel"])

    def test_frustum_from_inside(self):
        self.check("frustum", JOBS["frustum"])

    def test_lapped_over_the_deck_edge(self):
        self.check("curlew-deck-edge", JOBS["curlew-deck-edge"])

    def test_a_corner_by_its_few_figures(self):
        self.check("curlew-coaming", JOBS["curlew-coaming"])


class WhatChanged(unittest.TestCase):
    """The comparison itself sees what it should see, and no more."""

    square = [[0, 0], [100, 0], [100, 100], [0, 100]]

    def test_more_points_on_the_same_line_are_no_change(self):
        finer = [[0, 0], [50, 0], [100, 0], [100, 100], [30, 100], [0, 100]]
        self.assertEqual(what_changed.changes(what_changed.canonical(self.square), finer), [])

    def test_a_moved_line_is_told_by_how_far(self):
        moved = [[x + 0.5, y] for x, y in self.square]
        self.assertEqual(what_changed.changes(what_changed.canonical(self.square), moved),
                         ["plan: the line moved by 0.500 mm"])

    def test_a_line_turned_round_is_told(self):
        told = what_changed.changes(what_changed.canonical(self.square), self.square[::-1])
        self.assertEqual(told, ["plan: the line winds the other way"])

    def test_figures_words_and_names(self):
        was = what_changed.canonical({"a": 1.0, "b": "12.3 mm", "c": None})
        self.assertEqual(what_changed.changes(was, {"a": 1.00001, "b": "12.4 mm", "c": None}), [])
        told = what_changed.changes(was, {"a": 1.1, "b": "12.9 mm", "d": 0})
        self.assertEqual(told, ["plan.c: is gone", "plan.d: is new", "plan.a: 1.0 -> 1.1",
                                "plan.b: '12.3 mm' -> '12.9 mm'"])

    def test_words_and_lines_of_a_drawing(self):
        was = '<svg><path d="M 0 0 L 10 0"/><text>one</text></svg>'
        self.assertEqual(what_changed.svg_changes(was, was), [])
        now = '<svg><path d="M 0 1 L 10 1"/><text>two</text></svg>'
        self.assertEqual(len(what_changed.svg_changes(was, now)), 2)


if __name__ == "__main__":
    unittest.main()
