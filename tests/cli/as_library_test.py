"""What is installed for programs that use the library: the example builds against it and gives the
plan's own figures."""
import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
BUILD = os.environ["TEARLINE_BUILD"]
EXAMPLE = SOURCE / "sample-models" / "as-library"
JOB = SOURCE / "sample-models" / "curlew.toml"


def run(*words):
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"{words}: {done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done.stdout


class AsLibrary(unittest.TestCase):
    def test_the_example_gives_the_figures_of_plan(self):
        with tempfile.TemporaryDirectory() as folder:
            there = pathlib.Path(folder)
            run("cmake", "--install", BUILD, "--component", "dev", "--prefix", there / "installed")
            run("cmake", "-S", EXAMPLE, "-B", there / "example", "-G", "Ninja",
                f"-DCMAKE_PREFIX_PATH={there / 'installed'}")
            run("cmake", "--build", there / "example")
            said = run(there / "example" / "resin_for_job", JOB)
        plan = json.loads(run(TEARLINE, "plan", JOB, "--json"))
        plies = re.findall(r"ply (\d+), (.+): (\d+) of cloth, (\d+) g glass, (\d+) g resin", said)
        self.assertEqual([(int(number), fabric, int(pieces), int(glass), int(resin))
                          for number, fabric, pieces, glass, resin in plies],
                         [(ply["number"], ply["fabric"], len(ply["pieces"]), round(ply["glass_g"]),
                           round(ply["resin_g"])) for ply in plan["plies"]])
        self.assertIn(f"resin to mix: {plan['totals']['resin_g']:.0f} g", said)
        for warning in plan["warnings"]:
            self.assertIn(warning["message"], said)

    def test_the_public_headers_include_nothing_that_is_not_installed(self):
        with tempfile.TemporaryDirectory() as folder:
            run("cmake", f"-DSOURCE={SOURCE}", f"-DINTO={folder}", "-P",
                SOURCE / "cli" / "package" / "headers.cmake")
            headers = list(pathlib.Path(folder).rglob("*.h"))
            self.assertGreater(len(headers), 7)
            for header in headers:
                for included in re.findall(r'(?m)^#include "([^"]+)"', header.read_text("utf-8")):
                    self.assertTrue((pathlib.Path(folder) / included).is_file(), f"{header}: {included}")
        lines = (EXAMPLE / "resin_for_job.cpp").read_text("utf-8").splitlines()
        self.assertLessEqual(len(lines), 40)


if __name__ == "__main__":
    unittest.main(verbosity=2)
