#!/usr/bin/env python3
"""Programs that are no engine, what a change costs, and what stays of an older plan."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchEngine(WindowTest):
    def test_no_program_makes_the_window_stand_still(self):
        self.run_script("dead_engines.py", 250)

    def test_nothing_of_an_older_plan_stays(self):
        self.run_script("kept_tidy.py", 250)

    def test_a_changed_figure_costs_little(self):
        self.run_script("speed.py", 150)


if __name__ == "__main__":
    unittest.main(verbosity=2)
