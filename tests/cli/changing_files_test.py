#!/usr/bin/env python3
"""Models and scans that another process cuts, writes or replaces while they are read or planned from: a clear
message, no plan of half a hull, and a plan anew once they stand still."""
import array
import hashlib
import json
import os
import pathlib
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from engine import Engine, parts  # noqa: E402
from extreme_values import dish_points  # noqa: E402
from random_repairs import SAMPLES, TEARLINE  # noqa: E402

JOB = (SAMPLES / "curlew-scan.toml").read_text(encoding="utf-8")
CHANGED = r"(the file )?was changed while (it was read|this was worked out)"


def cut(path, to):
    """To half, in place, as a file that is being written anew."""
    os.truncate(path, to)


def drawn_outline(points):
    """A DXF file of one closed polyline."""
    lines = ["0", "SECTION", "2", "ENTITIES", "0", "LWPOLYLINE", "90", str(len(points)), "70", "1"]
    for x, y in points:
        lines += ["10", f"{x:.3f}", "20", f"{y:.3f}"]
    return "\n".join([*lines, "0", "ENDSEC", "0", "EOF", ""])


class ChangingFiles(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline changes ")
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        self.model = self.room / "curlew.stl"
        shutil.copy(SAMPLES / "curlew.stl", self.model)
        (self.room / "job.toml").write_text(JOB, encoding="utf-8")

    def stopped_once_it_has_read(self, count, *words):
        """The program, stopped at a moment after it had read so many bytes; None where it was faster."""
        run = subprocess.Popen([TEARLINE, *map(str, words)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        end = time.monotonic() + 60
        while run.poll() is None and time.monotonic() < end:
            io = pathlib.Path(f"/proc/{run.pid}/io").read_text(encoding="ascii")
            if int(re.search(r"rchar: (\d+)", io).group(1)) >= count:
                break
        if run.poll() is None:
            run.send_signal(signal.SIGSTOP)
            return run
        run.communicate()
        return None

    def refused_when(self, change, count, *words, tries=20):
        """What is said where the files change at that moment; a machine may be too fast to stop it there."""
        for _ in range(tries):
            shutil.copy(SAMPLES / "curlew.stl", self.model)
            run = self.stopped_once_it_has_read(count, *words)
            if run is None:
                continue
            change()
            run.send_signal(signal.SIGCONT)
            said = run.communicate(timeout=60)[1].decode()
            if run.returncode != 0:
                self.assertEqual(run.returncode, 3, said)
                self.assertEqual(said.count("\n"), 1, said)
                return said
        raise AssertionError("it was never stopped in time")

    def test_a_model_changed_while_the_plan_is_worked_out_gives_no_plan(self):
        out, size = self.room / "out", self.model.stat().st_size
        for change in (lambda: cut(self.model, size // 2), lambda: self.model.write_bytes(self.model.read_bytes()),
                       lambda: os.replace(shutil.copy(self.model, self.room / "new"), self.model)):
            said = self.refused_when(change, size, "plan", self.room / "job.toml", "-o", out)
            self.assertRegex(said, r"job.toml:\d+: hull.model: .*curlew.stl: " + CHANGED)
            self.assertIn("run again once it is written", said)
            self.assertFalse(out.exists())

    def test_places_of_a_boat_too(self):
        text = JOB.replace("[damage]", "[[repair]]\n[repair.damage]")
        (self.room / "boat.toml").write_text(text[text.index("tearline"):], encoding="utf-8")
        size = self.model.stat().st_size
        said = self.refused_when(lambda: cut(self.model, size // 2), size, "plan", self.room / "boat.toml", "-o", self.room / "out")
        self.assertRegex(said, CHANGED)
        self.assertFalse((self.room / "out").exists())

    def test_outlines_of_a_boats_remnants_too(self):
        # Cut to half, the drawing still holds a closed outline: of a remnant that nobody has.
        left, size = self.room / "left.dxf", self.model.stat().st_size
        text = JOB.replace("[damage]", "[[repair]]\n[repair.damage]")
        (self.room / "boat.toml").write_text(text[text.index("tearline"):] + """
[[remnant]]
name = "left over"
fabric = "mat 450"
model = "left.dxf"
""", encoding="utf-8")
        whole = drawn_outline([(0, 0), (900, 0), (900, 500), (700, 900), (0, 900)])
        words = ("plan", self.room / "boat.toml", "-o", self.room / "out")
        for change in (lambda: left.write_text(whole, encoding="ascii"),
                       lambda: left.write_text(drawn_outline([(0, 0), (900, 0), (0, 900)]), encoding="ascii"),
                       lambda: left.write_text(whole[:60], encoding="ascii"),
                       lambda: os.replace(shutil.copy(left, self.room / "new"), left)):
            left.write_text(whole, encoding="ascii")
            said = self.refused_when(change, size, *words)
            self.assertRegex(said, r"boat.toml:\d+: remnant.model: of \"left over\": .*left.dxf: " + CHANGED)
            self.assertIn("run again once it is written", said)
            self.assertFalse((self.room / "out").exists())

    def test_a_model_that_is_gone_meanwhile_was_read_whole(self):
        size = self.model.stat().st_size
        for _ in range(20):
            shutil.copy(SAMPLES / "curlew.stl", self.model)
            run = self.stopped_once_it_has_read(size, "plan", self.room / "job.toml", "--json")
            if run is None:
                continue
            self.model.unlink()
            run.send_signal(signal.SIGCONT)
            said = run.communicate(timeout=60)[1].decode()
            if run.returncode == 0:
                return
            # What else a program reads as it starts counts too: it was stopped before it had read the model.
            self.assertEqual(run.returncode, 3, said)
            self.assertIn("there is no such file", said)
        raise AssertionError("it was never stopped in time")

    def test_a_model_cut_while_it_is_read(self):
        # Facets without any area: 400 MB that take a while to be read, and no blocks on the disk.
        count = 8_000_000
        big = self.room / "big.stl"

        def write():
            with big.open("wb") as file:
                file.write(bytes(80) + count.to_bytes(4, "little"))
                file.truncate(84 + 50 * count)
        for _ in range(20):
            write()
            run = self.stopped_once_it_has_read(1_000_000, "hull", big, "--unit", "mm")
            if run is None:
                continue
            cut(big, 84 + 50 * (count // 2))
            run.send_signal(signal.SIGCONT)
            said = run.communicate(timeout=60)[1].decode()
            self.assertEqual(run.returncode, 3, said)
            if "changed while it was read" in said:
                return
        raise AssertionError("it was never stopped in time")

    def test_a_model_written_over_and_over_is_never_half_of_two(self):
        # Two hulls of the same size on the disk: a mixture would be read without a word.
        first = (SAMPLES / "curlew.stl").read_bytes()
        facets = array.array("f")
        second = bytearray(first)
        for at in range(84, len(first), 50):
            facets = array.array("f", first[at:at + 48])
            for i in range(3, 12, 3):
                facets[i] += 7.0
            second[at:at + 48] = facets.tobytes()
        both = {hashlib.sha256(bytes(b)).hexdigest() for b in (first, second)}
        stop = threading.Event()

        def write():
            with self.model.open("r+b") as file:
                while not stop.is_set():
                    for whole in (second, first):
                        file.seek(0)
                        file.write(whole)
                        file.flush()
                        time.sleep(0.03)
        writer = threading.Thread(target=write)
        writer.start()
        try:
            seen = []
            for _ in range(12):
                run = subprocess.run([TEARLINE, "plan", str(self.room / "job.toml"), "--json"], capture_output=True,
                                     text=True, timeout=60, check=False)
                seen.append(run.returncode)
                if run.returncode == 0:
                    self.assertIn(json.loads(run.stdout)["job"]["model_sha256"], both)
                else:
                    self.assertEqual(run.returncode, 3, run.stderr)
        finally:
            stop.set()
            writer.join()
        self.assertIn(3, seen)

    def test_a_batch_tries_again_what_changed_under_it(self):
        (self.room / "jobs.txt").write_text("job.toml\n", encoding="utf-8")
        size, out = self.model.stat().st_size, self.room / "out"

        def run():
            return subprocess.Popen([TEARLINE, "batch", str(self.room / "jobs.txt"), "-o", str(out), "--lean"],
                                    stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)

        def result():
            (line,) = (out / "results.jsonl").read_text(encoding="utf-8").splitlines()
            return json.loads(line)
        for _ in range(20):
            shutil.rmtree(out, ignore_errors=True)
            shutil.copy(SAMPLES / "curlew.stl", self.model)
            batch = run()
            if not stop_worker(batch, 2 * size):  # its hash, then itself
                continue
            os.replace(shutil.copy(self.model, self.room / "new"), self.model)  # the same bytes, written anew
            for child in children_of(batch.pid):
                os.kill(child, signal.SIGCONT)
            batch.communicate(timeout=60)
            if result()["status"] == 3:
                break
        self.assertRegex(result()["message"], CHANGED)
        self.assertIsNone(result()["sha256"]["model"])  # or the next run would take it for done
        again = run()
        again.communicate(timeout=60)
        self.assertEqual((again.returncode, result()["status"]), (0, 0))

    def test_the_engine_reads_anew_what_was_written_since(self):
        job = ('[hull]\nmodel = "%s"\nbow = [1, 0, 0]\nup = [0, 0, 1]\noutward = "as modelled"\n' % (SAMPLES / "panel.step")
               + '[damage]\ncentre = [0, 0, 0]\nradius = 40\n[damage.scan]\nmodel = "dish.xyz"\nunit = "mm"\nkind = "light"\n')
        dish = self.room / "dish.xyz"
        engine = Engine()
        self.addCleanup(engine.stop)

        def deepest():
            header, body = engine.ask("plan", job.encode(), file=str(self.room / "job.toml"))
            self.assertTrue(header["ok"], header)
            return json.loads(parts(header, body)["plan.json"])["job"]["effective"]["damage"]["depth"]
        dish.write_text(dish_points(3.0), encoding="ascii")
        shallow = deepest()
        before = dish.stat()
        dish.write_text(dish_points(4.0), encoding="ascii")
        os.utime(dish, ns=(before.st_atime_ns, before.st_mtime_ns))  # as `cp -p` and unpacking do
        self.assertAlmostEqual(deepest() - shallow, 1.0, delta=0.2)

        # The hull itself, written anew between its reading and the plan's end.
        text = JOB.encode()
        for _ in range(20):
            shutil.copy(SAMPLES / "curlew.stl", self.model)
            engine.last += 1
            engine.send({"id": engine.last, "request": "plan", "file": str(self.room / "job.toml")}, text)
            header, _ = engine.message()
            if "progress" not in header:
                continue
            cut(self.model, self.model.stat().st_size // 2)
            header, _ = engine.answer()
            if not header["ok"] and re.search(CHANGED, header["message"]):
                break
        self.assertEqual((header["ok"], header["error"], header.get("key")), (False, "bad-input", "hull.model"))
        shutil.copy(SAMPLES / "curlew.stl", self.model)
        self.assertTrue(engine.ask("plan", text, file=str(self.room / "job.toml"))[0]["ok"])


def children_of(pid):
    try:
        return [int(p) for p in pathlib.Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()]
    except OSError:
        return []


def stop_worker(batch, count):
    """Stops the one worker once it has read so many bytes; false where it was faster."""
    while batch.poll() is None:
        for child in children_of(batch.pid):
            try:
                io = pathlib.Path(f"/proc/{child}/io").read_text(encoding="ascii")
                if int(re.search(r"rchar: (\d+)", io).group(1)) >= count:
                    os.kill(child, signal.SIGSTOP)
                    return True
            except OSError:
                continue
    batch.communicate()
    return False


if __name__ == "__main__":
    unittest.main()
