"""Batches of jobs for tests: lists of small repairs, some of which are refused, and their results as sets of lines
that can be compared: a result is the same whoever made it, but for its time and its memory."""
import json
import os
import pathlib
import signal
import subprocess
import time

from random_repairs import SAMPLES, TEARLINE, Repair

MEASURED = ("seconds", "peak_MB")

# A cap that mat cannot lie on within a thousandth of a percent: no safe answer, exit status 4.
STIFF = ('[hull]\nmodel = "%s"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\ncentre = [0, 0, -600]\nradius = 60\n'
         'depth = 2\n[layup]\nfill = "mat 450"\n[[fabric]]\nname = "mat 450"\nstrain_limit = 1e-5\n'
         % (SAMPLES / "sphere.step"))
BROKEN = Repair(22).text.replace("depth = ", "depht = ")


def make_jobs(folder, count=20):
    """Jobs in a folder and below it, with their list: the fourth, ninth and thirteenth are refused."""
    folder = pathlib.Path(folder)
    (folder / "boats").mkdir(parents=True)
    names = []
    for number in range(count):
        name = f"boats/job {number:02d} Möwe.toml" if number % 5 == 1 else f"job{number:02d}.toml"
        text = {3: BROKEN, 8: STIFF}.get(number, Repair(300 + number).text)
        if number != 12:  # named in the list and not there
            (folder / name).write_text(text, encoding="utf-8")
        names.append(name)
    refused = {names[number]: status for number, status in ((3, 3), (8, 4), (12, 3)) if number < count}
    (folder / "list.txt").write_text("# jobs\n\n" + "\n".join(names) + "\n", encoding="utf-8")
    return names, refused


def command(jobs, out, *words):
    return [TEARLINE, "batch", str(pathlib.Path(jobs) / "list.txt"), "-o", str(out), *map(str, words)]


def batch(jobs, out, *words, status=0, **more):
    done = subprocess.run(command(jobs, out, *words), capture_output=True, text=True, timeout=600, check=False, **more)
    assert status is None or done.returncode == status, (done.returncode, done.stderr)
    return done


def lines_in(out):
    """Every line of the results in a folder, whole ones alone, as they were read."""
    found = []
    for file in sorted(pathlib.Path(out).glob("results*.jsonl")):
        text = file.read_text(encoding="utf-8")
        found += [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]
    return found


def compared(lines):
    """Sorted by job, without what is measured: the same for every way to make them."""
    return sorted(({key: value for key, value in line.items() if key not in MEASURED} for line in lines),
                  key=lambda line: line["job"])


def workers():
    """Processes that plan a job now, of any batch on this machine, with the folder that each works in: copies of their
    batch, or, where that has threads, started anew."""
    found = {}
    for folder in pathlib.Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                name = (folder / "comm").read_text(encoding="utf-8")
                words = (folder / "cmdline").read_bytes().split(b"\0")
                if name == "tearline-reads\n":
                    continue  # a copy of a worker, in which it reads its model
                if name == "tearline-plans\n" or words[0] == b"tearline: plans a job":
                    found[int(folder.name)] = os.readlink(folder / "cwd")
            except OSError:
                continue
    return found


def workers_of(room):
    """Those of the jobs in a folder alone."""
    return [pid for pid, folder in workers().items() if folder == str(room)]


def started(words, ignored=()):
    """A batch with the dispositions of signals that it has by itself, but for some ignored: whoever runs the test may
    have others, as what a shell starts in its background ignores SIGINT."""
    def dispositions():
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, signal.SIG_IGN if number in ignored else signal.SIG_DFL)

    return subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, preexec_fn=dispositions)


def wait_until(true, seconds=20.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.01)
    return False


def kill(pid):
    try:
        os.kill(pid, signal.SIGKILL)
    except ProcessLookupError:
        pass
