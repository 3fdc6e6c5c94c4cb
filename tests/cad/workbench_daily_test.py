#!/usr/bin/env python3
"""Files in and out, a hull in an assembly, and what a person does wrong, in FreeCAD's window."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from freecad import WindowTest  # noqa: E402


class WorkbenchDaily(WindowTest):
    def test_pages_on_a_chosen_paper(self):
        self.run_script("papers.py", 250)

    def test_a_job_file_is_dropped(self):
        self.run_script("dropped.py", 250)

    def test_a_hull_in_an_assembly(self):
        self.run_script("assembled.py", 400)

    def test_mistakes_are_said_in_words(self):
        self.run_script("mistakes.py", 400)


if __name__ == "__main__":
    unittest.main(verbosity=2)
