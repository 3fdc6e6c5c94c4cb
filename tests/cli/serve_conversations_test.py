#!/usr/bin/env python3
"""Long conversations with one engine: whatever was asked before, each answer is the one that a program
started for it alone gives, byte for byte; what goes wrong in between leaves no trace."""
import hashlib
import json
import math
import pathlib
import random
import re
import struct
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from engine import Engine, parts  # noqa: E402
from random_repairs import SAMPLES, START, TEARLINE, Repair  # noqa: E402

NUMBERS = (0, 3, 6, 22, 27)


class ServeConversations(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}, repairs {NUMBERS}")
        cls.room = tempfile.TemporaryDirectory()
        cls.jobs, cls.alone = {}, {}
        for number in NUMBERS:
            file = pathlib.Path(cls.room.name) / f"repair{number}.toml"
            file.write_text(Repair(number).text, encoding="utf-8")
            cls.jobs[number] = (file.read_bytes(), str(file))
            done = subprocess.run([TEARLINE, "plan", str(file), "--json"], capture_output=True, check=False)
            assert done.returncode == 0, done.stderr
            cls.alone[number] = done.stdout

    @classmethod
    def tearDownClass(cls):
        cls.room.cleanup()

    def setUp(self):
        self.engine = Engine()
        self.addCleanup(self.engine.stop)

    def plan(self, number):
        text, file = self.jobs[number]
        header, body = self.engine.ask("plan", text, file=file)
        self.assertTrue(header["ok"], header)
        return parts(header, body)

    def test_plans_in_any_order_are_those_of_a_program_of_their_own(self):
        # One hull after the other and back again, the same twice: the hull and the last plan are kept.
        order = [*NUMBERS, *NUMBERS[::-1], NUMBERS[0], NUMBERS[0]]
        random.Random(START).shuffle(order)
        for number in order:
            self.assertEqual(self.plan(number)["plan.json"], self.alone[number], number)

    def test_what_is_refused_in_between_leaves_no_trace(self):
        text, file = self.jobs[6]
        for bad in (text.replace(b"depth", b"detph"), b"", b"= =", text.replace(b"wigley.step", b"none.step"),
                    text.replace(b"[damage]", b"[damage]\ndepth = 1"),
                    re.sub(rb"centre = \[[^]]*\]", b"centre = [0, 0, 9999]", text)):
            header, body = self.engine.ask("plan", bad, file=file)
            self.assertFalse(header["ok"], bad[:60])
            self.assertEqual(header["error"], "bad-input")
            self.assertTrue(header["message"])
            self.assertEqual(body, b"")
            self.assertEqual(self.plan(6)["plan.json"], self.alone[6])

    def test_refusals_are_the_command_lines_words(self):
        # The same sentence that stands on stderr, with FILE:LINE in front of it.
        text, file = self.jobs[22]
        for bad in (text.replace(b"radius", b"radus"), text.replace(b"ratio = ", b"ratio = -"),
                    text.replace(b'"mat 300"', b'"mta 300"')):
            self.assertNotEqual(bad, text)
            header, _ = self.engine.ask("plan", bad, file=file)
            path = pathlib.Path(self.room.name) / "bad.toml"
            path.write_bytes(bad)
            done = subprocess.run([TEARLINE, "plan", str(path), "--json"], capture_output=True, text=True,
                                  check=False)
            self.assertEqual(done.returncode, 3)
            self.assertIn(header["message"].replace(file, str(path)), done.stderr)

    def test_progress_goes_from_nothing_to_all_in_named_stages(self):
        text, file = self.jobs[3]
        header, _ = self.engine.ask("plan", text, id=77, file=file)
        self.assertTrue(header["ok"])
        told = self.engine.progress
        self.assertGreater(len(told), 3)
        self.assertEqual({each["id"] for each in told}, {77})
        fractions = [each["fraction"] for each in told]
        self.assertEqual(fractions, sorted(fractions))
        self.assertTrue(all(0 <= f <= 1 for f in fractions), fractions)
        self.assertTrue(all(each["progress"].strip() and each["bytes"] == 0 for each in told))

    def test_an_answer_carries_the_very_id_of_its_request(self):
        for name in (1, -5, 2 ** 53, "seven", None, 1.5, [1, {"a": 2}], ""):
            self.engine.send({"id": name, "request": "ping"})
            header, _ = self.engine.answer()
            self.assertEqual(header["id"], name)
            self.assertTrue(header["ok"])

    def test_answers_come_in_the_order_of_the_requests(self):
        text, file = self.jobs[27]
        for k in range(6):
            self.engine.send({"id": k, "request": "plan" if k % 2 else "ping", "file": file},
                             text if k % 2 else b"")
        self.assertEqual([self.engine.answer()[0]["id"] for _ in range(6)], list(range(6)))

    def test_a_cancel_hits_its_target_alone(self):
        # It waits behind another when the cancel is heard; before it had come nothing would be cancelled.
        for k, number in ((2, 0), (3, 22), (4, 27)):  # a plan that is kept would be answered at once
            text, file = self.jobs[number]
            self.engine.send({"id": k, "request": "plan", "file": file}, text)
        self.engine.send({"id": 1, "request": "cancel", "target": 3})
        answers = [self.engine.answer()[0] for _ in range(3)]
        self.assertEqual([(a["id"], a["ok"]) for a in answers], [(2, True), (3, False), (4, True)])
        self.assertEqual(answers[1]["error"], "cancelled")

    def test_a_cancel_that_hits_nothing_is_no_matter(self):
        for target in (99, "x", None, 1.5):
            self.engine.send({"id": 1, "request": "cancel", "target": target})
        self.engine.send({"id": 2, "request": "cancel"})
        self.assertTrue(self.engine.ask("ping")[0]["ok"])

    def test_a_cancelled_plan_is_not_kept_for_writing(self):
        text, file = self.jobs[0]
        self.engine.send({"id": 5, "request": "plan", "file": file}, text)
        self.engine.send({"id": 1, "request": "cancel", "target": 5})
        self.assertFalse(self.engine.answer()[0]["ok"])
        header, _ = self.engine.ask("write", folder=str(pathlib.Path(self.room.name) / "never"))
        self.assertEqual((header["ok"], header["error"]), (False, "bad-request"))

    def test_it_writes_what_the_command_writes(self):
        # Every file of the folder, by SHA-256, for options of the request and words of the command.
        text, file = self.jobs[22]
        for k, (fields, words) in enumerate((
                ({}, ()),
                ({"mirror": True, "formats": ["svg", "hpgl"]}, ("--mirror", "--format", "svg,hpgl")),
                ({"formats": ["dxf", "dxf2000"]}, ("--format", "dxf,dxf2000")))):
            ours, its = (pathlib.Path(self.room.name) / f"{who}{k}" for who in ("engine", "command"))
            header, _ = self.engine.ask("write", text, file=file, folder=str(ours), **fields)
            self.assertTrue(header["ok"], header)
            subprocess.run([TEARLINE, "plan", file, "-o", str(its), *words], check=True, capture_output=True)
            self.assertEqual(hashes(ours), hashes(its), words)

    def test_it_does_not_write_over_what_is_not_its_own(self):
        folder = pathlib.Path(self.room.name) / "mine"
        folder.mkdir()
        (folder / "notes.txt").write_text("mine", encoding="utf-8")
        text, file = self.jobs[22]
        header, _ = self.engine.ask("write", text, file=file, folder=str(folder))
        self.assertEqual((header["ok"], header["error"]), (False, "output-failed"))
        self.assertIn("notes.txt", header["message"])
        self.assertEqual([p.name for p in folder.iterdir()], ["notes.txt"])

    def test_the_meshes_are_those_of_the_folder(self):
        text, file = self.jobs[6]
        folder = pathlib.Path(self.room.name) / "meshes"
        made = self.plan(6)
        self.assertTrue(self.engine.ask("write", folder=str(folder))[0]["ok"])
        for name, data in made.items():
            if name != "dish.bin":
                self.assertEqual(data, (folder / name).read_bytes(), name)

    def test_the_dish_is_as_deep_as_the_job_says(self):
        # The panel is flat: its dish is the damage's depth over the floor and none outside the scarf.
        made = self.plan(22)
        plan = json.loads(made["plan.json"])
        line, body = made["dish.bin"].split(b"\n", 1)
        arrays = {a["name"]: a for a in json.loads(line)["arrays"]}
        depth = numbers(body, arrays["depth"])
        base = numbers(body, arrays["base"])
        job = plan["job"]["effective"]
        deep, ratio, r = job["damage"]["depth"], job["scarf"]["ratio"], job["damage"]["radius"]
        self.assertAlmostEqual(max(d for d, in depth), deep, delta=1e-9)
        self.assertGreaterEqual(min(d for d, in depth), 0.0)
        for (x, y, z), (d,) in zip(base, depth):
            self.assertAlmostEqual(y, 0.0, delta=1e-6)
            away = math.hypot(x - job["damage"]["centre"][0], z - job["damage"]["centre"][2]) - r
            self.assertAlmostEqual(d, min(deep, max(0.0, deep - away / ratio)), delta=0.02)

    def test_a_draft_of_a_disc_is_the_disc(self):
        # Closed form on the panel: every point of the outline r from the middle, of the scarf r + ratio D.
        text, file = self.jobs[22]
        repair = Repair(22)
        for x, z, r in ((0, 0, 40), (25, -60, 55), (-300, 40, 30)):
            moved = re.sub(rb"centre = .*\nradius = .*", f"centre = [{x}, 0, {z}]\nradius = {r}".encode(), text)
            header, body = self.engine.ask("outline", moved, file=file)
            self.assertTrue(header["ok"], header)
            draft = json.loads(body)
            for loop, wanted in ((draft["outline_3d"], r), (draft["scarf_3d"][0], r + repair.ratio * repair.depth)):
                for px, py, pz in loop:
                    self.assertAlmostEqual(math.hypot(px - x, pz - z), wanted, delta=0.06)
                    self.assertAlmostEqual(py, 0.0, delta=1e-6)
            self.assertAlmostEqual(sum(c * c for c in draft["normal"]), 1.0, delta=1e-9)
            self.assertLess(math.dist(draft["middle"], (x, 0, z)), 0.05)

    def test_hulls_are_told_as_their_files_hold_them(self):
        # Second route: area and extent summed over the triangles of the file by this script.
        for name in ("panel", "cone", "curlew", "sphere"):
            triangles = stl(SAMPLES / f"{name}.stl")
            header, body = self.engine.ask("hull", model=str(SAMPLES / f"{name}.stl"), unit="mm")
            self.assertTrue(header["ok"], header)
            told = json.loads(body)
            self.assertEqual(told["format"].upper()[:3], "STL")
            self.assertEqual(told["triangles"], len(triangles))
            area = sum(0.5 * math.hypot(*cross(minus(b, a), minus(c, a))) for a, b, c in triangles)
            self.assertAlmostEqual(told["area_mm2"] / area, 1.0, delta=1e-5)
            for k in range(3):
                values = [p[k] for t in triangles for p in t]
                self.assertAlmostEqual(told["extent_min"][k], min(values), delta=1e-3)
                self.assertAlmostEqual(told["extent_max"][k], max(values), delta=1e-3)

    def test_a_unit_scales_a_mesh(self):
        # By definition 25.4 mm an inch: lengths by it, areas by its square.
        tell = lambda unit: json.loads(self.engine.ask(  # noqa: E731
            "hull", model=str(SAMPLES / "panel.stl"), unit=unit)[1])
        mm, inch = tell("mm"), tell("in")
        self.assertAlmostEqual(inch["area_mm2"] / mm["area_mm2"], 25.4 ** 2, delta=1e-6)
        self.assertAlmostEqual(inch["extent_max"][0] / mm["extent_max"][0], 25.4, delta=1e-9)

    def test_wrong_fields_are_bad_requests_and_survived(self):
        text, file = self.jobs[22]
        folder = str(pathlib.Path(self.room.name) / "bad")
        for request, fields in (("hull", {}), ("hull", {"model": 3}), ("write", {"folder": 7}), ("write", {}),
                                ("write", {"folder": folder, "formats": [3]}),
                                ("write", {"folder": folder, "print_scale": 2.0}),
                                ("plan", {"file": 5}), ("mix", {"resin_g": [1]}), ("mix", {"plies": "two"})):
            header, _ = self.engine.ask(request, text if request in ("plan", "mix", "write") else b"",
                                        **{"file": file, **fields})
            self.assertFalse(header["ok"], (request, fields))
            self.assertEqual(header["error"], "bad-request", (request, fields, header))
        self.assertFalse(pathlib.Path(folder).exists())
        self.assertTrue(self.engine.ask("ping")[0]["ok"])

    def test_bye_ends_it_at_once(self):
        self.assertTrue(self.engine.ask("bye")[0]["ok"])
        self.assertEqual(self.engine.process.wait(10), 0)


def hashes(folder):
    return {str(p.relative_to(folder)): hashlib.sha256(p.read_bytes()).hexdigest()
            for p in folder.rglob("*") if p.is_file()}


def numbers(body, entry):
    rows, columns = entry["shape"]
    letter = {"float64": "d", "int32": "i"}[entry["type"]]
    flat = struct.unpack_from(f"<{rows * columns}{letter}", body, entry["offset"])
    return [flat[i:i + columns] for i in range(0, len(flat), columns)]


def stl(path):
    """Triangles of a binary STL file: 80 bytes, a count, then 50 bytes each."""
    data = path.read_bytes()
    count, = struct.unpack_from("<I", data, 80)
    assert len(data) == 84 + 50 * count, path
    found = []
    for k in range(count):
        v = struct.unpack_from("<12f", data, 84 + 50 * k)
        found.append((v[3:6], v[6:9], v[9:12]))
    return found


def minus(a, b):
    return [x - y for x, y in zip(a, b)]


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


if __name__ == "__main__":
    unittest.main()
