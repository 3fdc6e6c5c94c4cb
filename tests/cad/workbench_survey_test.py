#!/usr/bin/env python3
"""Scans, openings, ends and several repairs in FreeCAD's window."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchSurvey(WindowTest):
    def test_scans_openings_and_ends(self):
        self.run_script("scans.py", 400)

    def test_scans_of_the_ground_place(self):
        self.run_script("ground_scans.py", 250)

    def test_boat_variants_measuring_and_copies(self):
        self.run_script("beyond.py", 400)


if __name__ == "__main__":
    unittest.main(verbosity=2)
