"""plan.json against core/formats/plan.schema.json, by a validator that is not ours: every sample, and
jobs that have what the samples lack."""
import copy
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import system_python  # noqa: E402
from closed_schema import closed  # noqa: E402

jsonschema = system_python.module("jsonschema")
TEARLINE = os.environ["TEARLINE"]
SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
SAMPLES = SOURCE / "sample-models"
SCHEMA = json.loads((SOURCE / "core" / "formats" / "plan.schema.json").read_text("utf-8"))


VALIDATOR = jsonschema.Draft202012Validator(closed(SCHEMA))


def planned(job, *words):
    done = subprocess.run([TEARLINE, "plan", str(job), "--json", *words], capture_output=True,
                          text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"{job}: {done.stderr}")
    return json.loads(done.stdout)


def complaints(plan):
    return [f"{'/'.join(map(str, error.absolute_path))}: {error.message[:200]}"
            for error in VALIDATOR.iter_errors(plan)]


class PlanSchema(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        jsonschema.Draft202012Validator.check_schema(SCHEMA)
        cls.plans = {job.stem: planned(job) for job in sorted(SAMPLES.glob("*.toml"))}
        text = (SAMPLES / "curlew.toml").read_text("utf-8").replace(
            'model = "', f'model = "{SAMPLES}/')
        text += ('\n[prices]\ncurrency = "EUR"\nresin_per_kg = 6.0\n'
                 '[old_laminate]\nthickness = "8 mm"\nkind = "mat"\n')
        with tempfile.TemporaryDirectory() as folder:
            job = pathlib.Path(folder, "job.toml")
            job.write_text(text, encoding="utf-8")
            cls.plans["old laminate and prices"] = planned(job)
        cls.plans["after three plies"] = planned(SAMPLES / "curlew-taped.toml", "--after", "3")

    def test_every_plan_is_as_the_schema_says(self):
        self.assertGreaterEqual(len(self.plans), 10)
        for name, plan in self.plans.items():
            with self.subTest(name):
                self.assertEqual(complaints(plan), [])

    def test_no_field_of_the_schema_is_never_written(self):
        written = set()
        for plan in self.plans.values():
            written |= set(plan)
        self.assertEqual(written, set(SCHEMA["properties"]))

    def test_a_plan_that_is_not_so_is_found(self):
        def broken(change):
            plan = copy.deepcopy(self.plans["panel"])
            change(plan)
            return complaints(plan)
        self.assertTrue(broken(lambda plan: plan.pop("totals")))
        self.assertTrue(broken(lambda plan: plan.update(new_field=1)))
        self.assertTrue(broken(lambda plan: plan["plies"][0].update(fabric=None)))
        self.assertTrue(broken(lambda plan: plan["plies"][0]["pieces"][0].update(net_line=[[0, 0]])))
        self.assertTrue(broken(lambda plan: plan["plies"][0]["pieces"][0]["marks"][0].update(kind="x")))
        self.assertTrue(broken(lambda plan: plan["totals"].update(resin_g="1")))


if __name__ == "__main__":
    unittest.main(verbosity=2)
