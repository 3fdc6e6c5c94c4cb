"""What is installed for programs that use the library: the example builds against it and gives the
plan's own figures."""
import json
import os
import pathlib
import re
import subprocess
import tempfile
import tomllib
import unittest
import xml.etree.ElementTree

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


class ForAUser(unittest.TestCase):
    def test_every_installed_job_has_its_model_and_every_guide_its_pictures(self):
        with tempfile.TemporaryDirectory() as folder:
            run("cmake", "--install", BUILD, "--component", "tearline", "--prefix", folder)
            samples = pathlib.Path(folder) / "share" / "tearline" / "sample-models"
            jobs = list(samples.rglob("*.toml"))
            self.assertEqual({job.relative_to(samples) for job in jobs},
                             {job.relative_to(JOB.parent) for job in JOB.parent.rglob("*.toml")})
            for job in jobs:
                model = tomllib.loads(job.read_text("utf-8")).get("hull", {}).get("model")
                self.assertTrue(model is None or (job.parent / model).is_file(), f"{job}: {model}")
            for guide in (samples / "guides").glob("*.md"):
                for picture in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", guide.read_text("utf-8")):
                    self.assertTrue((guide.parent / picture).is_file(), f"{guide}: {picture}")

    def test_a_double_click_knows_every_job_file(self):
        # Second computation: the rules of shared-mime-info's magic, for the two kinds in use.
        rules = xml.etree.ElementTree.parse(SOURCE / "cli" / "package" / "tearline-job.xml").getroot()
        space = "{http://www.freedesktop.org/standards/shared-mime-info}"

        def holds(match, data):
            first, last = (int(n) for n in match.get("offset").split(":"))
            value = match.get("value").encode()
            below = match.findall(f"{space}match")
            return (any(data.startswith(value, at) for at in range(first, last + 1))
                    and (not below or any(holds(inner, data) for inner in below)))

        def is_job(data):
            return any(holds(match, data) for match in rules.findall(f".//{space}magic/{space}match"))

        self.assertFalse(is_job(b'[tool]\nname = "hull"\n'))
        self.assertTrue(is_job(b'[hull]\nmodel = "a.step"\n[damage]\ndepth = 6\n'), "the version may be left out")
        for job in JOB.parent.rglob("*.toml"):
            self.assertTrue(is_job(job.read_bytes()), job)


if __name__ == "__main__":
    unittest.main(verbosity=2)
