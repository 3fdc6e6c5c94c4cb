#!/usr/bin/env python3
"""Marking the damage with the screen's own mouse and keys."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchMarking(WindowTest):
    def test_marking_undo_escape_and_two_views(self):
        self.run_script("marking.py", 250)

    def test_german_and_french(self):
        self.run_script("languages.py", 200)


if __name__ == "__main__":
    unittest.main(verbosity=2)
