"""How two programs' plans, words and drawings lie apart, a line a difference.

Exactly: bytes, except that two PDF files are the same when their pages look the same, and that a
manifest names the program that wrote it. Near: a closed or open line is a curve, so that another mesh
may put other points on it; grams and all other figures have their own bounds, and what a drawing shows
is judged by the plan that it is drawn from.
"""
import json
import pathlib
import re
import subprocess
import tempfile

from closed_lines import to_loop

LINE_WITHIN = 0.001     # mm
GRAMS_WITHIN = 0.01
FIGURE_WITHIN = 1e-5    # of a figure's size
# How a plan was made, not what it says.
MACHINE_KEYS = {"mesh", "seconds"}
FIGURE = re.compile(r"-?\d+(?:\.\d+)?")


def is_line(value):
    return (isinstance(value, list) and len(value) >= 2 and all(
        isinstance(p, list) and len(p) in (2, 3) and all(isinstance(x, (int, float)) for x in p)
        for p in value))


def farthest(points, line):
    """How far a point lies from a line at most; the line is taken as closed, which can only miss a
    change between its two ends."""
    return max(to_loop(p, line) for p in points)


def figures_apart(was, now, key):
    bound = GRAMS_WITHIN if key.endswith("_g") else LINE_WITHIN + FIGURE_WITHIN * abs(was)
    return not abs(was - now) <= bound


def words_apart(was, now):
    """Words must be the same, figures within one step of their last place."""
    if FIGURE.sub("#", was) != FIGURE.sub("#", now):
        return True
    return any(abs(float(a) - float(b)) > 1.01 * 10.0 ** -len(a.partition(".")[2])
               for a, b in zip(FIGURE.findall(was), FIGURE.findall(now)))


def values_apart(was, now, path="plan", key=""):
    if isinstance(was, dict) and isinstance(now, dict):
        out = [f"{path}.{k}: only one has it" for k in sorted(set(was) ^ set(now))]
        for k in sorted(set(was) & set(now) - MACHINE_KEYS):
            out += values_apart(was[k], now[k], f"{path}.{k}", k)
        return out
    if is_line(was) and is_line(now):
        far = max(farthest(was, now), farthest(now, was))
        return [f"{path}: lines {far:.4f} mm apart"] if far > LINE_WITHIN else []
    if isinstance(was, list) and isinstance(now, list):
        if len(was) != len(now):
            return [f"{path}: {len(was)} items, {len(now)} items"]
        return [row for i, (a, b) in enumerate(zip(was, now))
                for row in values_apart(a, b, f"{path}[{i}]", key)]
    figures = all(isinstance(x, (int, float)) and not isinstance(x, bool) for x in (was, now))
    if figures:
        return [f"{path}: {was!r}, {now!r}"] if figures_apart(was, now, key) else []
    if isinstance(was, str) and isinstance(now, str):
        return [f"{path}: {was!r}, {now!r}"] if words_apart(was, now) else []
    return [] if was == now else [f"{path}: {was!r}, {now!r}"]


def pages_of(pdf):
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(["pdftoppm", "-r", "40", "-gray", str(pdf), f"{folder}/page"],
                              capture_output=True, check=False)
        pages = [p.read_bytes() for p in sorted(pathlib.Path(folder).iterdir())]
    return pages if done.returncode == 0 else [pathlib.Path(pdf).read_bytes()]


def first_other_line(was, now):
    for a, b in zip(was.splitlines(), now.splitlines()):
        if a != b:
            return f"{a[:150]!r}, {b[:150]!r}"
    return f"{len(was)} and {len(now)} bytes"


def of_no_program(manifest):
    """A manifest without the program that wrote it, and the seal over that."""
    return re.sub(rb'("program":|"seal":)"[0-9a-f]{64}"', rb"\1null", manifest)


def files_apart(was, now, near):
    a, b = was.read_bytes(), now.read_bytes()
    if now.name == "manifest.json":
        a, b = of_no_program(a), of_no_program(b)
    if a == b:
        return []
    if near:
        if now.name != "plan.json":
            return []
        return values_apart(json.loads(a), json.loads(b))
    if now.suffix == ".pdf":
        old, new = pages_of(was), pages_of(now)
        if len(old) != len(new):
            return [f"{now.name}: {len(old)} pages, {len(new)} pages"]
        return [f"{now.name}: page {i + 1} looks otherwise"
                for i, (p, q) in enumerate(zip(old, new)) if p != q]
    return [f"{now.name}: {first_other_line(a, b)}"]


def texts_apart(name, was, now, near):
    if was == now or near and not words_apart(was.decode("utf-8", "replace"),
                                              now.decode("utf-8", "replace")):
        return []
    return [f"{name}: {first_other_line(was, now)}"]


def trees_apart(was, now, near):
    """Two files, two folders, or nothing at either place."""
    if was.is_dir() and now.is_dir():
        a = {p.relative_to(was) for p in was.rglob("*") if p.is_file()}
        b = {p.relative_to(now) for p in now.rglob("*") if p.is_file()}
        out = [f"{name}: only one writes it" for name in sorted(a ^ b)]
        for name in sorted(a & b):
            out += files_apart(was / name, now / name, near)
        return out
    if was.is_file() and now.is_file():
        return files_apart(was, now, near)
    return [] if was.exists() == now.exists() else [f"{now.name}: only one writes it"]
