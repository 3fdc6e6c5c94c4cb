#!/usr/bin/env python3
"""The workbench in FreeCAD's window: a first repair by simulated clicks, as its README tells it."""
import os
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import freecad  # noqa: E402
from screen import Screen  # noqa: E402

# Screenshots of each step, to be looked at.
PICTURES = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "cad-pictures"


class WorkbenchWindow(unittest.TestCase):
    def run_script(self, script):
        with tempfile.TemporaryDirectory() as folder, Screen(folder, 1400, 900) as screen:
            environment = {**freecad.prepare(folder), "TEARLINE_PICTURES": str(PICTURES),
                           "DISPLAY": screen.environment["DISPLAY"], "QT_QPA_PLATFORM": "xcb"}
            done = freecad.run_window(script, environment)
        report = freecad.report_of(done)
        print(report)
        self.assertEqual(done.returncode, 0)

    def test_a_first_repair(self):
        self.run_script("first_repair.py")

    def test_disc_inches_stopping_and_a_second_repair(self):
        self.run_script("more_repairs.py")


if __name__ == "__main__":
    unittest.main(verbosity=2)
