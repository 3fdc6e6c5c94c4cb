#!/usr/bin/env python3
"""The workbench without a window: objects, recompute, save and reopen, undo, a lost engine."""
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import freecad  # noqa: E402


class WorkbenchObjects(unittest.TestCase):
    def test_inside_freecad(self):
        self.run_module("TestTearlineObjects")

    def test_scans_of_the_ground(self):
        self.run_module("TestTearlineScans")

    def run_module(self, module):
        with tempfile.TemporaryDirectory() as folder:
            done = freecad.run_tests(module, freecad.prepare(folder))
        report = freecad.report_of(done)
        print(report)
        self.assertRegex(report, r"Ran [1-9]\d* tests")
        self.assertEqual(done.returncode, 0)


if __name__ == "__main__":
    unittest.main(verbosity=2)
