#!/usr/bin/env python3
"""The workbench in FreeCAD's window: a first repair by simulated clicks, as its README tells it."""
import pathlib
import os
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import freecad  # noqa: E402
from screen import Screen  # noqa: E402

# Screenshots of each step, to be looked at.
PICTURES = pathlib.Path(os.environ["TEARLINE_BUILD"]) / "cad-pictures"


class WorkbenchWindow(unittest.TestCase):
    def test_a_first_repair(self):
        with tempfile.TemporaryDirectory() as folder, Screen(folder, 1400, 900) as screen:
            environment = {**freecad.prepare(folder), "TEARLINE_PICTURES": str(PICTURES),
                           "DISPLAY": screen.environment["DISPLAY"], "QT_QPA_PLATFORM": "xcb"}
            done = freecad.run_window("first_repair.py", environment)
        report = freecad.report_of(done)
        print(report)
        self.assertEqual(done.returncode, 0)
        self.assertGreaterEqual(len(list(PICTURES.glob("*.png"))), 10)


if __name__ == "__main__":
    unittest.main(verbosity=2)
