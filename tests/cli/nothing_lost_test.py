#!/usr/bin/env python3
"""Attacks on the output folder: whatever comes between, the folder holds a whole old plan or a whole new one,
a run that says 0 has left a whole one, and nobody's edits are gone. Moments are hit by a library that fails,
stops or kills the program at its Nth write, fsync, rename, ... (tests/support/faults.c); folders are judged
by this script's own hashes."""
import fcntl
import hashlib
import json
import os
import pathlib
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from random_repairs import TEARLINE, Repair  # noqa: E402

FAULTS = str(pathlib.Path(os.environ["TEARLINE_BUILD"]) / "tests" / "libfaults.so")
JOB = Repair(22).text
EIO, ENOMEM, EXDEV, ENOSPC = 5, 12, 18, 28
ROOT = os.getuid() == 0 and subprocess.run(["unshare", "--pid", "--fork", "--mount-proc", "true"], check=False,
                                           capture_output=True).returncode == 0


def whole(folder):
    """Whether a folder holds just what its manifest says, and its manifest what its seal says."""
    text = (folder / "manifest.json").read_bytes()
    sealed, _, seal = text.rpartition(b',\n"seal":"')
    if seal != hashlib.sha256(sealed).hexdigest().encode() + b'"}\n':
        return False
    listed = {entry["name"]: entry["sha256"] for entry in json.loads(text)["files"]}
    found = {str(p.relative_to(folder)): hashlib.sha256(p.read_bytes()).hexdigest()
             for p in folder.rglob("*") if p.is_file()}
    found.pop("manifest.json")
    return listed == found


class Attack(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="tearline attacked ", ignore_cleanup_errors=True)
        self.addCleanup(temporary.cleanup)
        self.room = pathlib.Path(temporary.name)
        (self.room / "jobs").mkdir()
        self.job = self.room / "jobs" / "job.toml"
        self.job.write_text(JOB, encoding="utf-8")
        self.other = self.room / "jobs" / "other.toml"
        self.other.write_text(re.sub('^title = "', 'title = "another ', JOB), encoding="utf-8")
        self.assertNotEqual(self.other.read_text(encoding="utf-8"), JOB)
        self.parent = self.room / "plans"
        self.parent.mkdir()
        self.out = self.parent / "out"

    def start(self, *more, fault="", before=(), job=None, count=None, out=None):
        env = dict(os.environ)
        if fault:
            env.update(LD_PRELOAD=FAULTS, TEARLINE_FAULT=fault)
        if count:
            env["TEARLINE_FAULT_COUNT"] = str(count)
        return subprocess.Popen([*before, TEARLINE, "plan", str(job or self.job), "-o", str(out or self.out), *more],
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env)

    def plan(self, *more, status=0, **options):
        run = self.start(*more, **options)
        _, said = run.communicate(timeout=120)
        if status is not None:
            self.assertEqual(run.returncode, status, said)
        return said if status is not None else (run.returncode, said)

    def stopped(self, fault):
        """A run that waits at its Nth call of a kind."""
        run = self.start(fault=fault)
        self.addCleanup(run.communicate)
        self.addCleanup(run.kill)
        self.assertTrue(os.WIFSTOPPED(os.waitpid(run.pid, os.WUNTRACED)[1]), fault)
        return run

    def go_on(self, run):
        run.send_signal(signal.SIGCONT)
        _, said = run.communicate(timeout=60)
        return run.returncode, said

    def beside(self):
        return sorted(p.name for p in self.parent.iterdir())


class HalfAPlan(Attack):
    """A working folder that is taken away or changed under the run's hands."""

    def test_a_working_folder_that_vanishes_is_never_made_again(self):
        for earlier in (False, True):
            for fault in ("create:3:stop", "create:9:stop", "fsync:1:stop", "rename:1:stop"):
                shutil.rmtree(self.out, ignore_errors=True)
                if earlier:
                    self.plan()
                run = self.stopped(fault)
                (work,) = [p for p in self.parent.iterdir() if p.name.startswith(".tearline")]
                shutil.rmtree(work)
                status, said = self.go_on(run)
                self.assertEqual(status, 5, (fault, said))
                self.assertEqual(self.beside(), ["out"] if earlier else [], fault)
                if earlier:
                    self.assertTrue(whole(self.out))

    def test_a_folder_of_the_same_name_put_there_instead_is_not_taken_for_the_plan(self):
        for fault in ("create:9:stop", "fsync:1:stop"):
            run = self.stopped(fault)
            (work,) = [p for p in self.parent.iterdir() if p.name.startswith(".tearline")]
            work.rename(self.room / "moved")
            work.mkdir()
            (work / "plan.json").write_text("{}", encoding="utf-8")
            status, said = self.go_on(run)
            self.assertEqual(status, 5, said)
            self.assertFalse(self.out.exists())
            shutil.rmtree(self.room / "moved")

    def test_a_file_lost_or_changed_before_the_swap_is_seen(self):
        for harm in ("lost", "changed"):
            run = self.stopped("fsync:1:stop")
            (work,) = [p for p in self.parent.iterdir() if p.name.startswith(".tearline")]
            if harm == "lost":
                (work / "overview.svg").unlink()
            else:
                with (work / "plan.json").open("r+b") as file:
                    file.write(b"[")
            status, said = self.go_on(run)
            self.assertEqual(status, 5, said)
            self.assertEqual(self.beside(), [])

    @unittest.skipUnless(os.environ.get("TEARLINE_LONG"), "takes long: tests/run --release")
    @unittest.skipUnless(ROOT, "needs a process namespace")
    def test_runs_in_other_process_namespaces_leave_a_whole_plan(self):
        apart = ["unshare", "--pid", "--fork", "--mount-proc"]
        for _ in range(3):
            runs = [self.start(before=apart, job=job) for job in (self.job, self.other) * 2]
            for run in runs:
                _, said = run.communicate(timeout=120)
                self.assertIn(run.returncode, (0, 5), said)
            self.assertTrue(whole(self.out))
            self.assertEqual(self.beside(), ["out"])

    @unittest.skipUnless(ROOT, "needs a process namespace")
    def test_a_run_in_another_process_namespace_waits_for_this_one(self):
        run = self.stopped("create:9:stop")
        second = self.start(before=["unshare", "--pid", "--fork", "--mount-proc"], job=self.other)
        time.sleep(3)
        self.assertIsNone(second.poll(), "it did not wait")
        self.assertEqual(self.go_on(run)[0], 0)
        _, said = second.communicate(timeout=60)
        self.assertEqual(second.returncode, 0, said)
        self.assertTrue(whole(self.out))
        self.assertEqual(self.beside(), ["out"])


class Edits(Attack):
    def test_an_edit_between_the_check_and_the_swap_is_kept(self):
        # By the library: the run stands still just before its folder takes the other's name.
        for edit in ("changed", "added", "removed", "manifest"):
            shutil.rmtree(self.out, ignore_errors=True)
            self.plan()
            run = self.stopped("rename:1:stop")
            if edit == "changed":
                (self.out / "plan.json").write_text("mine", encoding="utf-8")
            elif edit == "added":
                (self.out / "notes.txt").write_text("mine", encoding="utf-8")
            elif edit == "removed":
                (self.out / "overview.svg").unlink()
            else:
                with (self.out / "manifest.json").open("a", encoding="utf-8") as file:
                    file.write("\n")
            status, said = self.go_on(run)
            self.assertEqual(status, 5, (edit, said))
            self.assertEqual(self.beside(), ["out"])
            self.assertFalse(whole(self.out), "the edit is gone")

    def test_a_file_put_into_an_empty_folder_just_before_is_kept(self):
        self.out.mkdir()
        run = self.stopped("rename:1:stop")
        (self.out / "notes.txt").write_text("mine", encoding="utf-8")
        status, said = self.go_on(run)
        self.assertEqual(status, 5, said)
        self.assertIn("notes.txt", said)
        self.assertEqual((self.out / "notes.txt").read_text(encoding="utf-8"), "mine")
        self.assertEqual(self.beside(), ["out"])

    def test_an_edited_plan_set_aside_by_a_run_that_was_killed_is_kept_and_told(self):
        self.plan()
        run = self.stopped("rename:1:stop")
        (self.out / "plan.json").write_text("mine", encoding="utf-8")
        # The swap is let through and the run killed at once.
        (work,) = [p for p in self.parent.iterdir() if p.name.startswith(".tearline")]
        aside = self.parent / "aside"
        self.out.rename(aside)
        work.rename(self.out)
        aside.rename(work)
        run.kill()
        run.wait()
        said = self.plan()
        self.assertIn(work.name, said)
        self.assertEqual((work / "plan.json").read_text(encoding="utf-8"), "mine")
        self.assertTrue(whole(self.out))

    def test_an_edit_to_the_manifest_itself_is_seen(self):
        self.plan()
        manifest = self.out / "manifest.json"
        text = manifest.read_bytes()
        value = json.loads(text)
        for edited in (text + b" ", text.replace(b"\n", b"\r\n"), json.dumps(value).encode(),
                       text.replace(b'"version"', b'"Version"'), text.replace(b'"seal":"', b'"seal":"0')):
            manifest.write_bytes(edited)
            said = self.plan(status=5)
            self.assertIn("manifest.json: was changed", said)
            self.assertEqual(manifest.read_bytes(), edited)
        # Another file and its right hash listed by hand.
        (self.out / "notes.txt").write_text("mine", encoding="utf-8")
        value["files"].append({"name": "notes.txt", "bytes": 4, "sha256": hashlib.sha256(b"mine").hexdigest()})
        manifest.write_text(json.dumps(value), encoding="utf-8")
        self.plan(status=5)
        self.assertEqual((self.out / "notes.txt").read_text(encoding="utf-8"), "mine")

    def sealed(self, files):
        text = json.dumps({"schema": "tearline-manifest/1", "files": files})[:-1]
        return f'{text},\n"seal":"{hashlib.sha256(text.encode()).hexdigest()}"}}\n'

    def test_names_that_lead_out_are_refused_sealed_or_not(self):
        self.plan()
        (self.room / "precious.txt").write_text("mine", encoding="utf-8")
        files = json.loads((self.out / "manifest.json").read_text(encoding="utf-8"))["files"]
        (self.out / "manifest.json").write_text(self.sealed(files), encoding="utf-8")
        self.plan()  # the seal as this script makes it is the program's
        for name in ("../../precious.txt", str(self.room / "precious.txt"), "pieces/../../../precious.txt", "..", "",
                     ".", "pieces/", "./plan.json", "pieces//x", "manifest.json"):
            more = {"name": name, "bytes": 4, "sha256": hashlib.sha256(b"mine").hexdigest()}
            (self.out / "manifest.json").write_text(self.sealed(files + [more]), encoding="utf-8")
            said = self.plan(status=5)
            self.assertIn("manifest.json", said, name)
            self.assertNotIn("warning", said, "told before the work")
        self.assertEqual((self.room / "precious.txt").read_text(encoding="utf-8"), "mine")

    def test_a_pipe_or_a_folder_in_the_place_of_a_file_of_ours_ends_at_once(self):
        for name in ("manifest.json", "plan.json"):
            for make in (os.mkfifo, os.mkdir):
                shutil.rmtree(self.out, ignore_errors=True)
                self.plan()
                (self.out / name).unlink()
                make(self.out / name)
                begun = time.monotonic()
                said = self.plan(status=5)
                self.assertIn(name, said)
                self.assertNotIn("warning", said)
                self.assertLess(time.monotonic() - begun, 2)

    def test_a_folder_with_very_much_in_it_is_refused_at_once(self):
        # "/" and "/usr" hold hundreds of thousands of files.
        for folder in ("/", "/usr"):
            begun = time.monotonic()
            self.plan(status=5, out=folder)
            self.assertLess(time.monotonic() - begun, 2, folder)


class ReadOnly(Attack):
    def test_a_read_only_folder_is_refused_before_the_work(self):
        self.plan()
        for folder in (self.out, self.out / "templates"):
            folder.chmod(0o555)
            said = self.plan(status=5)
            self.assertIn("read-only", said)
            self.assertNotIn("warning", said)
            folder.chmod(0o755)
            self.assertTrue(whole(self.out))

    @unittest.skipUnless(ROOT, "needs a mount namespace")
    def test_a_mount_point_is_refused_before_the_work(self):
        self.out.mkdir()
        run = subprocess.run(["unshare", "--mount", "sh", "-c", 'mount -t tmpfs none "$1" && shift && exec "$@"', "sh",
                              str(self.out), TEARLINE, "plan", str(self.job), "-o", str(self.out)],
                             capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 5, run.stderr)
        self.assertIn("mounted", run.stderr)
        self.assertNotIn("warning", run.stderr)

    def test_two_runs_that_make_the_same_parent_do_not_take_each_others_plan_away(self):
        # The first makes the parent and fails; the second has put its plan there meanwhile.
        deep = self.parent / "new" / "deep"
        run = self.start(fault="fsync:1:stop", out=deep / "first")
        os.waitpid(run.pid, os.WUNTRACED)
        shutil.copytree(self.room / "jobs", deep / "second")
        (work,) = [p for p in deep.iterdir() if p.name.startswith(".tearline")]
        shutil.rmtree(work)
        self.assertEqual(self.go_on(run)[0], 5)
        self.assertEqual([p.name for p in deep.iterdir()], ["second"])

    def test_a_parent_locked_by_someone_is_waited_for(self):
        held = os.open(self.parent, os.O_RDONLY)
        fcntl.flock(held, fcntl.LOCK_EX)
        run = self.start()
        time.sleep(2.5)
        self.assertIsNone(run.poll())
        os.close(held)
        _, said = run.communicate(timeout=60)
        self.assertEqual(run.returncode, 0, said)


@unittest.skipUnless(os.environ.get("TEARLINE_LONG"), "takes minutes: tests/run --release")
class Faults(Attack):
    """The Nth call fails: a whole old plan or a whole new one, a clear message, nothing left."""

    def calls(self, kind):
        count = self.room / "count"
        self.plan(fault=f"{kind}:0:0", count=count, job=self.other)
        return int(count.read_text(encoding="utf-8"))

    def each(self, kind, numbers, error=EIO):
        self.plan()
        before = (self.out / "manifest.json").read_bytes()
        total = self.calls(kind)
        self.assertGreater(total, 0, kind)
        for number in numbers(total):
            self.plan()
            status, said = self.plan(fault=f"{kind}:{number}:{error}", job=self.other, status=None)
            self.assertTrue(whole(self.out), (kind, number))
            self.assertIn(status, (0, 5), (kind, number, said))
            old = (self.out / "manifest.json").read_bytes() == before
            if status == 5:
                self.assertTrue(old, (kind, number, said))
                self.assertIn("cannot be written", said)
            if kind != "remove":
                self.assertEqual(self.beside(), ["out"], (kind, number, said))
            elif self.beside() != ["out"]:
                self.assertIn(self.beside()[0], said, "what cannot be removed is told")
                for left in self.parent.glob(".tearline*"):
                    shutil.rmtree(left)

    @staticmethod
    def all_of(total):
        return range(1, total + 1)

    def test_at_writes(self):
        self.each("write", self.all_of, ENOSPC)

    def test_at_fsyncs(self):
        self.each("fsync", self.all_of)

    def test_at_folders_and_files_made(self):
        self.each("mkdir", self.all_of)
        self.each("create", self.all_of, ENOSPC)

    def test_at_renames(self):
        self.each("rename", self.all_of)

    def test_where_two_folders_lie_on_two_disks(self):
        self.each("rename", self.all_of, EXDEV)

    def test_at_allocations(self):
        # Of a million by far most end in the program's word for it; where a library does without, the plan
        # is the plan, byte for byte.
        self.plan(job=self.other)
        right = (self.out / "manifest.json").read_bytes()
        total, draw, statuses = self.calls("malloc"), random.Random(12), []
        for number in sorted(draw.sample(range(1, total + 1), 200)):
            self.plan()
            before = (self.out / "manifest.json").read_bytes()
            status, said = self.plan(fault=f"malloc:{number}:{ENOMEM}", job=self.other, status=None)
            self.assertIn(status, (0, 4), (number, said))
            self.assertTrue(whole(self.out), number)
            self.assertEqual((self.out / "manifest.json").read_bytes(), right if status == 0 else before, number)
            self.assertEqual(self.beside(), ["out"], number)
            if status == 4:
                self.assertIn("not enough memory", said, number)
            statuses.append(status)
        self.assertGreater(statuses.count(4), 100)

    def test_where_no_folders_can_be_swapped_in_one_step(self):
        # EINVAL, as of file systems that do not know it: by three renames instead, each failing once.
        self.plan()
        self.plan(fault="rename:1:22", job=self.other)
        self.assertTrue(whole(self.out))
        self.assertEqual(self.beside(), ["out"])

    def test_at_removals(self):
        self.each("remove", self.all_of)

    def test_killed_at_200_random_moments(self):
        self.plan()
        began = time.monotonic()
        self.plan(job=self.other)
        takes, draw, killed = time.monotonic() - began, random.Random(200), 0
        for k in range(200):
            run = self.start(job=self.other if k % 2 else self.job)
            # The last third is where files are written: half of all moments there.
            time.sleep(takes * (draw.random() if k % 4 < 2 else 0.6 + 0.5 * draw.random()))
            run.kill()
            _, said = run.communicate(timeout=60)
            killed += run.returncode == -signal.SIGKILL
            self.assertTrue(whole(self.out), (k, said))
        self.assertGreater(killed, 50)
        self.plan()
        self.assertEqual(self.beside(), ["out"])

    def test_while_the_pages_are_made(self):
        # The printing program by itself: the file that it was to write is the old one or the new.
        self.plan()
        self.plan(job=self.other, out=self.parent / "other")
        program, file = pathlib.Path(TEARLINE).parent / "tearline-print", self.parent / "pages.pdf"
        if not program.exists():
            self.skipTest("built without the printing program")

        def pages(folder, fault=None, count=None):
            env = dict(os.environ, **({"LD_PRELOAD": FAULTS, "TEARLINE_FAULT": fault} if fault else {}))
            if count:
                env["TEARLINE_FAULT_COUNT"] = str(count)
            run = subprocess.run([program, "--pdf", str(file), str(folder)], env=env, capture_output=True, text=True,
                                 timeout=120, check=False)
            return run.returncode, run.stderr

        self.assertEqual(pages(self.parent / "other")[0], 0)
        new = file.read_bytes()
        self.assertEqual(pages(self.out)[0], 0)
        old = file.read_bytes()
        self.assertNotEqual(old, new)
        for kind, error in (("write", ENOSPC), ("fsync", EIO), ("create", ENOSPC), ("rename", EXDEV)):
            pages(self.parent / "other", f"{kind}:0:0", self.room / "count")
            total = int((self.room / "count").read_text(encoding="utf-8"))
            for number in range(1, total + 1):
                file.write_bytes(old)
                status, said = pages(self.parent / "other", f"{kind}:{number}:{error}")
                self.assertIn(status, (0, 5), (kind, number, said))
                self.assertEqual(file.read_bytes(), new if status == 0 else old, (kind, number, said))
                self.assertEqual(self.beside(), ["other", "out", "pages.pdf"], (kind, number, said))

    def test_killed_at_any_call_the_next_run_leaves_nothing_of_it(self):
        self.plan()
        total = self.calls("any")
        draw = random.Random(18)
        for number in sorted(draw.sample(range(1, total + 1), 12)) + [total - 1, total]:
            status, said = self.plan(fault=f"any:{number}:kill", job=self.other, status=None)
            self.assertEqual(status, -signal.SIGKILL, said)
            self.assertTrue(whole(self.out), number)
            self.plan()
            self.assertEqual(self.beside(), ["out"], number)


class Clock(Attack):
    def test_a_clock_set_back_changes_nothing(self):
        # Seventy years of difference between the files that are there and now.
        self.plan(job=self.other)
        for path in [self.out, *self.out.rglob("*"), self.job, self.other]:
            os.utime(path, (4e9, 4e9))
        self.plan()
        self.assertTrue(whole(self.out))
        self.plan(out=self.parent / "fresh")
        self.assertEqual((self.out / "manifest.json").read_bytes(), (self.parent / "fresh/manifest.json").read_bytes())
        self.assertEqual(self.beside(), ["fresh", "out"])


class FullDisk(Attack):
    @unittest.skipUnless(ROOT, "needs a mount namespace")
    def test_on_a_full_disk(self):
        # A tmpfs from too small for anything up to large enough; the plan of this job is some 300 kB.
        script = ('mount -t tmpfs -o size="$1" none "$2" && "$3" plan "$4" -o "$2/out" --format svg,dxf,hpgl; s=$?; '
                  'ls -A "$2"; exit $s')
        statuses = set()
        for size in ("4k", "40k", "100k", "200k", "400k", "16m"):
            run = subprocess.run(["unshare", "--mount", "sh", "-c", script, "sh", size, str(self.parent), TEARLINE,
                                  str(self.job)], capture_output=True, text=True, timeout=60, check=False)
            self.assertIn(run.returncode, (0, 5), (size, run.stderr))
            self.assertEqual(run.stdout.split(), ["out"] if run.returncode == 0 else [], (size, run.stderr))
            statuses.add(run.returncode)
        self.assertEqual(statuses, {0, 5})

    def test_a_limit_of_file_size_is_a_failed_write_and_no_death(self):
        run = subprocess.run(["sh", "-c", 'ulimit -f 40; exec "$@"', "sh", TEARLINE, "plan", str(self.job), "-o",
                              str(self.out)], capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 5, run.stderr)
        self.assertEqual(self.beside(), [])


if __name__ == "__main__":
    unittest.main()
