#!/usr/bin/env python3
"""Whole plans from scans of five million triangles or points, each in a process of its own: processor time and
peak memory against the bars of DEFINITIONS.md, 6 s and 150 MB + 100 bytes a distinct point.

    large_scan.py [KIND ...]      of: mesh.ply mesh.stl points.ply points.xyz close.ply; all of them

A hull of round sections, 6 m long, with a dent, seen by light; `close` has all of its points within 1.4 m about it.
"""
import array
import math
import os
import pathlib
import random
import subprocess
import sys
import tempfile

PROGRAM = os.environ["TEARLINE"]
SECONDS, BASE_MB, BYTES_A_POINT = 6.0, 150.0, 100.0
KINDS = {  # cells along and round, from and to along [mm], from and to round [half turns]
    "mesh.ply": (2100, 1190, 0, 6000, 0.0, 1.0),
    "mesh.stl": (2100, 1190, 0, 6000, 0.0, 1.0),
    "points.ply": (3000, 1666, 0, 6000, 0.0, 1.0),
    "points.xyz": (3000, 1666, 0, 6000, 0.0, 1.0),
    "close.ply": (1600, 1560, 1800, 3200, 0.05, 0.45),
}
JOB = """tearline = 1
[hull]
model = "%s"
unit = "mm"
bow = [1, 0, 0]
up = [0, 0, 1]
skin = "9 mm"
[hull.scan]
kind = "light"
[[hull.scan.tape]]
from = [2000, -763, -763]
to = [3000, -719.6, -719.6]
length = "1001.9 mm"
[damage]
centre = [2500, -745, -745]
radius = 220
depth = 6.3
[scarf]
ratio = 12
[layup]
fill = "mat 450"
cover = ["mat 300", "mat 300"]
[resin]
kind = "polyester"
"""


def rows_of(along, round_, low, high, first, last):
    """Rows of x, y, z; 0.1 mm of noise over some 4 mm by waves along and round."""
    chance = random.Random(7)
    waves = [(chance.gauss(0, 1 / 4), chance.gauss(0, 1 / 4), chance.uniform(0, 6.28)) for _ in range(6)]
    size = 0.1 * math.sqrt(2 / len(waves))
    turns = [math.pi * (1 + first + (last - first) * k / round_) for k in range(round_ + 1)]
    for i in range(along + 1):
        x = low + (high - low) * i / along
        radius = 1100 * (1 - 0.6 * (x / 6000)**3)
        row = array.array("f")
        for turn in turns:
            girth = turn * radius
            out = size * sum(math.cos(a * x + b * girth + c) for a, b, c in waves)
            away = math.hypot(x - 2500, girth - 1.25 * math.pi * radius)
            if away < 200:
                out -= 14 * math.cos(away / 400 * math.pi)**2
            row.extend((x, (radius + out) * math.cos(turn), (radius + out) * math.sin(turn)))
        yield row


def write(path, kind):
    """@return  how many points there are"""
    along, round_ = KINDS[kind][:2]
    points, facets = (along + 1) * (round_ + 1), 2 * along * round_
    with open(path, "wb", buffering=1 << 20) as out:
        if path.suffix == ".ply":
            out.write(b"ply\nformat binary_little_endian 1.0\nelement vertex %d\nproperty float x\n"
                      b"property float y\nproperty float z\n" % points)
            if not kind.startswith("points"):
                out.write(b"element face %d\nproperty list uchar int vertex_indices\n" % facets)
            out.write(b"end_header\n")
        elif path.suffix == ".stl":
            out.write(bytes(80) + facets.to_bytes(4, "little"))
        before = None
        for row in rows_of(*KINDS[kind]):
            if path.suffix == ".ply":
                out.write(row.tobytes())
            elif path.suffix == ".xyz":
                out.write("".join("%.3f %.3f %.3f\n" % tuple(row[k:k + 3]) for k in range(0, len(row), 3)).encode())
            elif before is not None:
                one, two, record = before.tobytes(), row.tobytes(), []
                for k in range(0, 12 * round_, 12):
                    a, b = one[k:k + 12], one[k + 12:k + 24]
                    c, d = two[k + 12:k + 24], two[k:k + 12]
                    record += (bytes(12), a, b, c, bytes(14), a, c, d, bytes(2))
                out.write(b"".join(record))
            before = row
        if path.suffix == ".ply" and not kind.startswith("points"):
            for i in range(along):
                record = []
                for a in range(i * (round_ + 1), i * (round_ + 1) + round_):
                    b = a + round_ + 1
                    record += (b"\3", array.array("i", (a, a + 1, b + 1)).tobytes(),
                               b"\3", array.array("i", (a, b + 1, b)).tobytes())
                out.write(b"".join(record))
    return points


def measure(kind, room):
    model = room / f"scan{pathlib.Path(kind).suffix}"
    points = write(model, kind)
    job = room / "job.toml"
    job.write_text(JOB % model.name, encoding="utf-8")
    child = subprocess.Popen([PROGRAM, "plan", job, "-o", room / "out"], stderr=subprocess.PIPE, text=True)
    said = child.stderr.read()
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    child.stderr.close()
    if child.returncode:
        print(f"{kind}: {said.strip().splitlines()[-1]}")
        return False
    seconds, peak = used.ru_utime + used.ru_stime, used.ru_maxrss * 1024 / 1e6
    most = BASE_MB + BYTES_A_POINT * points / 1e6
    held = seconds <= SECONDS and peak <= most
    print(f"{kind:<11} {points:>8} points  {seconds:5.2f} of {SECONDS:.0f} s  {peak:4.0f} of {most:.0f} MB"
          f"{'' if held else '  OVER ITS BAR'}", flush=True)
    return held


def main():
    held = True
    for kind in sys.argv[1:] or KINDS:
        with tempfile.TemporaryDirectory() as room:
            held = measure(kind, pathlib.Path(room)) and held
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
