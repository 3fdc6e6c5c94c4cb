#!/usr/bin/env python3
"""The workbench in FreeCAD's window: a first repair by simulated clicks, as its README tells it."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchWindow(WindowTest):
    def test_a_first_repair(self):
        self.run_script("first_repair.py", 250)

    def test_disc_inches_stopping_and_a_second_repair(self):
        self.run_script("more_repairs.py", 250)


if __name__ == "__main__":
    unittest.main(verbosity=2)
