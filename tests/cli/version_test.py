"""One version everywhere, and what the program says it was built with."""
import os
import pathlib
import re
import subprocess
import unittest

TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])


class Version(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.said = subprocess.run([TEARLINE, "--version"], capture_output=True, text=True,
                                  check=True).stdout.splitlines()

    def test_it_is_the_projects_the_workbenchs_and_the_newest_of_the_changelog(self):
        self.assertRegex(self.said[0], r"^tearline \d+\.\d+\.\d+$")
        version = self.said[0].split()[1]
        project = (SOURCE / "CMakeLists.txt").read_text("utf-8")
        self.assertEqual(re.search(r"project\(tearline VERSION (\S+)", project)[1], version)
        workbench = (SOURCE / "cad-plugin" / "package.xml").read_text("utf-8")
        self.assertEqual(re.search(r"<version>(.*?)</version>", workbench)[1], version)
        changes = (SOURCE / "cli" / "CHANGELOG.md").read_text("utf-8")
        self.assertEqual(re.search(r"(?m)^## (\d+\.\d+\.\d+)", changes)[1], version)

    def test_it_says_what_it_was_built_with(self):
        self.assertEqual(len(self.said), 2)
        self.assertTrue(self.said[1].startswith("built with "))
        for what in (r"g\+\+|clang", "OpenCASCADE", "CGAL", "Eigen", "nlohmann-json", "Qt"):
            self.assertRegex(self.said[1], rf"(?:{what}) \d+\.\d+")


if __name__ == "__main__":
    unittest.main(verbosity=2)
