#!/usr/bin/env python3
"""Plans of the same jobs by programs built on two releases of Debian, side by side.

    two_releases.py PLANS OTHER_PLANS     folders with a folder a job, each with its plan.json

Other versions of the libraries put points elsewhere on the same lines. What has to agree: outlines as curves
within 0.1 mm, either way; areas and masses within 1e-5 of their size; other lengths within 0.1 mm, radii of curvature
within 1e-3; which warnings there are; everything that is counted. How pieces lie on a roll is searched for and may
differ; the length of roll it takes by 2 %. Prints how far apart they are, a line a job; 1 where one is farther.
"""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
from what_changed import LEFT_OUT, from_line, is_kept_line, is_line  # noqa: E402

LINE_WITHIN = 0.1    # mm
FIGURE_WITHIN = 1e-5  # of a figure's size
LEAST = 1e-2         # g, mm2, mL: what is smaller is rounding
OUTLINES = ("outline_3d", "outlines_3d", "outer", "holes", "net_line", "tear_line", "cut_line", "net_holes", "tear_holes",
            "cut_holes")
AMOUNTS = ("_mm2", "_m2", "_g", "_mL", "_mm")


def some_of(line):
    """Enough of its points to find a curve that wandered."""
    return line[::max(1, len(line) // 40)]


def apart(line, other):
    return max(max(from_line(p, other) for p in some_of(line)), max(from_line(p, line) for p in some_of(other)))


class Comparison:
    def __init__(self):
        self.line, self.figure, self.faults = 0.0, 0.0, []

    def see(self, far, path):
        self.line = max(self.line, far)
        if far > LINE_WITHIN:
            self.faults.append(f"{path}: {far:.3f} mm apart")

    def look(self, a, b, path="plan", key=""):
        if is_kept_line(a) and is_line(b):
            if key in OUTLINES:
                self.see(max(from_line(p, b) for p in a["line"]), path)
            return
        if is_line(a) and is_line(b):
            if key in OUTLINES:
                self.see(apart(a, b), path)
            return
        if isinstance(a, dict) and isinstance(b, dict):
            if set(a) - LEFT_OUT != set(b) - LEFT_OUT:
                self.faults.append(f"{path}: other keys: {sorted((set(a) ^ set(b)) - LEFT_OUT)}")
            for name in set(a) & set(b):
                if name not in ("program", "message", "drawings", "marks", "placed", "used_fraction"):
                    self.look(a[name], b[name], f"{path}.{name}", name)
        elif isinstance(a, list) and isinstance(b, list):
            if len(a) != len(b):
                self.faults.append(f"{path}: {len(a)} and {len(b)}")
            for i, (p, q) in enumerate(zip(a, b)):
                self.look(p, q, f"{path}[{i}]", key)
        elif isinstance(a, float) and isinstance(b, (int, float)) and key.endswith(AMOUNTS):
            far = abs(a - b) / max(abs(a), LEAST)
            if key.endswith("_mm"):  # a length along a line is as sure as the line
                of_size = 1e-3 if "radius" in key else 0.02 if ".rolls[" in path else 0.0
                if abs(a - b) > LINE_WITHIN + of_size * abs(a):
                    self.faults.append(f"{path}: {a} and {b}")
            elif abs(a - b) > LEAST:
                self.figure = max(self.figure, far)
                if far > FIGURE_WITHIN:
                    self.faults.append(f"{path}: {a} and {b}, {far:.1e} apart")
        elif key == "code" and a != b:
            self.faults.append(f"{path}: warning {a} and {b}")


def main():
    one, other = (pathlib.Path(folder) for folder in sys.argv[1:3])
    jobs = sorted(p.parent.name for p in one.glob("*/plan.json"))
    if not jobs or jobs != sorted(p.parent.name for p in other.glob("*/plan.json")):
        sys.exit("two_releases: not the same jobs in both folders, or none")
    failed = False
    for job in jobs:
        seen = Comparison()
        seen.look(*(json.loads((folder / job / "plan.json").read_text(encoding="utf-8")) for folder in (one, other)))
        failed = failed or bool(seen.faults)
        print(f"{job:20} outlines {seen.line:.4f} mm, areas and masses {seen.figure:.1e}" +
              "".join("\n    " + fault for fault in seen.faults[:12]))
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
