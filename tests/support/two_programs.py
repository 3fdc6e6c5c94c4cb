#!/usr/bin/env python3
"""Stands in for the program: runs an old and a new one with the same words, notes how they differ,
and answers as the new one does. Any test script can so be made to compare them (tests/same-as). A
conversation with the engine is only recorded, since a script may kill the engine at any moment.

OLD_TEARLINE and NEW_TEARLINE name the programs, DIFFERENCES the folder for notes, NEAR is "1" for
plans_apart's near bounds.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import conversations  # noqa: E402
import plans_apart  # noqa: E402

OLD, NEW = os.environ["OLD_TEARLINE"], os.environ["NEW_TEARLINE"]
NOTES = pathlib.Path(os.environ["DIFFERENCES"])
NEAR = os.environ.get("NEAR") == "1"


def note(words, differences):
    """A file a run: empty where the two agree, so that runs can be counted."""
    handle, path = tempfile.mkstemp(prefix="run-", suffix=".txt", dir=NOTES)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        if differences:
            file.write("tearline " + " ".join(words) + "\n")
            file.writelines(f"    {row}\n" for row in differences)
    return path


def written_path(words):
    """The one place that a run writes to, if it writes."""
    for option in ("-o", "--pdf"):
        if option in words[:-1]:
            return pathlib.Path(words[words.index(option) + 1])
    if words[:1] != ["new"] or "-" in words:
        return None
    named = [word for word in words[1:] if "." in word]
    usual = "measuring-sheet.html" if "--measuring-sheet" in words else "job.toml"
    return pathlib.Path(named[-1] if named else usual)


def remove(path):
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    elif path.exists() or path.is_symlink():
        path.unlink()


def copy(source, target):
    if source.is_dir():
        shutil.copytree(source, target, symlinks=True)
    elif source.is_file():
        shutil.copy2(source, target)


def run(program, words, given):
    return subprocess.run([program, *words], input=given, capture_output=True, check=False)


def run_both(words):
    given = None if sys.stdin is None or sys.stdin.isatty() else sys.stdin.buffer.read()
    place = written_path(words)
    with tempfile.TemporaryDirectory() as folder:
        before, old_tree = pathlib.Path(folder) / "before", pathlib.Path(folder) / "old"
        if place:
            copy(place, before)
        old = run(OLD, words, given)
        if place:
            copy(place, old_tree)
            if place.exists():
                remove(place)
            copy(before, place)
        new = run(NEW, words, given)
        differences = plans_apart.trees_apart(old_tree, place, NEAR) if place else []
    if old.returncode != new.returncode:
        differences.append(f"exit {old.returncode}, {new.returncode}")
    differences += plans_apart.texts_apart("stderr", old.stderr, new.stderr, NEAR)
    if "--json" in words and NEAR and old.stdout and new.stdout:
        differences += plans_apart.values_apart(json.loads(old.stdout), json.loads(new.stdout))
    else:
        differences += plans_apart.texts_apart("stdout", old.stdout, new.stdout, NEAR)
    note(words, differences)
    sys.stdout.buffer.write(new.stdout)
    sys.stderr.buffer.write(new.stderr)
    return new.returncode


if __name__ == "__main__":
    sys.exit(run_both(sys.argv[1:]) if sys.argv[1:2] != ["serve"]
             else conversations.record(NEW, NOTES))
