#!/usr/bin/env python3
"""Many jobs by `tearline batch`: one line a job whatever happens, the same as a serial run's; what is done stays done,
what is killed is done again, and nobody else's job is touched by it."""
import csv
import fcntl
import hashlib
import json
import os
import pathlib
import pty
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from batches import (batch, command, compared, kill, lines_in, make_jobs, started, wait_until, workers_of)  # noqa: E402
from random_repairs import SOURCE, START, TEARLINE, Repair  # noqa: E402

CLUSTER = SOURCE / "cli" / "cluster"
LONG = bool(os.environ.get("TEARLINE_LONG"))
FIELDS = {"job", "status", "message", "sha256", "totals", "strain_max", "shear_max", "warnings", "seconds", "peak_MB"}


def sha(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def build_id(program):
    told = subprocess.run(["readelf", "-n", program], capture_output=True, text=True, check=True).stdout
    return bytes.fromhex(re.search(r"Build ID: ([0-9a-f]+)", told).group(1))


def whole(folder):
    """Whether a folder holds just what its manifest says, by this script's own hashes."""
    listed = {entry["name"]: entry["sha256"]
              for entry in json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["files"]}
    found = {str(p.relative_to(folder)): sha(p) for p in folder.rglob("*") if p.is_file()}
    found.pop("manifest.json")
    return listed == found


class Batches(unittest.TestCase):
    """Twenty jobs and what a serial, lean run says of them."""

    def setUp(self):
        self.out = self.top / f"out-{self.id().rsplit('.', 1)[-1]}"

    def assert_all_there(self, out=None, lean=True):
        found = compared(lines_in(out or self.out))
        if not lean:
            for line in found:
                line.pop("folder", None)
        self.assertEqual(found, self.serial)


def setUpModule():  # noqa: N802 (unittest's own name): once for all classes
    print(f"start value {START}")
    temporary = tempfile.TemporaryDirectory(prefix="tearline batch ", ignore_cleanup_errors=True)
    unittest.addModuleCleanup(temporary.cleanup)
    Batches.top = pathlib.Path(temporary.name)
    Batches.jobs = Batches.top / "jobs"
    Batches.names, Batches.refused = make_jobs(Batches.jobs)
    batch(Batches.jobs, Batches.top / "serial", "--jobs", 1, "--lean")
    Batches.lines = lines_in(Batches.top / "serial")
    Batches.serial = compared(Batches.lines)


class Results(Batches):
    def test_every_job_has_one_line_with_every_field(self):
        self.assertEqual([line["job"] for line in self.serial], sorted(self.names))
        for line in self.lines:
            self.assertEqual(set(line), FIELDS)
            self.assertEqual(set(line["sha256"]), {"job", "model", "options", "program"})
            self.assertEqual(line["status"], self.refused.get(line["job"], 0), line["message"])
            self.assertGreater(line["seconds"], 0.0)
            self.assertGreater(line["peak_MB"], 1.0)

    def test_the_hashes_are_those_of_the_files(self):
        # SHA-256 by this script's own library.
        for line in self.lines:
            job = self.jobs / line["job"]
            self.assertEqual(line["sha256"]["job"], sha(job) if job.exists() else None)
            self.assertEqual(line["sha256"]["program"], hashlib.sha256(build_id(TEARLINE)).hexdigest())
            if line["status"] != 3:
                model = re.search('model = "(.*)"', job.read_text(encoding="utf-8")).group(1)
                self.assertEqual(line["sha256"]["model"], sha(pathlib.Path(model)))

    def test_the_figures_are_those_of_the_plan(self):
        for line in self.lines[:6]:
            if line["status"] != 0:
                continue
            done = subprocess.run([TEARLINE, "plan", str(self.jobs / line["job"]), "--json"], capture_output=True,
                                  text=True, timeout=120, check=True)
            plan = json.loads(done.stdout)
            self.assertEqual(line["totals"], plan["totals"])
            pieces = [piece for ply in plan["plies"] for piece in ply["pieces"]]
            strains = [piece["strain"]["max"] for piece in pieces if piece["strain"]]
            shears = [piece["shear_deg"]["max"] for piece in pieces if piece["shear_deg"]]
            self.assertEqual(line["strain_max"], max(strains, default=None))
            self.assertEqual(line["shear_max"], max(shears, default=None))
            self.assertEqual([(w["code"], w["rank"], w["message"]) for w in line["warnings"]],
                             [(w["code"], w["rank"], w["message"]) for w in plan["warnings"]])

    def test_a_refusal_says_what_the_command_says(self):
        for line in self.lines:
            if line["status"] == 0:
                self.assertEqual(line["message"], "")
                continue
            done = subprocess.run([TEARLINE, "plan", line["job"], "--json"], capture_output=True, text=True,
                                  timeout=120, check=False, cwd=self.jobs)
            self.assertEqual(done.returncode, line["status"])
            self.assertEqual(done.stderr.strip(), "tearline: " + line["message"])

    def test_refusals_are_told_and_stop_nobody(self):
        done = batch(self.jobs, self.out, "--lean", "--jobs", 2)
        for name in self.refused:
            self.assertEqual(len([line for line in done.stderr.splitlines() if line.startswith(name)]), 1, done.stderr)
        self.assertIn("20 of 20 jobs, 3 refused", done.stderr)
        self.assertEqual(done.stdout, "")
        self.assert_all_there()

    def test_slices_part_the_list_and_join_to_the_same(self):
        for k in (2, 3, 1):
            batch(self.jobs, self.out, "--lean", "--slice", f"{k}/3")
        self.assertEqual(sorted(p.name for p in self.out.iterdir()), [f"results-{k}-of-3.jsonl" for k in (1, 2, 3)])
        for k in (1, 2, 3):
            text = (self.out / f"results-{k}-of-3.jsonl").read_text(encoding="utf-8")
            mine = {json.loads(line)["job"] for line in text.splitlines()}
            # Line i where (i - 1) mod N = K - 1.
            self.assertEqual(mine, {name for i, name in enumerate(self.names, 1) if (i - 1) % 3 == k - 1})
        self.assert_all_there()

    def test_the_folders_hold_the_plans(self):
        batch(self.jobs, self.out)
        self.assert_all_there(lean=False)
        for line in lines_in(self.out):
            if line["status"] != 0:
                self.assertNotIn("folder", line)
                continue
            folder = self.out / line["folder"]
            self.assertTrue(whole(folder), folder)
            plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
            self.assertEqual(plan["totals"], line["totals"])
            manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
            self.assertEqual(manifest["sha256"], line["sha256"])
        folders = [p for p in (self.out / "plans").glob("*/*")]
        self.assertEqual(len(folders), len(self.names) - len(self.refused))

    def test_a_plan_by_itself_has_the_same_hashes(self):
        job = self.jobs / self.names[0]
        subprocess.run([TEARLINE, "plan", str(job), "-o", str(self.out)], capture_output=True, timeout=120, check=True)
        manifest = json.loads((self.out / "manifest.json").read_text(encoding="utf-8"))
        self.assertEqual(manifest["sha256"],
                         next(line["sha256"] for line in self.serial if line["job"] == self.names[0]))

    def test_a_line_is_one_write_of_the_parents(self):
        trace = self.top / "trace"
        done = subprocess.run(["strace", "-f", "-y", "-s", "100000", "-e", "trace=write,pwrite64,writev", "-o", str(trace),
                               *command(self.jobs, self.out, "--lean", "--jobs", 2, "--slice", "1/4")],
                              capture_output=True, text=True, timeout=600, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        writes = [line for line in trace.read_text(encoding="utf-8", errors="replace").splitlines()
                  if "results-1-of-4.jsonl>" in line]
        self.assertEqual(len(writes), 5)
        self.assertEqual(len({line.split()[0] for line in writes}), 1)  # one process
        for line in writes:
            self.assertRegex(line, r'write\(\d+<.*>, "\{.*\}\\n", \d+\) += \d+$')

    def test_a_terminal_is_told_how_long_it_takes(self):
        parent, child = pty.openpty()
        run = subprocess.Popen(command(self.jobs, self.out, "--lean", "--slice", "1/4"), stderr=child,
                               stdout=subprocess.DEVNULL)
        os.close(child)
        said = b""
        while True:
            try:
                part = os.read(parent, 4096)
            except OSError:  # Linux's way to say that the other end is closed
                break
            if not part:
                break
            said += part
        os.close(parent)
        self.assertEqual(run.wait(), 0)
        self.assertRegex(said.decode(), r"\r\x1b\[K[1-4] of 5 jobs[^\r]*; \d+ s left")
        self.assertIn("5 of 5 jobs", said.decode())

    @unittest.skipUnless(shutil.which("parallel"), "GNU parallel is not installed")
    def test_gnu_parallel_gives_the_same(self):
        env = dict(os.environ, TEARLINE=TEARLINE, SECONDS_A_JOB="60", MINUTES="4")  # five slices of four
        words = [CLUSTER / "on-parallel", self.jobs / "list.txt", self.out, "--lean"]
        done = subprocess.run(list(map(str, words)), capture_output=True, text=True, timeout=600, check=False, env=env)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(len(list(self.out.glob("results-*-of-5.jsonl"))), 5)
        self.assert_all_there()

    @unittest.skipUnless(shutil.which("parallel"), "GNU parallel is not installed")
    def test_machines_that_share_nothing_send_their_lines_back(self):
        # "Machines" that are this one: what ssh would do, its words joined and read once more by a shell over there.
        there = pathlib.Path(tempfile.mkdtemp()) / "there"  # without a blank: words of SSH are parted at them
        self.addCleanup(shutil.rmtree, there.parent)
        there.write_text('#!/bin/bash\n[ "$1" != down ] || exit 255\nshift\n'
                         'exec env -i PATH="$PATH" HOME=/ bash -c "$*"\n', encoding="utf-8")
        there.chmod(0o755)
        (self.top / "hosts").write_text("# cores, name\n1 shed1\n4 down\n1 shed2\n", encoding="utf-8")
        env = dict(os.environ, TEARLINE=TEARLINE, SECONDS_A_JOB="60", MINUTES="4", SSH=str(there))
        words = [CLUSTER / "on-parallel", "--hosts", self.top / "hosts", self.jobs / "list.txt", self.out]
        for _ in range(2):
            done = subprocess.run(list(map(str, words)), capture_output=True, text=True, timeout=600, check=False, env=env)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertIn("down does not answer", done.stderr)
            self.assert_all_there()
        # The second time what was done goes along and is passed over.
        self.assertEqual(done.stderr.count("4 done before"), 5, done.stderr)
        self.assertEqual([p.name for p in self.out.iterdir() if p.name.startswith(".")], [])


class GoesOn(Batches):
    def test_what_is_done_is_passed_over(self):
        batch(self.jobs, self.out, "--lean")
        results = self.out / "results.jsonl"
        before = (results.read_bytes(), results.stat().st_mtime_ns)
        done = batch(self.jobs, self.out, "--lean")
        self.assertIn("20 done before", done.stderr)
        self.assertEqual((results.read_bytes(), results.stat().st_mtime_ns), before)

    def test_what_has_changed_is_done_again(self):
        jobs = self.top / "changed"
        shutil.copytree(self.jobs, jobs)
        model = jobs / "own.step"
        shutil.copy(SOURCE / "sample-models" / "panel.step", model)
        text = re.sub('model = ".*"', 'model = "own.step"', Repair(22).text)
        (jobs / "own.toml").write_text(text, encoding="utf-8")
        (jobs / "list.txt").write_text("\n".join([self.names[0], self.names[2], "own.toml", "later.toml"]) + "\n",
                                       encoding="utf-8")
        batch(jobs, self.out)
        first = {line["job"]: line for line in lines_in(self.out)}
        self.assertEqual(first["later.toml"]["status"], 3)
        # A job file, a model, and a file that was not there; the fourth stays.
        text = (jobs / self.names[0]).read_text(encoding="utf-8")
        (jobs / self.names[0]).write_text(text.replace('title = "', 'title = "New ', 1), encoding="utf-8")
        model.write_bytes(model.read_bytes().replace(b"Saltmarsh Yard", b"SALTMARSH YARD"))
        shutil.copy(jobs / self.names[2], jobs / "later.toml")
        done = batch(jobs, self.out)
        self.assertIn("4 of 4 jobs, 1 done before", done.stderr)
        second = {line["job"]: line for line in lines_in(self.out)}
        self.assertEqual(len(lines_in(self.out)), 4)
        self.assertEqual(second[self.names[2]], first[self.names[2]])
        self.assertNotEqual(second[self.names[0]]["sha256"]["job"], first[self.names[0]]["sha256"]["job"])
        self.assertNotEqual(second["own.toml"]["sha256"]["model"], first["own.toml"]["sha256"]["model"])
        self.assertEqual(second["later.toml"]["status"], 0)
        # A job that is refused now has no plan any more: nobody cuts by what it said before.
        folder = self.out / second["own.toml"]["folder"]
        self.assertTrue(folder.is_dir())
        (jobs / "own.toml").write_text("nonsense", encoding="utf-8")
        batch(jobs, self.out)
        self.assertFalse(folder.exists())
        self.assertNotIn("folder", next(line for line in lines_in(self.out) if line["job"] == "own.toml"))

    def test_a_folder_that_is_gone_or_has_lost_a_file_is_made_again_and_an_edited_one_kept(self):
        (self.jobs / "two.txt").write_text("\n".join(self.names[:2]) + "\n", encoding="utf-8")
        words = [TEARLINE, "batch", str(self.jobs / "two.txt"), "-o", str(self.out)]
        subprocess.run([*words, "--lean"], capture_output=True, timeout=300, check=True)
        for wanted in (0, 2, 1):  # after a lean run both are made; then none; then the one that is gone
            done = subprocess.run(words, capture_output=True, text=True, timeout=300, check=True)
            if wanted == 2:
                self.assertIn("2 done before", done.stderr)
                shutil.rmtree(self.out / lines_in(self.out)[0]["folder"])
            elif wanted == 1:
                self.assertIn("1 done before", done.stderr)
        first, second = [self.out / line["folder"] for line in sorted(lines_in(self.out), key=lambda line: line["job"])]
        self.assertTrue(whole(first) and whole(second))
        # A template is lost, the other plan's sheet drawn over: the first is made again, the second kept and told.
        (first / "overview.svg").unlink()
        (second / "job-sheet.html").write_text("mine", encoding="utf-8")
        for _ in range(2):
            told = subprocess.run(words, capture_output=True, text=True, timeout=300, check=False)
            self.assertEqual(told.returncode, 1)
            self.assertIn("job-sheet.html: was changed after this program wrote it", told.stderr)
            self.assertTrue(whole(first))
            self.assertEqual((second / "job-sheet.html").read_text(encoding="utf-8"), "mine")
            self.assertEqual(sorted(line["status"] for line in lines_in(self.out)), [0, 5])
        (second / "job-sheet.html").unlink()
        subprocess.run(words, capture_output=True, timeout=300, check=True)
        self.assertTrue(whole(first) and whole(second))

    def test_a_line_without_its_end_is_cut_off(self):
        batch(self.jobs, self.out, "--lean")
        results = self.out / "results.jsonl"
        text = results.read_bytes()
        results.write_bytes(text[:-40])
        done = batch(self.jobs, self.out, "--lean")
        self.assertIn("19 done before", done.stderr)
        self.assert_all_there()

    def test_what_is_not_final_is_dropped_and_done_again(self):
        # By too little memory; tried twice, then told, and a later run with more does it.
        done = batch(self.jobs, self.out, "--lean", "--job-memory", 0.01, status=1)
        statuses = {line["job"]: line["status"] for line in lines_in(self.out)}
        self.assertEqual(len(statuses), 20)
        limited = [job for job, status in statuses.items() if status == "limit"]
        self.assertGreater(len(limited), 10)
        self.assertIn(f"{len(limited)} failed", done.stderr)
        self.assertIn("more than 0.01 GB of memory; allow more by --job-memory", done.stderr)
        done = batch(self.jobs, self.out, "--lean")
        self.assertIn(f"{20 - len(limited)} done before", done.stderr)
        self.assert_all_there()


def held(pid):
    """Whether a process could be held before it was done: what it is sent then, it gets."""
    try:
        os.kill(pid, signal.SIGSTOP)
        state = ""
        while state not in ("T", "Z", "X"):
            state = pathlib.Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
        return state == "T"
    except (ProcessLookupError, FileNotFoundError):
        return False


class Killed(Batches):
    def start(self, *words, **more):
        return started(command(self.jobs, self.out, *words), **more)

    def assert_nothing_left(self):
        self.assertTrue(wait_until(lambda: not workers_of(self.jobs)), "workers live on")
        left = [str(p) for p in self.out.rglob(".*")]
        self.assertEqual(left, [])

    def killed_at_random(self, lean, times):
        chance = random.Random(f"{START} {lean}")
        words = ["--jobs", 2, *(["--lean"] if lean else [])]
        for attempt in range(times):
            run = self.start(*words)
            time.sleep(chance.uniform(0.0, 1.5))
            run.kill()
            run.communicate()
            self.assertTrue(wait_until(lambda: not workers_of(self.jobs)), "workers live on")
            jobs = [line["job"] for line in lines_in(self.out)] if self.out.exists() else []
            self.assertEqual(len(jobs), len(set(jobs)), f"attempt {attempt}")
        batch(self.jobs, self.out, *words)
        self.assert_all_there(lean=lean)
        self.assert_nothing_left()

    def test_the_parent_at_any_moment(self):
        self.killed_at_random(True, 40 if LONG else 6)

    def test_the_parent_at_any_moment_with_folders(self):
        self.killed_at_random(False, 40 if LONG else 6)
        for line in lines_in(self.out):
            if line["status"] == 0:
                self.assertTrue(whole(self.out / line["folder"]))

    def test_workers_at_any_moment(self):
        chance = random.Random(START)
        run = self.start("--lean", "--jobs", 2)
        kills = 0
        while run.poll() is None:
            time.sleep(chance.uniform(0.05, 0.4))
            for pid in workers_of(self.jobs)[:1]:
                kill(pid)
                kills += 1
        _, said = run.communicate()
        self.assertGreater(kills, 5)
        statuses = {line["status"] for line in lines_in(self.out)}
        self.assertLessEqual(statuses, {0, 3, 4, "signal"})
        self.assertEqual(run.returncode, 1 if "signal" in statuses else 0, said)
        self.assertEqual(len({line["job"] for line in lines_in(self.out)}), 20)
        batch(self.jobs, self.out, "--lean")
        self.assert_all_there()

    def test_one_worker_is_tried_again_within_the_run(self):
        run = self.start("--lean", "--jobs", 1, "--slice", "1/20")
        self.assertTrue(wait_until(lambda: workers_of(self.jobs)))
        kill(workers_of(self.jobs)[0])
        _, said = run.communicate()
        self.assertEqual(run.returncode, 0, said)
        self.assertEqual([line["status"] for line in lines_in(self.out)], [0])

    def test_a_runaway_is_stopped_and_told(self):
        # The system's own signal to who has used up his processor time, at both tries.
        for _ in range(10):  # a worker that was done before it was found has not been stopped
            run = self.start("--lean", "--jobs", 1, "--slice", "1/20", "--job-seconds", 7)
            stopped = set()
            while len(stopped) < 2 and run.poll() is None:
                for pid in set(workers_of(self.jobs)) - stopped:
                    if held(pid):
                        os.kill(pid, signal.SIGXCPU)
                        os.kill(pid, signal.SIGCONT)
                        stopped.add(pid)
            _, said = run.communicate()
            if len(stopped) == 2:
                break
            shutil.rmtree(self.out)
        self.assertEqual(run.returncode, 1, said)
        self.assertIn("takes more than 7 s of processor time", said)
        self.assertEqual([line["status"] for line in lines_in(self.out)], ["limit"])
        batch(self.jobs, self.out, "--lean", "--slice", "1/20")
        self.assertEqual([line["status"] for line in lines_in(self.out)], [0])

    @unittest.skipUnless(LONG, "takes as long as a job may: TEARLINE_LONG=1")
    def test_who_waits_for_ever_is_stopped_by_the_clock(self):
        run = self.start("--lean", "--jobs", 1, "--slice", "1/20", "--job-seconds", 1)
        while run.poll() is None:  # both tries
            for pid in workers_of(self.jobs):
                os.kill(pid, signal.SIGSTOP)
            time.sleep(0.005)
        _, said = run.communicate()
        self.assertEqual(run.returncode, 1, said)
        self.assertIn("was stopped after 70 s by the clock", said)
        self.assertEqual([line["status"] for line in lines_in(self.out)], ["limit"])

    def test_a_signal_ends_it_with_its_workers(self):
        for number, name in ((signal.SIGTERM, "term"), (signal.SIGINT, "int"), (signal.SIGHUP, "hup")):
            self.out = self.top / f"signal-{name}"
            run = self.start("--jobs", 2)
            self.assertTrue(wait_until(lambda: workers_of(self.jobs)))
            time.sleep(0.6)
            run.send_signal(number)
            run.communicate(timeout=30)
            self.assertEqual(run.returncode, -number)
            self.assert_nothing_left()
        batch(self.jobs, self.out)
        self.assert_all_there(lean=False)

    def test_a_signal_that_its_starter_ignores_does_not_end_it(self):
        # As nohup and a shell's background start it.
        run = self.start("--lean", "--jobs", 1, "--slice", "1/20", ignored=(signal.SIGINT, signal.SIGHUP))
        self.assertTrue(wait_until(lambda: workers_of(self.jobs)))
        run.send_signal(signal.SIGHUP)
        run.send_signal(signal.SIGINT)
        self.assertIn("1 of 1 jobs", run.communicate(timeout=60)[1])

    def test_a_crash_takes_one_job_with_it(self):
        # A worker that stops for ever by a signal of its own is no end; one that aborts is.
        run = self.start("--lean", "--jobs", 2)
        self.assertTrue(wait_until(lambda: workers_of(self.jobs)))
        first = workers_of(self.jobs)[0]
        os.kill(first, signal.SIGABRT)
        _, said = run.communicate()
        self.assertEqual(run.returncode, 0, said)
        self.assert_all_there()


class Refused(Batches):
    def refuse(self, words, status, said):
        done = subprocess.run([TEARLINE, "batch", *map(str, words)], capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(done.returncode, status, done.stderr)
        self.assertIn(said, done.stderr)
        self.assertFalse(self.out.exists())

    def test_wrong_words(self):
        jobs = self.jobs / "list.txt"
        self.refuse([jobs], 2, "-o DIR")
        self.refuse(["-o", self.out], 2, "LIST")
        for slice_ in ("0/3", "4/3", "x", "1"):
            self.refuse([jobs, "-o", self.out, "--slice", slice_], 2, "--slice")
        self.refuse([jobs, "-o", self.out, "--jobs", 0], 2, "--jobs")
        self.refuse([jobs, "-o", self.out, "--summary", self.out], 2, "--summary")

    def test_wrong_lists(self):
        for name, text, said in (("none", None, "cannot be opened"), ("empty", "# nothing\n\n", "holds no job"),
                                 ("twice", "a.toml\nb.toml\na.toml\n", "twice:3: 'a.toml' stands already in line 1")):
            file = self.top / name
            if text is not None:
                file.write_text(text, encoding="utf-8")
            self.refuse([file, "-o", self.out], 3, said)
        self.refuse([self.top, "-o", self.out], 3, "is a folder")
        self.refuse(["--summary", self.top], 3, "holds no results")

    def test_a_folder_that_is_no_batchs(self):
        plan = self.top / "a plan"
        subprocess.run([TEARLINE, "plan", str(self.jobs / self.names[0]), "-o", str(plan)], capture_output=True,
                       timeout=120, check=True)
        self.refuse([self.jobs / "list.txt", "-o", plan], 5, "holds a plan of its own")
        self.assertTrue(whole(plan))
        file = self.top / "a file"
        file.write_text("mine", encoding="utf-8")
        self.refuse([self.jobs / "list.txt", "-o", file], 5, "a file")
        self.assertEqual(file.read_text(encoding="utf-8"), "mine")

    def test_a_second_run_at_the_same_time(self):
        self.out.mkdir()
        with (self.out / "results.jsonl").open("w", encoding="utf-8") as results:
            fcntl.flock(results, fcntl.LOCK_EX)
            done = batch(self.jobs, self.out, "--lean", status=5)
            self.assertIn("another run is writing there", done.stderr)
        # Another slice is another's work.
        batch(self.jobs, self.out, "--lean", "--slice", "20/20")


class Summary(Batches):
    def test_is_a_table_and_a_page_of_all(self):
        shutil.copytree(self.top / "serial", self.out)
        done = subprocess.run([TEARLINE, "batch", "--summary", str(self.out)], capture_output=True, text=True,
                              timeout=60, check=False)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("20 jobs: 17 done", done.stderr)
        self.assertIn("3 refused", done.stderr)
        with (self.out / "summary.csv").open(encoding="utf-8", newline="") as file:
            rows = {row["job"]: row for row in csv.DictReader(file)}
        self.assertEqual(set(rows), set(self.names))
        for line in self.lines:
            row = rows[line["job"]]
            self.assertEqual(row["status"], str(line["status"]))
            self.assertEqual(row["message"], line["message"])
            if line["status"] == 0:
                for key in ("resin_g", "glass_g", "ground_area_m2"):
                    self.assertEqual(float(row[key]), line["totals"][key])
                stops = [w["code"] for w in line["warnings"] if w["rank"] == "stop"]
                self.assertEqual(row["to_decide"].split(), list(dict.fromkeys(stops)))
        page = ElementTree.fromstring((self.out / "summary.html").read_text(encoding="utf-8").partition("\n")[2])
        table = page.find(".//tbody")
        self.assertEqual(len(table), 20)
        # What needs a person comes first: the refused.
        self.assertEqual({"".join(row[0].itertext()) for row in table[:3]}, set(self.refused))
        self.assertGreaterEqual(len(page.findall(".//{http://www.w3.org/2000/svg}svg")), 4)
        self.assertIn("licensed practice", "".join(page.itertext()))


if __name__ == "__main__":
    unittest.main(verbosity=2)
