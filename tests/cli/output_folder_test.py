#!/usr/bin/env python3
"""What `tearline plan` leaves behind: all of a folder or nothing, nobody's files touched, streams kept apart,
the same bytes every time; seen by a script that hashes every file itself."""
import hashlib
import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from random_repairs import SAMPLES, TEARLINE, Repair  # noqa: E402

JOB = Repair(22).text


def plan(job, *words, **more):
    return subprocess.run([TEARLINE, "plan", str(job), *map(str, words)], capture_output=True, text=True,
                          timeout=120, check=False, **more)


def hashes(folder):
    return {str(p.relative_to(folder)): hashlib.sha256(p.read_bytes()).hexdigest()
            for p in folder.rglob("*") if p.is_file()}


class OutputFolder(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory(prefix="tearline Möwe ")
        self.addCleanup(self.temporary.cleanup)
        self.room = pathlib.Path(self.temporary.name)
        self.job = self.room / "job.toml"
        self.job.write_text(JOB, encoding="utf-8")
        self.out = self.room / "out"

    def made(self, *words):
        done = plan(self.job, "-o", self.out, *words)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done

    def beside(self):
        return sorted(p.name for p in self.room.iterdir())

    def refused(self, words, status=5):
        """Nothing changes, and the reason names what is in the way."""
        before = hashes(self.room)
        done = plan(self.job, "-o", self.out)
        self.assertEqual(done.returncode, status, done.stderr)
        self.assertIn(words, done.stderr)
        self.assertEqual(hashes(self.room), before)

    def test_the_manifest_has_the_hash_and_size_of_every_file(self):
        # SHA-256 by this script's own library.
        self.made("--format", "svg,dxf,hpgl")
        self.assert_whole()

    def assert_whole(self):
        manifest = json.loads((self.out / "manifest.json").read_text(encoding="utf-8"))
        self.assertEqual(manifest["schema"], "tearline-manifest/1")
        listed = {entry["name"]: entry for entry in manifest["files"]}
        found = hashes(self.out)
        found.pop("manifest.json")
        self.assertEqual({name: entry["sha256"] for name, entry in listed.items()}, found)
        for name, entry in listed.items():
            self.assertEqual(entry["bytes"], (self.out / name).stat().st_size)
        self.assertEqual([entry["name"] for entry in manifest["files"]], sorted(listed))

    def test_the_hash_of_the_model_is_its_files(self):
        self.made()
        value = json.loads((self.out / "plan.json").read_text(encoding="utf-8"))
        model = SAMPLES / value["job"]["model"]
        self.assertEqual(value["job"]["model_sha256"], hashlib.sha256(model.read_bytes()).hexdigest())

    def test_the_same_job_gives_the_same_bytes_over_and_over(self):
        self.made()
        first = hashes(self.out)
        self.made()
        self.assertEqual(hashes(self.out), first)
        other = self.room / "another folder"
        self.assertEqual(plan(self.job, "-o", other).returncode, 0)
        self.assertEqual(hashes(other), first)

    def test_how_many_processors_there_are_changes_nothing(self):
        self.made()
        first = hashes(self.out)
        one = subprocess.run(["taskset", "-c", "0", TEARLINE, "plan", str(self.job), "-o", str(self.out)],
                             capture_output=True, text=True, check=False)
        self.assertEqual(one.returncode, 0, one.stderr)
        self.assertEqual(hashes(self.out), first)

    def test_what_a_plan_no_longer_has_is_taken_away(self):
        self.made("--format", "svg,dxf,dxf2000,hpgl", "--cutter-files", "one,rolls,pieces")
        self.assertTrue((self.out / "rolls").is_dir())
        self.assertTrue((self.out / "templates.plt").is_file())
        self.made("--format", "svg")
        self.assertFalse((self.out / "rolls").exists())
        self.assertEqual({p.suffix for p in (self.out / "templates").iterdir()}, {".svg"})
        self.assertEqual([p.name for p in self.out.glob("templates*")], ["templates"])

    def test_a_file_of_someone_elses_stops_it(self):
        self.made()
        (self.out / "templates" / "my notes.txt").write_text("mine", encoding="utf-8")
        self.refused("templates/my notes.txt")

    def test_an_edited_file_stops_it(self):
        self.made()
        path = self.out / "plan.json"
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("1", "2", 1), encoding="utf-8")  # as long as before
        self.refused("plan.json")

    def test_a_missing_file_stops_it(self):
        self.made()
        (self.out / "overview.svg").unlink()
        self.refused("overview.svg")

    def test_a_file_that_became_a_link_stops_it(self):
        self.made()
        path = self.out / "overview.svg"
        path.rename(self.room / "elsewhere.svg")
        path.symlink_to(self.room / "elsewhere.svg")
        self.refused("overview.svg")

    def test_a_manifest_that_claims_someone_elses_files_is_believed_in_nothing(self):
        # A file put there and listed with a wrong hash.
        self.made()
        (self.out / "notes.txt").write_text("mine", encoding="utf-8")
        path = self.out / "manifest.json"
        manifest = json.loads(path.read_text(encoding="utf-8"))
        manifest["files"].append({"name": "notes.txt", "bytes": 4, "sha256": "0" * 64})
        path.write_text(json.dumps(manifest), encoding="utf-8")
        self.refused("manifest.json: was changed")

    def test_a_name_that_leads_out_of_the_folder_harms_nothing(self):
        self.made()
        (self.room / "precious.txt").write_text("mine", encoding="utf-8")
        path = self.out / "manifest.json"
        manifest = json.loads(path.read_text(encoding="utf-8"))
        manifest["files"].append({"name": "../precious.txt", "bytes": 4,
                                  "sha256": hashlib.sha256(b"mine").hexdigest()})
        path.write_text(json.dumps(manifest), encoding="utf-8")
        plan(self.job, "-o", self.out)
        self.assertEqual((self.room / "precious.txt").read_text(encoding="utf-8"), "mine")

    def test_a_refused_job_makes_no_folder(self):
        for old, new, status in (("ratio = ", "ratio = -", 3), ("[damage]", "[damge]", 3), ("= [0, 0, 0]", "= [0, 0", 3)):
            self.job.write_text(JOB.replace(old, new), encoding="utf-8")
            done = plan(self.job, "-o", self.out)
            self.assertEqual(done.returncode, status, done.stderr)
            self.assertEqual(done.stdout, "")
            self.assertEqual(self.beside(), ["job.toml"])

    def test_a_refused_job_leaves_the_earlier_plan(self):
        self.made()
        before = hashes(self.out)
        self.job.write_text(JOB.replace("ratio = ", "ratio = -"), encoding="utf-8")
        self.assertEqual(plan(self.job, "-o", self.out).returncode, 3)
        self.assertEqual(hashes(self.out), before)

    def test_nothing_stands_beside_the_folder_afterwards(self):
        self.made("--format", "pdf")
        self.assertEqual(self.beside(), ["job.toml", "out"])

    def test_a_model_is_read_by_a_copy_of_the_process(self):
        # Started anew it would load its libraries again, a tenth of such a plan: the loader leaves a file
        # for each start. The second time there is a folder to be looked at first.
        text = (SAMPLES / "curlew.toml").read_text(encoding="utf-8")
        self.job.write_text(text.replace("curlew.step", str(SAMPLES / "curlew.step")), encoding="utf-8")
        for time_ in ("first", "second"):
            starts = self.room / f"starts {time_}"
            starts.mkdir()
            done = plan(self.job, "-o", self.out, "--format", "svg",
                        env={**os.environ, "LD_DEBUG": "statistics", "LD_DEBUG_OUTPUT": str(starts / "of")})
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertEqual(len(list(starts.iterdir())), 1, time_)

    def test_a_terminated_run_leaves_nothing(self):
        # A job of many plies and formats, so that the signal meets it at work.
        job = (SAMPLES / "curlew.toml").read_text(encoding="utf-8")
        self.job.write_text(job.replace('model = "', f'model = "{SAMPLES}/'), encoding="utf-8")
        met_at_work = 0
        for wait in (0.05, 0.2, 0.35):
            run = subprocess.Popen([TEARLINE, "plan", str(self.job), "-o", str(self.out), "--format", "svg,dxf,hpgl"],
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            time.sleep(wait)
            run.send_signal(signal.SIGTERM)
            status = run.wait(60)
            if self.out.exists():
                # The folder had its name already when the signal came: then it is the whole plan.
                self.assertEqual(self.beside(), ["job.toml", "out"], (wait, status))
                self.assert_whole()
                break
            self.assertEqual(status, -signal.SIGTERM)
            self.assertEqual(self.beside(), ["job.toml"], (wait, status))
            met_at_work += 1
        self.assertGreater(met_at_work, 0)

    def test_a_folder_that_cannot_be_written_is_told_before_the_work(self):
        locked = self.room / "locked"
        locked.mkdir()
        (locked / "file").write_text("mine", encoding="utf-8")
        for folder in (locked / "file", locked / "file" / "out"):
            done = plan(self.job, "-o", folder)
            self.assertEqual(done.returncode, 5, (folder, done.stderr))
            self.assertNotIn("warning", done.stderr, "the plan was made first")
        if os.getuid() != 0:  # root may write anywhere
            locked.chmod(0o500)
            self.assertEqual(plan(self.job, "-o", locked / "out").returncode, 5)
            locked.chmod(0o700)

    def test_json_goes_to_stdout_and_nothing_else(self):
        done = plan(self.job, "--json")
        self.assertEqual(done.returncode, 0, done.stderr)
        value = json.loads(done.stdout)
        self.assertEqual(value["schema"], "tearline-plan/1")
        self.assertEqual(self.beside(), ["job.toml"])
        both = plan(self.job, "--json", "-o", self.out)
        self.assertEqual(both.returncode, 0, both.stderr)
        self.assertEqual(both.stdout, done.stdout)
        self.assertEqual((self.out / "plan.json").read_text(encoding="utf-8"), done.stdout)

    def test_words_go_to_stderr_and_progress_to_a_terminal_alone(self):
        done = self.made()
        self.assertEqual(done.stdout, "")
        self.assertNotIn("\r", done.stderr)
        self.assertNotIn("\x1b", done.stderr)

    def test_a_full_pipe_is_no_crash(self):
        # The reader of --json goes away: the program ends by itself, with a status.
        run = subprocess.Popen([TEARLINE, "plan", str(self.job), "--json"], stdout=subprocess.PIPE,
                               stderr=subprocess.DEVNULL)
        run.stdout.close()
        self.assertIsNotNone(run.wait(60))

    def test_wrong_command_lines_are_told_apart_from_bad_input(self):
        # DEFINITIONS.md, Commands: 2 wrong command line, 3 bad input.
        for words in (["plan"], ["plan", self.job, "--format", "clay"], ["plan", self.job, "-o"], ["juggle"],
                      ["plan", self.job, "-o", self.out, "--paper", "A7"],
                      ["plan", self.job, "-o", self.out, "--print-scale", "2"],
                      ["plan", self.job, "-o", self.out, "--chord-error", "-1"],
                      ["plan", self.job, "-o", self.out, "--pens", "9,1,1"],
                      ["plan", self.job, "-o", self.out, "--after", "0"]):
            done = subprocess.run([TEARLINE, *map(str, words)], capture_output=True, text=True, check=False)
            self.assertEqual(done.returncode, 2, (words, done.stderr))
            self.assertEqual(done.stdout, "", words)
        for job in (self.room / "none.toml", self.room):
            done = plan(job, "-o", self.out)
            self.assertEqual(done.returncode, 3, done.stderr)
        self.assertEqual(self.beside(), ["job.toml"])

    def test_a_chord_error_and_pens_reach_the_files(self):
        self.made("--format", "hpgl", "--pens", "5,0,0")
        plot = (self.out / "templates.plt").read_text(encoding="ascii")
        self.assertIn("SP5;", plot)
        self.assertEqual(plot.count("SP"), 2)  # and SP0 at the end
        self.made("--format", "dxf")
        fine = (self.out / "templates.dxf").read_text(encoding="ascii").count("VERTEX")
        self.made("--format", "dxf", "--chord-error", "0.5")
        coarse = (self.out / "templates.dxf").read_text(encoding="ascii").count("VERTEX")
        self.assertLess(coarse, 0.5 * fine)

    def test_a_job_may_lie_anywhere_beside_its_model(self):
        # A relative model is looked for beside the job, whatever folder one stands in.
        job = self.room / "sub" / "job.toml"
        job.parent.mkdir()
        (job.parent / "hull.step").write_bytes((SAMPLES / "panel.step").read_bytes())
        job.write_text(JOB.replace(str(SAMPLES / "panel.step"), "hull.step"), encoding="utf-8")
        for folder, name in ((self.room, "sub/job.toml"), (job.parent, "job.toml"), ("/", str(job))):
            done = plan(name, "--json", cwd=folder)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertEqual(json.loads(done.stdout)["job"]["model"], "hull.step")


if __name__ == "__main__":
    unittest.main()
