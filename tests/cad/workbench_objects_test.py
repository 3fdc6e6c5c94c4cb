#!/usr/bin/env python3
"""The workbench without a window: plans, hulls, saved files and undo, job files, a lost engine, scans."""
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import freecad  # noqa: E402


class WorkbenchObjects(unittest.TestCase):
    def test_plans(self):
        self.run_module("TestTearlinePlans")

    def test_hulls(self):
        self.run_module("TestTearlineHulls")

    def test_saved_and_undone(self):
        self.run_module("TestTearlineSaved")

    def test_job_files(self):
        self.run_module("TestTearlineJobs")

    def test_the_engine(self):
        self.run_module("TestTearlineEngine")

    def test_scans_of_the_ground(self):
        self.run_module("TestTearlineScans")

    def run_module(self, module):
        with tempfile.TemporaryDirectory() as folder:
            done = freecad.run_tests(module, folder)
        report = freecad.report_of(done)
        print(report)
        self.assertRegex(report, r"Ran [1-9]\d* tests")
        self.assertEqual(done.returncode, 0)


if __name__ == "__main__":
    unittest.main(verbosity=2)
