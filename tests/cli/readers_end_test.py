#!/usr/bin/env python3
"""Models made to hang a reader or fill the memory: every reading ends, within its limits of time and memory,
with a reason, and no process outlives its parent."""
import array
import json
import math
import os
import pathlib
import random
import re
import resource
import socket
import struct
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import print_fixture  # noqa: E402
from random_repairs import SAMPLES, TEARLINE  # noqa: E402

POINT = re.compile(r"CARTESIAN_POINT\('',\((-?[\d.E+-]+),(-?[\d.E+-]+),(-?[\d.E+-]+)\)\)")


class ReadersEnd(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline hangs ")
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        self.step = (SAMPLES / "curlew.step").read_text(encoding="ascii")
        self.points = list(POINT.finditer(self.step))

    def hull(self, name, *more, status, seconds=10):
        """What is said, and that it took no more processor time, which is another clock than a busy machine's."""
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        run = subprocess.run([TEARLINE, "hull", str(self.room / name), *more], capture_output=True, text=True,
                             timeout=300, check=False)
        self.assertEqual(run.returncode, status, run.stderr)
        self.assertLess(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before, seconds, name)
        return run.stderr

    def with_point(self, number, axis, value):
        m = self.points[number]
        (self.room / "h.step").write_text(self.step[:m.start(axis)] + value + self.step[m.end(axis):],
                                          encoding="ascii")
        return "h.step"

    def test_points_of_a_step_file_far_out_are_refused_at_once_with_their_line(self):
        middle = len(self.points) // 2
        line = self.step.count("\n", 0, self.points[middle].start()) + 1
        for value in ("6000000000000.", "1.E+30", "-1.E+300", "1.E+999"):
            said = self.hull(self.with_point(middle, 1, value), status=3, seconds=1)
            self.assertIn(f"line {line}", said)
            self.assertIn("over 1 km", said)
        self.hull(self.with_point(middle, 2, "1.E-400"), status=0)  # small is not far

    def test_a_pole_far_out_is_refused_before_its_face_is_meshed(self):
        for number in range(0, len(self.points), 11 if os.environ.get("TEARLINE_LONG") else 40):
            for value in ("9.E+08", "-5.E+07", "2.E+06"):
                name = self.with_point(number, 2, value)
                run = subprocess.run([TEARLINE, "hull", str(self.room / name)], capture_output=True, text=True,
                                     timeout=120, check=False)
                self.assertIn(run.returncode, (0, 3), run.stderr)
                if run.returncode == 0:  # a point that no face uses
                    self.assertIn("extent          6000.0 x", run.stderr, (number, value))

    def test_too_little_time_and_memory_are_told_with_what_to_do(self):
        # Hundreds of faces: more than a second's work and more than 50 MB.
        (self.room / "h.step").write_text(many_faces(self.step), encoding="ascii")
        said = self.hull("h.step", "--read-seconds", "1", "--read-memory", "8", status=3, seconds=3)
        self.assertIn("1 s of processor time", said)
        self.assertIn("--read-seconds", said)
        said = self.hull("h.step", "--read-memory", "0.05", "--read-seconds", "100", status=4, seconds=100)
        self.assertIn("0.05 GB", said)
        self.assertIn("--read-memory", said)

    def test_the_child_dies_with_its_parent(self):
        (self.room / "h.step").write_text(many_faces(self.step), encoding="ascii")
        run = subprocess.Popen([TEARLINE, "hull", str(self.room / "h.step"), "--read-seconds", "1000"],
                               stderr=subprocess.DEVNULL)
        children = pathlib.Path(f"/proc/{run.pid}/task/{run.pid}/children")
        end = time.monotonic() + 30
        while not (children.read_text(encoding="ascii") and time.monotonic() < end):
            time.sleep(0.01)
        child = pathlib.Path("/proc") / children.read_text(encoding="ascii").split()[0]
        run.kill()
        run.wait()
        while child.exists() and time.monotonic() < end:
            time.sleep(0.01)
        self.assertFalse(child.exists())

    def test_a_pipe_that_nobody_writes_into_is_refused_at_once(self):
        pipe = self.room / "job.toml"
        os.mkfifo(pipe)
        run = subprocess.run([TEARLINE, "plan", str(pipe), "-o", str(self.room / "out")], capture_output=True,
                             text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 3, run.stderr)
        self.assertIn("is a pipe that nobody writes into", run.stderr)
        model = self.room / "hull.step"
        os.mkfifo(model)
        self.assertIn("this is not a file", self.hull("hull.step", status=3))

    def test_a_job_may_come_through_a_pipe_that_is_written_into(self):
        reading, writing = os.pipe()
        os.write(writing, b"[hull]\nskin = -1\n")
        os.close(writing)
        run = subprocess.run([TEARLINE, "plan", f"/dev/fd/{reading}", "--json"], pass_fds=[reading], capture_output=True,
                             text=True, timeout=60, check=False)
        os.close(reading)
        self.assertEqual(run.returncode, 3, run.stderr)
        self.assertIn(f"/dev/fd/{reading}:1: hull.model: missing", run.stderr)  # it was read and judged

    def test_a_model_over_4_gb_is_refused_by_its_size(self):
        with (self.room / "h.stl").open("wb") as file:
            file.truncate(4_000_000_001)  # without blocks on the disk
        self.assertIn("over 4 GB", self.hull("h.stl", "--unit", "mm", status=3, seconds=1))

    def facets(self, corners, count):
        values = array.array("f", corners)
        facet = bytes(12)
        with (self.room / "h.stl").open("wb") as file:
            file.write(bytes(80) + struct.pack("<I", count))
            raw = values.tobytes()
            for i in range(count):
                file.write(facet + raw[36 * i:36 * i + 36] + b"\0\0")

    @unittest.skipUnless(os.environ.get("TEARLINE_LONG"), "takes long: tests/run --release")
    def test_a_million_facets_on_one_edge_end(self):
        draw, count = random.Random(1), 1_000_000
        corners = []
        for i in range(count):
            turn = 2 * math.pi * i / count
            corners += (0, 0, 0, 100, 0, 0, 50, 100 * math.cos(turn) + draw.random(), 100 * math.sin(turn) + draw.random())
        self.facets(corners, count)
        self.assertIn("meet in one edge", self.hull("h.stl", "--unit", "mm", status=3))

    def test_a_million_loose_facets_end(self):
        draw, count = random.Random(1), 1_000_000 if os.environ.get("TEARLINE_LONG") else 100_000
        corners = []
        for _ in range(count):
            x, y, z = (9e3 * draw.random() for _ in range(3))
            corners += (x, y, z, x + 5, y, z, x, y + 5, z + 2)
        self.facets(corners, count)
        self.assertRegex(self.hull("h.stl", "--unit", "mm", status=0, seconds=15),
                         rf"bodies +({str(count)[1:].replace('0', '9')}|{count})")

    def test_facets_in_one_line_and_in_one_point_end(self):
        count = 20_000
        line, fan, folded = [], [], []
        for i in range(count):
            line += (i % 997, 0, 0, 1000 + i % 991, 0, 0, 500, 1 + i, i % 7)  # edges over each other in one line
            fan += (0, 0, 0, 100, i, 1, 100, i + 0.5, i)  # loose but for one point
            folded += (0, 0, 0, 100, 0, 0, 50, 1 + i // 2, 0) if i % 2 else (0, 0, 0, 50, 1 + i // 2, 0, 100, 0, 0)
        for corners in (line, fan, folded):
            self.facets(corners, count)
            run = subprocess.run([TEARLINE, "hull", str(self.room / "h.stl"), "--unit", "mm"], capture_output=True,
                                 text=True, timeout=60, check=False)
            self.assertIn(run.returncode, (0, 3), run.stderr)

    def test_too_little_memory_is_told_as_such(self):
        # Of the program's own memory, by the system's limit: no fault of the program.
        draw, count = random.Random(1), 100_000
        self.facets([1e3 * draw.random() for _ in range(9 * count)], count)
        run = subprocess.run(["sh", "-c", 'ulimit -v "$1"; shift; exec "$@"', "sh", "600000", TEARLINE, "hull",
                              str(self.room / "h.stl"), "--unit", "mm"], capture_output=True, text=True, timeout=60,
                             check=False)
        if run.returncode != 0:
            self.assertEqual(run.returncode, 4, run.stderr)
            self.assertIn("not enough memory", run.stderr)


class InPlaceOfAFile(unittest.TestCase):
    """A pipe that nobody writes into, a folder, a device without an end or a link to itself stands where a file
    is looked for: the answer comes at once, and says what to name instead."""

    KINDS = ("pipe", "folder", "zero", "null", "loop", "socket")

    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline kinds ")
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        (self.room / "jobs.txt").write_text("none.toml\n", encoding="utf-8")

    def put(self, kind, name):
        path = self.room / name
        path.parent.mkdir(exist_ok=True)
        if kind == "pipe":
            os.mkfifo(path)
        elif kind == "folder":
            path.mkdir()
        elif kind == "socket":
            here = os.getcwd()
            os.chdir(path.parent)  # the name of a socket is short
            server = socket.socket(socket.AF_UNIX)
            self.addCleanup(server.close)
            server.bind(path.name)
            os.chdir(here)
        else:
            path.symlink_to({"zero": "/dev/zero", "null": "/dev/null", "loop": path.name}[kind])
        return path

    def refused(self, status, *words):
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        run = subprocess.run([TEARLINE, *map(str, words)], capture_output=True, text=True, timeout=60, check=False,
                             stdin=subprocess.DEVNULL)
        self.assertEqual(run.returncode, status, (words, run.stderr))
        self.assertEqual(run.stderr.count("\n"), 1, run.stderr)  # one message
        self.assertNotIn("fault in this program", run.stderr)
        self.assertLess(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before, 5, words)
        return run.stderr

    def test_of_a_list_of_jobs(self):
        for kind in self.KINDS:
            path = self.put(kind, f"{kind}.txt")
            said = self.refused(3, "batch", path, "-o", self.room / "out")
            self.assertIn(path.name, said)
            self.assertFalse((self.room / "out").exists(), said)

    def test_of_the_model_of_a_job_in_a_batch(self):
        # A batch takes the hash of a model before it is read.
        for kind in ("pipe", "folder", "zero"):
            self.put(kind, f"{kind}.step")
            (self.room / f"{kind}.toml").write_text(f'[hull]\nmodel = "{kind}.step"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\n'
                                                    'centre = [0, 0, 0]\nradius = 50\ndepth = 4\n[resin]\nkind = "polyester"\n', encoding="utf-8")
        (self.room / "jobs.txt").write_text("pipe.toml\nfolder.toml\nzero.toml\n", encoding="utf-8")
        run = subprocess.run([TEARLINE, "batch", str(self.room / "jobs.txt"), "-o", str(self.room / "out"), "--lean"],
                             capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 0, run.stderr)
        results = [json.loads(line) for line in (self.room / "out" / "results.jsonl").read_text(encoding="utf-8").splitlines()]
        self.assertEqual(sorted((one["job"], one["status"]) for one in results),
                         [("folder.toml", 3), ("pipe.toml", 3), ("zero.toml", 3)], run.stderr)

    def test_of_the_results_of_a_batch(self):
        for kind in self.KINDS:
            path = self.put(kind, f"{kind}/results.jsonl")
            self.assertIn("results.jsonl", self.refused(5, "batch", self.room / "jobs.txt", "-o", path.parent))
            self.assertIn("holds no results", self.refused(3, "batch", "--summary", path.parent))

    def test_of_a_plan_to_print(self):
        for kind in self.KINDS:
            path = self.put(kind, f"{kind}/plan.json")
            (path.parent / "manifest.json").write_text("{}", encoding="utf-8")
            self.refused(3, "print", path.parent, "--pdf", self.room / "o.pdf")
            path = self.put(kind, f"sealed-{kind}/manifest.json")
            (path.parent / "plan.json").write_text("{}", encoding="utf-8")
            self.refused(3, "print", path.parent, "--pdf", self.room / "o.pdf")
            path = self.put(kind, f"{kind}.pdf")
            if kind != "loop":  # which leads nowhere, and is written over
                self.refused(5, "print", self.room, "--pdf", path)
        self.refused(3, "print", self.room / "loop.pdf", "--pdf", self.room / "o.pdf")
        self.refused(3, "print", self.room / ("x" * 300), "--pdf", self.room / "o.pdf")
        self.assertFalse((self.room / "o.pdf").exists())

    def huge(self, name):
        """A file of 100 GB without blocks on the disk."""
        with (self.room / name).open("wb") as file:
            file.truncate(100_000_000_000)
        return self.room / name

    def job(self, **lines):
        """A small repair of the panel, with lines more in its tables."""
        tables = {"hull": f'model = "{SAMPLES / "panel.step"}"\nbow = [1, 0, 0]\nup = [0, 0, 1]\noutward = "as modelled"\n',
                  "damage": "centre = [0, 0, 0]\nradius = 40\ndepth = 3\n"}
        text = "".join(f"[{name}]\n{body}{lines.pop(name, '')}" for name, body in tables.items())
        (self.room / "job.toml").write_text(text + "".join(lines.values()), encoding="utf-8")
        return self.room / "job.toml"

    def test_of_a_scan(self):
        for kind in (*self.KINDS, "huge"):
            path = self.huge("huge.ply") if kind == "huge" else self.put(kind, f"{kind}.ply")
            scan = f'model = "{path}"\nunit = "mm"\nkind = "light"\n'
            out = self.room / "out"
            self.assertIn("damage.scan.model", self.refused(3, "plan", self.job(scan=f"[damage.scan]\n{scan}"), "-o", out))
            after = self.job(scan=f"[damage.scan]\n{scan}[[damage.scan_after]]\nply = 1\n{scan}")
            self.assertIn("damage.scan.model", self.refused(3, "plan", after, "-o", out, "--after", 1))
            text = self.job().read_text(encoding="utf-8").replace(str(SAMPLES / "panel.step"), str(path))
            text = text.replace('outward = "as modelled"', 'unit = "mm"') + '[hull.scan]\nkind = "light"\n'
            (self.room / "scan.toml").write_text(text, encoding="utf-8")
            self.assertIn("hull.model", self.refused(3, "plan", self.room / "scan.toml", "-o", out))
            self.refused(3, "look", path, "--unit", "mm", "--scan", "light", "-o", self.room / "page.html")
            self.refused(3, "flatten", path, "--unit", "mm", "-o", out)
            self.refused(3, "hull", path, "--unit", "mm")
            self.assertFalse(out.exists())

    def test_of_a_remnants_outline(self):
        for kind in (*self.KINDS, "huge"):
            path = self.huge("huge.dxf") if kind == "huge" else self.put(kind, f"{kind}.dxf")
            job = self.job(places='[[repair]]\nname = "one"\n[repair.damage]\ncentre = [0, 0, 0]\n'
                                  f'[[remnant]]\nfabric = "mat 450"\nmodel = "{path}"\n')
            said = self.refused(3, "plan", job, "-o", self.room / "out")
            self.assertIn(path.name, said)

    def test_of_a_job(self):
        for kind in (*self.KINDS, "huge"):
            path = self.huge("huge.toml") if kind == "huge" else self.put(kind, f"{kind}.toml")
            for words in (("plan", path, "-o", self.room / "out"), ("look", path, "-o", self.room / "page.html"),
                          ("mix", "--job", path, "--area", "1 m2"), ("plan", path, "-o", self.room / "out", "--vary", "scarf.ratio=8,12")):
                self.refused(3, *words)

    def test_of_an_outline_to_lay_flat(self):
        for kind in (*self.KINDS, "huge"):
            path = self.huge("huge.txt") if kind == "huge" else self.put(kind, f"{kind}.txt")
            said = self.refused(3, "flatten", SAMPLES / "panel.step", "--outline", path, "-o", self.room / "out")
            self.assertIn("--outline", said)

    def test_of_a_page_to_write(self):
        for kind in (*self.KINDS, "huge"):
            path = self.huge("huge.html") if kind == "huge" else self.put(kind, f"{kind}.html")
            if kind != "loop":  # which leads nowhere, and is written over
                self.assertIn(path.name, self.refused(5, "look", SAMPLES / "panel.step", "-o", path))

    def test_of_results_without_an_end(self):
        out = self.room / "out"
        out.mkdir()
        self.huge("out/results.jsonl")
        self.assertIn("a line of over 16 MB", self.refused(5, "batch", self.room / "jobs.txt", "-o", out))
        self.assertIn("a line of over 16 MB", self.refused(3, "batch", "--summary", out))
        self.assertEqual((out / "results.jsonl").stat().st_size, 100_000_000_000)

    def test_of_a_huge_plan_to_print(self):
        for name in ("plan.json", "manifest.json", "job-sheet.html"):
            with tempfile.TemporaryDirectory(dir=self.room) as folder:
                (pathlib.Path(folder) / "plan.json").write_text("{}", encoding="utf-8")
                self.huge(pathlib.Path(folder).relative_to(self.room) / name)
                words = ["--sheet"] if name == "job-sheet.html" else []
                self.refused(3, "print", folder, "--pdf", self.room / "o.pdf", *words)
        with open("/dev/zero", "rb") as endless:
            run = subprocess.run([TEARLINE, "print", "-", "--pdf", str(self.room / "o.pdf")], stdin=endless, capture_output=True, text=True,
                                 timeout=60, check=False)
        self.assertEqual(run.returncode, 3, run.stderr)

    def test_of_a_model_of_a_batch_that_has_grown_huge(self):
        # Its parent looks at every model before it passes a job over.
        (self.room / "hull.stl").write_bytes((SAMPLES / "panel.stl").read_bytes())
        text = self.job().read_text(encoding="utf-8").replace(str(SAMPLES / "panel.step"), "hull.stl")
        (self.room / "job.toml").write_text(text.replace("[hull]", '[hull]\nunit = "mm"'), encoding="utf-8")
        (self.room / "jobs.txt").write_text("job.toml\n", encoding="utf-8")
        for status in (0, 3):
            run = subprocess.run([TEARLINE, "batch", str(self.room / "jobs.txt"), "-o", str(self.room / "out"), "--lean"],
                                 capture_output=True, text=True, timeout=60, check=False)
            self.assertEqual(run.returncode, 0, run.stderr)
            (result,) = map(json.loads, (self.room / "out" / "results.jsonl").read_text(encoding="utf-8").splitlines())
            self.assertEqual(result["status"], status, result)
            self.huge("hull.stl")

    def test_a_plan_made_to_break_the_printing_program(self):
        deep = "[" * 200_000 + "]" * 200_000
        for name, text in (("plan.json", '{"schema": 5}'),
                           ("plan.json", f'{{"schema": "tearline-boat/1", "repairs": [], "x": {deep}}}'),
                           ("plan.json", '{"schema": "tearline-boat/1", "repairs": [{"plan": 7, "name": 7}]}'),
                           ("plan.json", '{"schema": "tearline-boat/1", "repairs": [{"plan": "../elsewhere.json"}]}'),
                           ("plan.json", f'{{"schema": "tearline-boat/1", "repairs": [{{"plan": "{self.room}/elsewhere.json"}}]}}'),
                           ("manifest.json", '{"files": [{"name": 5, "sha256": 5}]}'),
                           ("manifest.json", '{"files": [{"name": "plan.json", "sha256": 5}]}'),
                           ("manifest.json", f'{{"files": {deep}}}')):
            with tempfile.TemporaryDirectory(dir=self.room) as folder:
                (self.room / "elsewhere.json").write_text("<not for us>", encoding="utf-8")
                (pathlib.Path(folder) / "plan.json").write_text("{}", encoding="utf-8")
                (pathlib.Path(folder) / name).write_text(text, encoding="utf-8")
                said = self.refused(3, "print", folder, "--pdf", self.room / "o.pdf")
                self.assertNotIn("<not", said)

    def test_pages_that_take_too_long_are_told(self):
        # Of the system's limit a second, where the program's own are two minutes.
        plan = print_fixture.plan(radii=[30.0 * number for number in range(1, 150)])
        (self.room / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
        run = subprocess.run(["sh", "-c", 'ulimit -S -t 1; exec "$@"', "sh", TEARLINE, "print", str(self.room), "--pdf",
                              str(self.room / "o.pdf")], capture_output=True, text=True, timeout=120, check=False)
        self.assertEqual(run.returncode, 4, run.stderr)
        self.assertIn("these pages take too long", run.stderr)
        self.assertEqual([p.name for p in self.room.glob("*.pdf")] + [p.name for p in self.room.glob(".t*")], [])


def many_faces(step, copies=500):
    """The file with its faces that many times over in the shell, all that they are made of copied."""
    instances = dict(re.findall(r"#(\d+) = (.*?);\s*\n", step, re.S))
    (shell,) = [n for n, text in instances.items() if text.startswith("OPEN_SHELL")]
    faces = re.findall(r"#(\d+)", instances[shell])
    reached, ahead = set(), list(faces)
    while ahead:
        number = ahead.pop()
        if number not in reached:
            reached.add(number)
            ahead += re.findall(r"#(\d+)", instances[number])
    most = max(map(int, instances))

    def moved(text, by):
        return re.sub(r"#(\d+)", lambda match: f"#{int(match.group(1)) + by}", text)
    out = [f"#{int(n) + most * k} = {moved(instances[n], most * k)};\n" for k in range(1, copies) for n in reached]
    all_faces = ",".join(f"#{int(n) + most * k}" for k in range(copies) for n in faces)
    old = f"#{shell} = {instances[shell]};"
    return step.replace(old, f"#{shell} = OPEN_SHELL('',({all_faces}));\n" + "".join(out))


if __name__ == "__main__":
    unittest.main()
