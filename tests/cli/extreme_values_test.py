#!/usr/bin/env python3
"""Every key of the job file with values that no person means: each is refused at once, by its name, or planned; none
brings the program down, runs away or is taken without a word. Before a release every value that a key may hold at
its very ends is planned too, within a limit of time and memory."""
import json
import os
import pathlib
import random
import resource
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import extreme_values  # noqa: E402
from engine import Engine  # noqa: E402
from random_repairs import START, TEARLINE  # noqa: E402

LONG = bool(os.environ.get("TEARLINE_LONG"))
# What is wrong elsewhere and says something to a key of that kind.
TAKEN = {("text", "empty text"), ("text", "space"), ("truth", "truth"), ("plies", "empty list"), ("table", "empty table"),
         ("places of marks", "empty table"), ("prices of cloths", "empty table")}
OF_A_BOAT = ("remnant", "repair", "allow_overlap")  # which the engine takes for no job


class ExtremeValues(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        engine = Engine()
        header, body = engine.ask("keys")
        assert header["ok"]
        cls.keys = json.loads(body)["keys"]
        engine.close()

    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline extremes ")
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        (self.room / "dish.xyz").write_text(extreme_values.dish_points(), encoding="ascii")

    def drawn(self, share):
        """Every case, or by chance so many in a hundred of them."""
        draw = random.Random(START)
        return (case for case in extreme_values.cases(self.keys) if LONG or draw.random() < share)

    def test_values_of_another_kind_are_refused_by_name(self):
        kinds = {f"{entry['table']}.{entry['key']}".lstrip("."): entry["kind"] for entry in self.keys + extreme_values.TABLES}
        engine = Engine()
        self.addCleanup(engine.stop)
        for path, name, number, text in self.drawn(0.2):
            if name not in extreme_values.WRONG or number > 0 or path.startswith(OF_A_BOAT):
                continue
            header, _ = engine.ask("plan", text.encode(), file=str(self.room / "job.toml"))
            with self.subTest(path=path, value=name):
                if (kinds.get(path), name) in TAKEN and header["ok"]:
                    continue
                self.assertFalse(header["ok"])
                self.assertIn(header["error"], ("bad-input", "no-safe-answer"), header)
                self.assertRegex(header["message"], r"job\.toml:\d+: ")
                self.assertLess(len(header["message"]), 1500)
                self.assertTrue(header["message"].isprintable(), header["message"])
                if "not a TOML file" not in header["message"] and "stands in quotes" not in header["message"]:
                    self.assertIn(path.split(".")[-1], header["message"])
        self.assertEqual(engine.close(), 0)

    def planned(self, text):
        (self.room / "job.toml").write_text(text, encoding="utf-8")
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        run = subprocess.run(["sh", "-c", 'ulimit -t 60; ulimit -v 3000000; exec "$@"', "sh", TEARLINE, "plan", str(self.room / "job.toml"),
                              "-o", str(self.room / "out"), "--format", "svg"], capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(["rm", "-rf", str(self.room / "out")], check=True)
        return run, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    def plan_all(self, cases):
        for path, name, number, text in cases:
            with self.subTest(path=path, value=name, base=number):
                run, seconds = self.planned(text)
                self.assertIn(run.returncode, (0, 3, 4), run.stderr)
                self.assertLess(seconds, 20)
                if run.returncode != 0:
                    self.assertIn("job.toml", run.stderr)
                    self.assertNotIn("\ttearline:", run.stderr)

    def test_much_of_the_same_costs_no_more(self):
        # 22.9 and 24.5 s of processor time: all of a straight corner was meshed, and each of many like lots laid anew.
        corner, curlew = extreme_values.sample("curlew-coaming"), extreme_values.sample("curlew")
        for job, table, key, usual, many, most in ((corner, "hull.corner", "length", "5000", "20000", 2), (curlew, "layup", "copies", "100", "1000", 4)):
            with self.subTest(key):
                times = []
                for value in (usual, many):
                    run, seconds = self.planned(extreme_values.written(extreme_values.put(job, table, key, value)))
                    self.assertEqual(run.returncode, 0, run.stderr)
                    times.append(seconds)
                self.assertLess(times[1], most * times[0])

    def test_more_cloth_than_is_laid_is_refused_at_once(self):
        # A disc of 3 m radius is 6 m wide, on rolls of 1.25 m at least 5 strips a ply: of 60 plies 300, of 2 plies 10.
        (self.room / "plate.obj").write_text("v -6000 0 -6000\nv 6000 0 -6000\nv 6000 0 6000\nv -6000 0 6000\nf 1 2 3 4\n", encoding="ascii")
        job = extreme_values.plate()
        job["hull"] |= {"model": "plate.obj", "unit": "mm", "skin": 60}
        for plies, status in ((60, 4), (2, 0)):
            job["damage"] = {"centre": [0, 0, 0], "radius": 3000, "depth": 0.5 * plies}
            job["layup"] = {"stack": ["roving 600"] * plies, "cover": []}
            with self.subTest(plies):
                run, seconds = self.planned(extreme_values.written(job))
                self.assertEqual(run.returncode, status, run.stderr)
                self.assertLess(seconds, 20)
                if status:
                    self.assertRegex(run.stderr, r"job\.toml:\d+: layup: 60 plies of this size take at least \d+ pieces of cloth, .*roll_width")

    def test_values_of_a_boats_keys(self):
        self.plan_all(case for case in self.drawn(0.03) if case[0].startswith(OF_A_BOAT))

    @unittest.skipUnless(LONG, "takes long: tests/run --release")
    def test_values_at_the_ends_of_what_is_allowed(self):
        self.plan_all(case for case in self.drawn(1.0) if case[1] not in extreme_values.WRONG)

    def test_what_an_outline_goes_round_is_not_taken_without_a_word(self):
        # Round the ground area, its scarf would be ground outside it once more.
        engine = Engine()
        self.addCleanup(engine.stop)
        base = extreme_values.plate()
        for text, ok in (('"floor"', True), ('"ground area"', False), ('"grond area"', False), ("7", False)):
            job = extreme_values.written(extreme_values.put(base, "damage", "round", text))
            header, _ = engine.ask("plan", job.encode(), file="job.toml")
            self.assertEqual(header["ok"], ok, header)
            if not ok:
                self.assertIn("damage.round", header["message"])
        self.assertEqual(engine.close(), 0)

    def test_a_bend_wider_than_its_scan_is_refused(self):
        # No point of the scan lay on either side of it.
        engine = Engine()
        self.addCleanup(engine.stop)
        job = extreme_values.written(extreme_values.put(extreme_values.bases()["hull.scan.crease"][0], "hull.scan.crease", "radius", "5000"))
        header, _ = engine.ask("plan", job.encode(), file="job.toml")
        self.assertEqual((header["error"], header["key"]), ("bad-input", "hull.scan.crease[1].radius"))
        self.assertIn("scan farther to both sides", header["message"])
        self.assertEqual(engine.close(), 0)

    def test_a_name_that_says_nothing_is_as_none(self):
        engine = Engine()
        self.addCleanup(engine.stop)
        for table, key in (("core", "material"), ("damage.scan", "model"), ("damage.scan_after", "model"), ("hull", "model")):
            for blank in ('""', '" "', r'"\t"'):
                job = extreme_values.written(extreme_values.put(extreme_values.bases()[table][0], table, key, blank))
                header, _ = engine.ask("plan", job.encode(), file=str(self.room / "job.toml"))
                self.assertEqual(header.get("error"), "bad-input", (table, key, blank))
                self.assertIn(f".{key}", header["message"])
        self.assertEqual(engine.close(), 0)


if __name__ == "__main__":
    unittest.main()
