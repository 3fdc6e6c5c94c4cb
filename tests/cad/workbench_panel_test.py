#!/usr/bin/env python3
"""The panel and the tree with the screen's own mouse and keys."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchPanel(WindowTest):
    def test_narrow_scrolled_figures_tables_and_forms(self):
        self.run_script("daily.py", 280)

    def test_older_plans_picking_and_deleting(self):
        self.run_script("looks.py", 250)

    def test_the_tree_and_a_second_document(self):
        self.run_script("tree.py", 250)


if __name__ == "__main__":
    unittest.main(verbosity=2)
