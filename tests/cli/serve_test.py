#!/usr/bin/env python3
"""The engine answers a plain script over two pipes, and survives what is no request."""
import json
import math
import os
import pathlib
import re
import subprocess
import tempfile
import time
import unittest

PROGRAM = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"


class Engine:
    def __init__(self):
        self.process = subprocess.Popen([PROGRAM, "serve", "--stdio"], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE)

    def raw(self, data):
        self.process.stdin.write(data)
        self.process.stdin.flush()

    def send(self, header, body=b""):
        self.raw(json.dumps(dict(header, bytes=len(body))).encode() + b"\n" + body)

    def answer(self):
        """The next message that is no progress; what was told of that meanwhile stands in `told`."""
        self.told = []
        while True:
            line = self.process.stdout.readline()
            if not line:
                return None, b""
            header = json.loads(line)
            body = self.process.stdout.read(header["bytes"])
            if "progress" not in header:
                return header, body
            self.told.append((header["progress"], header["fraction"]))

    def ask(self, request, body=b"", **fields):
        self.send(dict(fields, id=fields.get("id", 1), request=request), body)
        return self.answer()

    def close(self):
        self.process.stdin.close()
        return self.process.wait(30)


def sample(name):
    path = SAMPLES / name
    return path.read_bytes(), str(path)


def at_centre(text, point):
    return re.sub(rb"centre = \[[^]]*\]", f"centre = {point}".encode(), text)


def farthest(points, loop):
    """How far a point lies from a closed line of points at most."""
    def from_segment(p, a, b):
        along = [y - x for x, y in zip(a, b)]
        length = sum(c * c for c in along)
        share = sum((x - y) * c for x, y, c in zip(p, a, along)) / length if length else 0.0
        foot = [x + min(1.0, max(0.0, share)) * c for x, c in zip(a, along)]
        return math.dist(p, foot)

    return max(min(from_segment(p, loop[i - 1], loop[i]) for i in range(len(loop)))
               for p in points[::7])


class Serve(unittest.TestCase):
    def setUp(self):
        self.engine = Engine()
        self.addCleanup(self.stop)

    def stop(self):
        if self.engine.process.poll() is None:
            self.engine.process.kill()
            self.engine.process.wait()
        for pipe in (self.engine.process.stdin, self.engine.process.stdout):
            try:
                pipe.close()
            except BrokenPipeError:
                pass

    def hello(self):
        header, _ = self.engine.ask("hello", protocol=1)
        self.assertTrue(header["ok"], header)
        return header

    def test_hello_tells_program_and_version(self):
        header = self.hello()
        self.assertEqual(header["program"], "tearline")
        self.assertRegex(header["version"], r"^\d+\.\d+\.\d+$")

    def test_core_and_backing_come_with_their_meshes(self):
        # Every mesh that plan.json names, as the command line writes them.
        self.hello()
        text, file = sample("curlew-cored.toml")
        header, body = self.engine.ask("plan", text, file=file)
        plan = json.loads(body[:header["parts"][0]["bytes"]])
        named = {piece["mesh"] for ply in plan["plies"] for piece in ply["pieces"]}
        named |= {piece["mesh"] for part in ("core", "backing") for piece in plan[part]["pieces"]}
        self.assertEqual({part["name"] for part in header["parts"]}, named | {"plan.json", "dish.bin"})
        self.assertIn("pieces/core.bin", named)

    def test_another_protocol_is_refused(self):
        header, _ = self.engine.ask("hello", protocol=99)
        self.assertEqual((header["ok"], header["error"]), (False, "bad-version"))

    def test_nothing_is_answered_before_hello(self):
        self.assertEqual(self.engine.ask("ping")[0]["error"], "bad-request")

    def test_a_plan_is_the_same_as_the_command_lines(self):
        self.hello()
        text, file = sample("cylinder.toml")
        header, body = self.engine.ask("plan", text, id=5, file=file)
        self.assertTrue(header["ok"], header)
        self.assertEqual(header["id"], 5)
        parts, at = {}, 0
        for part in header["parts"]:
            parts[part["name"]] = body[at:at + part["bytes"]]
            at += part["bytes"]
        self.assertEqual(at, len(body))
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            subprocess.run([PROGRAM, "plan", file, "-o", out], check=True, capture_output=True)
            self.assertIn("dish.bin", parts)  # for pictures only; the command writes no such file
            for name, data in parts.items():
                if name == "dish.bin":
                    continue
                self.assertEqual(data, (out / name).read_bytes(), name)

    def test_a_plan_with_some_keys_changed_is_that_of_an_engine_started_anew(self):
        # What was laid is kept; whatever is changed, nothing of the plan before may stay in the one after.
        self.hello()
        text, file = sample("cylinder.toml")
        changes = [text, text + b'\n[resin]\ncup = "400 g"\nwaste = 0.2\n', text + b"\n[resin]\ncured_density = 1.3\n",
                   re.sub(rb"title = .*", b'title = "Another"', text),
                   text + b"\n[shop]\ntemperature = 24\nstage_thickness = 2\n",
                   text + b"\n[shop]\ncutting_gap = 30\n",
                   text + b'\n[prices]\ncurrency = "EUR"\nresin_per_kg = 7\n',
                   text + b'\n[topcoat]\nfinish = "final"\nthickness = 0.4\n', text]
        plans = []
        for changed in changes:
            plans.append(self.engine.ask("plan", changed, file=file))
            self.assertTrue(plans[-1][0]["ok"], plans[-1][0])
        self.assertEqual(len({body for _, body in plans}), len(changes) - 1)
        for changed, plan in zip(changes[:-1], plans):
            anew = Engine()
            anew.ask("hello", protocol=1)
            self.assertEqual(anew.ask("plan", changed, file=file), plan)
            self.assertEqual(anew.close(), 0)
            anew.process.stdout.close()
        self.assertEqual(plans[-1], plans[0])

    def test_a_boat_of_several_places_is_refused_in_words_that_help(self):
        self.hello()
        text, file = sample("cylinder.toml")
        header, _ = self.engine.ask("plan", text + b'\n[[repair]]\nname = "bow"\n', file=file)
        self.assertEqual((header["ok"], header["error"], header["key"]), (False, "bad-input", "repair"))
        self.assertIn("give each place a job file of its own here", header["message"])

    def test_the_outline_comes_alone(self):
        self.hello()
        text, file = sample("cylinder.toml")
        header, body = self.engine.ask("outline", text, file=file)
        self.assertTrue(header["ok"], header)
        self.assertGreater(len(json.loads(body)["outline_3d"]), 20)

    def test_the_live_outline_is_the_plans(self):
        # A point dragged 30 mm is answered from the patch that is kept; the plan meshes anew.
        self.hello()
        text, file = sample("curlew.toml")
        dragged = text.replace(b"[2560.0, 1021.0, 401.3]", b"[2566.0, 1024.0, 421.3]")
        self.assertNotEqual(text, dragged)
        self.engine.ask("outline", text, file=file)
        started = time.monotonic()
        live = json.loads(self.engine.ask("outline", dragged, file=file)[1])
        # 0.02 s where nothing else runs; 0.1 s is what a hand on the mouse does not feel.
        print(f"live outline after {1000 * (time.monotonic() - started):.0f} ms")
        header, body = self.engine.ask("plan", dragged, file=file)
        plan = json.loads(body[:header["parts"][0]["bytes"]])
        for mine, its in ((live["outline_3d"], plan["damage"]["outline_3d"]),
                          (live["scarf_3d"][0], plan["scarf"]["outline_3d"][0]["outer"])):
            self.assertLess(farthest(mine, its), 0.01)

    def test_the_live_outline_of_a_scan_tells_its_scale(self):
        # The plan's own (plan.json, scan.scale); what is told is in true mm, what was picked is the scan's.
        self.hello()
        text, file = sample("curlew-photo.toml")
        live = json.loads(self.engine.ask("outline", text, file=file)[1])
        header, body = self.engine.ask("plan", text, file=file)
        plan = json.loads(body[:header["parts"][0]["bytes"]])
        self.assertAlmostEqual(live["scale"], plan["scan"]["scale"], places=9)
        self.assertGreater(live["scale"], 1.005)

    def test_a_point_dragged_far_is_meshed_anew(self):
        self.hello()
        text, file = sample("cylinder.toml")
        self.assertTrue(self.engine.ask("outline", text, file=file)[0]["ok"])
        moved = at_centre(text, [500, 0, -500])
        far, _ = self.engine.ask("outline", moved, file=file)
        near, _ = self.engine.ask("outline", text, file=file)
        self.assertTrue(far["ok"], far)
        self.assertTrue(near["ok"], near)

    def test_a_model_is_described(self):
        # Lower half of a cylinder: area 1 000 000 pi mm2, 2000 x 1000 x 500 mm (closed form).
        self.hello()
        header, body = self.engine.ask("hull", model=str(SAMPLES / "cylinder.step"))
        self.assertTrue(header["ok"], header)
        report = json.loads(body)
        self.assertAlmostEqual(report["area_mm2"], 3141592.65, delta=1500)
        size = [b - a for a, b in zip(report["extent_min"], report["extent_max"])]
        self.assertAlmostEqual(max(size), 2000, delta=0.1)
        header, _ = self.engine.ask("hull", model="nowhere.step")
        self.assertEqual(header["error"], "bad-input")

    def test_mixes_as_the_command_line(self):
        # 1 kg of resin: nothing is added, 1.25 % of it is 12.5 g (by hand).
        self.hello()
        text, file = sample("cylinder.toml")
        header, body = self.engine.ask("mix", text, file=file, resin_g=1000)
        self.assertTrue(header["ok"], header)
        mix = json.loads(body)
        self.assertAlmostEqual(mix["hardener_g"], 12.5)
        self.assertAlmostEqual(sum(cup["resin_g"] for cup in mix["cups"]), 1000)
        self.assertEqual(self.engine.ask("mix", text, file=file)[0]["error"], "bad-input")
        self.assertEqual(self.engine.ask("mix", text, file=file, resin_g="much")[0]["error"],
                         "bad-request")

    def test_tells_the_keys_of_the_job_file(self):
        header, _ = self.engine.ask("keys")
        self.assertEqual(header["error"], "bad-request")  # before hello
        self.hello()
        header, body = self.engine.ask("keys")
        self.assertTrue(header["ok"], header)
        rows = {(row["table"], row["key"]): row for row in json.loads(body)["keys"]}
        self.assertEqual(len(rows), len(json.loads(body)["keys"]))
        # Range as in the refusals (bad_job_test.cpp), default and mark as in core/SOURCES.md section 10.
        self.assertEqual(rows["resin", "waste"]["range"],
                         {"least": 0, "most": 1, "least_itself": True, "most_itself": False})
        self.assertEqual(rows["resin", "waste"]["defaults"],
                         [{"of": "", "value": 0.1, "mark": "common practice"}])
        self.assertEqual([each["of"] for each in rows["fabric", "lap"]["defaults"]],
                         ["woven", "biaxial"])
        self.assertEqual(rows["hull", "unit"]["choices"], ["mm", "cm", "m", "in", "ft"])
        self.assertNotIn("defaults", rows["hull", "skin"])
        # Second route: what the effective job of a plan holds are keys, and values of their kind.
        text, file = sample("frustum.toml")
        header, body = self.engine.ask("plan", text, file=file)
        plan = json.loads(body[:header["parts"][0]["bytes"]])
        for table, keys in plan["job"]["effective"].items():
            for part in keys if isinstance(keys, list) else [keys]:
                for key, value in part.items() if isinstance(part, dict) else []:
                    if key == "gel_at":  # a table of its own
                        continue
                    row = rows[table, key]
                    if row["kind"] in ("length", "number") and value is not None:
                        self.assertIsInstance(value, (int, float), key)
                    if row["kind"] == "choice" and value is not None:
                        self.assertIn(value, row["choices"], key)

    def test_refusals_carry_the_command_lines_words(self):
        self.hello()
        text, file = sample("cylinder.toml")
        header, _ = self.engine.ask("plan", text.replace(b"\ndepth", b"\ndetph"), file=file)
        self.assertEqual((header["ok"], header["error"]), (False, "bad-input"))
        self.assertIn("depth", header["message"])
        # And its parts, for who marks the field at fault: where it stands, counted by hand.
        line = text[:text.index(b"\ndepth") + 1].count(b"\n") + 1
        self.assertEqual((header["key"], header["line"]), ("damage.detph", line))
        self.assertEqual(header["message"],
                         f"{file}:{line}: {header['key']}: {header['what']}")
        self.assertEqual(header["short"], f"{header['key']}: {header['what']}")
        self.assertTrue(self.engine.ask("ping")[0]["ok"])

    def test_a_refusal_says_where_on_the_hull(self):
        self.hello()
        text, file = sample("cylinder.toml")
        for request in ("outline", "plan"):
            header, _ = self.engine.ask(request, at_centre(text, [0, 0, -5000]), file=file)
            self.assertEqual((header["error"], header["key"]), ("bad-input", "damage.centre"))
            self.assertEqual(header["place"], [0, 0, -5000])
            self.assertTrue(header["message"].startswith(f"{file}:{header['line']}: "))

    def test_garbage_is_reported_and_survived(self):
        self.hello()
        for bad in (b"what?\n", b"[]\n", b"{}\n", b'{"bytes": -1}\n', b"\xff\xfe\x00\n",
                    b'{"id": 1, "request": 7, "bytes": 0}\n',
                    b'{"id": 1, "request": "juggle", "bytes": 0}\n', b"x" * 200000 + b"\n"):
            self.engine.raw(bad)
            header, _ = self.engine.answer()
            self.assertEqual((header["ok"], header["error"]), (False, "bad-request"), bad[:40])
        self.assertTrue(self.engine.ask("ping")[0]["ok"])

    def test_a_huge_body_is_refused_before_it_is_stored(self):
        self.hello()
        self.engine.raw(b'{"id": 3, "request": "plan", "bytes": 9000000000000}\n')
        header, _ = self.engine.answer()
        self.assertEqual(header["error"], "bad-request")
        self.assertEqual(self.engine.process.wait(30), 3)

    def test_a_truncated_body_ends_it(self):
        self.hello()
        self.engine.raw(b'{"id": 3, "request": "plan", "bytes": 100}\nshort')
        self.assertEqual(self.engine.close(), 3)

    def test_it_ends_when_the_pipe_closes(self):
        self.hello()
        self.assertEqual(self.engine.close(), 0)

    def test_a_cancelled_plan_says_so(self):
        self.hello()
        text, file = sample("cylinder.toml")
        self.engine.send({"id": 9, "request": "plan", "file": file}, text)
        self.engine.send({"id": 8, "request": "cancel", "target": 9})
        header, _ = self.engine.answer()
        self.assertEqual((header["ok"], header["error"]), (False, "cancelled"))
        header, _ = self.engine.ask("plan", text, id=10, file=file)
        self.assertTrue(header["ok"], header)
        # What is answered cannot be cancelled any more, nor what comes later under its id.
        self.engine.send({"id": 11, "request": "cancel", "target": 9})
        header, _ = self.engine.ask("plan", text, id=9, file=file)
        self.assertTrue(header["ok"], header)

    def test_writes_the_last_plan(self):
        self.hello()
        text, file = sample("cylinder.toml")
        self.assertEqual(self.engine.ask("write", folder="x")[0]["error"], "bad-request")
        self.engine.ask("plan", text, file=file)
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "\u00e4 out"
            header, _ = self.engine.ask("write", folder=str(out))
            self.assertTrue(header["ok"], header)
            self.assertTrue((out / "manifest.json").is_file())

    def test_writes_the_plan_of_a_job_in_the_formats_asked_for(self):
        self.hello()
        text, file = sample("cylinder.toml")
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            header, _ = self.engine.ask("write", text, file=file, folder=str(out),
                                        formats=["hpgl"])
            self.assertTrue(header["ok"], header)
            names = {path.name for path in out.iterdir()}
            self.assertIn("templates.plt", names)
            self.assertNotIn("templates.dxf", names)
            header, _ = self.engine.ask("write", text, file=file, folder=str(out),
                                        formats=["clay"])
            self.assertEqual(header["error"], "bad-request")

    @unittest.skipUnless(pathlib.Path(PROGRAM + "-print").is_file(), "no printing program beside this one")
    def test_tells_of_each_pdf_that_it_makes_and_stops_before_the_next(self):
        self.hello()
        text, file = sample("cylinder.toml")
        self.engine.ask("plan", text, file=file)
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            words = {"file": file, "folder": str(out), "formats": ["pdf"], "papers": ["A3", "roll 610"]}
            header, _ = self.engine.ask("write", text, **words)
            self.assertTrue(header["ok"], header)
            # No roll is a sheet for a job sheet (core/files/write_plan.h).
            made = [f"templates-{paper}.pdf" for paper in ("A4", "A3", "roll-610-mm")] + ["job-sheet-A3.pdf"]
            self.assertEqual(self.engine.told, [(name, k / 4) for k, name in enumerate(made)])
            self.assertEqual({path.name for path in out.glob("*.pdf")}, set(made))
            before = sorted((path.name, path.stat().st_mtime_ns) for path in out.iterdir())
            self.engine.send({"id": 9, "request": "write", **words}, text)
            self.engine.send({"id": 8, "request": "cancel", "target": 9})
            header, _ = self.engine.answer()
            self.assertEqual((header["ok"], header["error"]), (False, "cancelled"))
            self.assertLess(len(self.engine.told), 4)
            self.assertEqual(sorted((path.name, path.stat().st_mtime_ns) for path in out.iterdir()), before)

    def test_it_dies_with_its_parent(self):
        # A parent that is killed and leaves the pipe open in another process.
        reader, writer = os.pipe()
        self.addCleanup(os.close, writer)
        script = (f"import subprocess, time\n"
                  f"p = subprocess.Popen([{PROGRAM!r}, 'serve', '--stdio'], stdin={reader})\n"
                  f"print(p.pid, flush=True)\ntime.sleep(60)\n")
        parent = subprocess.Popen(["python3", "-c", script], stdout=subprocess.PIPE,
                                  pass_fds=[reader])
        os.close(reader)
        child = int(parent.stdout.readline())
        os.write(writer, b'{"id": 1, "request": "hello", "protocol": 1, "bytes": 0}\n')
        self.assertTrue(json.loads(parent.stdout.readline())["ok"], "it has begun")
        parent.kill()
        parent.wait()
        parent.stdout.close()
        for _ in range(100):
            try:
                with open(f"/proc/{child}/stat", encoding="ascii") as stat:
                    if stat.read().split(") ")[1].startswith("Z"):
                        return
            except FileNotFoundError:
                return
            time.sleep(0.1)
        os.kill(child, 9)
        self.fail("the engine outlived its parent")


if __name__ == "__main__":
    unittest.main()
