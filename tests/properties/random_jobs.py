"""Random repairs all over the sample hulls, each planned by the program.

    random_jobs.py [--count N] [--first K] [--also JOB ...] [--keep DIR] [--verbose]

A fixed start value makes every job, so job 17 is the same job everywhere. Whatever the place, the
program may end only with 0, or with 3 or 4 for a reason named in REASONS, where the geometry really
has no answer; each plan made is checked for what must hold of any plan.
"""
import argparse
import json
import math
import os
import pathlib
import random
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import sample_points as sp  # noqa: E402
from closed_lines import area  # noqa: E402

START = 20260117  # the start value of every random number here
SOURCE = pathlib.Path(os.environ.get("TEARLINE_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
TEARLINE = os.environ.get("TEARLINE", str(SOURCE / "build" / "tearline"))

# Hull, unit of its STL twin, skin [mm], lines its [hull] table needs.
HULLS = {
    "curlew": (9.0, ""), "curlew-half": (9.0, "mirror = true\n"), "sandpiper": (6.0, ""),
    "wigley": (6.0, ""), "cylinder": (10.0, ""), "cone": (10.0, ""), "frustum": (8.0, ""),
    "sphere": (8.0, ""), "panel": (10.0, 'outward = "as modelled"\n'),
}


def star(skin, point, normal, chance):
    """Outline points round a place: a star-shaped polygon in the tangent plane, carried to the
    hull. None where the hull bends away too far or ends."""
    across = sp.unit(sp.cross(normal, (0.3, 0.5, 0.8)))
    along = sp.cross(across, normal)
    count = chance.randint(3, 14)
    size, thin = chance.uniform(15, 130), chance.uniform(0.3, 1.0)
    points = []
    for i in range(count):
        angle = 2 * math.pi * (i + chance.uniform(-0.25, 0.25)) / count
        r = size * chance.uniform(0.75, 1.0)
        p = sp.add(sp.add(point, along, r * math.cos(angle)), across, thin * r * math.sin(angle))
        q, away = skin.nearest(p)
        if away > 0.3 * r or skin.from_edge(q) < 8:
            return None
        points.append(q)
    return points


def long_strip(skin, point, normal, chance):
    """A long, bent outline: both sides of a wandering line."""
    across = sp.unit(sp.cross(normal, (0.3, 0.5, 0.8)))
    along = sp.cross(across, normal)
    half, width, bend = chance.uniform(120, 300), chance.uniform(12, 40), chance.uniform(-60, 60)
    top, bottom = [], []
    for i in range(9):
        s = half * (i / 4 - 1)
        middle = sp.add(sp.add(point, along, s), across, bend * (s / half) ** 2)
        for side, row in ((width, top), (-width, bottom)):
            q, away = skin.nearest(sp.add(middle, across, side))
            if away > 60 or skin.from_edge(q) < 8:
                return None
            row.append(q)
    return top + bottom[::-1]


def damage(skin, chance):
    """The lines of [damage] that say where, and the place."""
    point, normal = skin.random_place(chance)
    kind = chance.choice(["disc", "small disc", "ellipse", "thin ellipse", "star", "star", "strip"])
    points = None
    if kind == "star":
        points = star(skin, point, normal, chance)
    elif kind == "strip":
        points = long_strip(skin, point, normal, chance)
    if points:
        join = chance.choice(["smooth", "smooth", "straight"])
        rows = ", ".join("[%.3f, %.3f, %.3f]" % p for p in points)
        return kind, point, f'outline = [{rows}]\njoin = "{join}"\n'
    at = "centre = [%.3f, %.3f, %.3f]\n" % point
    if kind == "ellipse":
        return kind, point, at + (f"length = {chance.uniform(40, 300):.1f}\n"
                                  f"height = {chance.uniform(40, 200):.1f}\n")
    if kind == "thin ellipse":
        return kind, point, at + (f"length = {chance.uniform(150, 400):.1f}\n"
                                  f"height = {chance.uniform(8, 25):.1f}\n")
    radius = chance.uniform(5, 20) if kind == "small disc" else chance.uniform(20, 140)
    return "disc" if kind not in ("small disc",) else kind, point, at + f"radius = {radius:.1f}\n"


def make_job(number, skins):
    """Job `number`: its TOML text and what a report says of it."""
    chance = random.Random(START + number)
    name = chance.choice(sorted(HULLS))
    thick, lines = HULLS[name]
    form = chance.choice(["step", "step", "stl"])
    if name not in skins:
        skins[name] = sp.Skin(SOURCE / "sample-models" / f"{name}.stl")
    skin = skins[name]
    kind, point, where = damage(skin, chance)
    side = chance.choice(["outside", "outside", "inside"])
    depth = round(thick * chance.choice([0.25, 0.4, 0.6, 0.8]), 2)
    ratio = chance.choice([6, 8, 12, 12, 12, 20])
    layup = chance.choice([
        'fill = "mat 450"\ncover = ["mat 300", "mat 300"]\n', 'fill = "mat 300"\n',
        'fill = ["mat 450", "roving 600"]\n', 'fill = "mat 450"\norder = "largest first"\n',
        'fill = ["mat 300", "biaxial 400"]\ncover = ["mat 225"]\n', 'fill = "mat 600"\n'])
    text = (f'title = "random {number}"\n[hull]\nmodel = "{SOURCE}/sample-models/{name}.{form}"\n'
            + ('unit = "mm"\n' if form == "stl" else "")
            + f'bow = [1, 0, 0]\nup = [0, 0, 1]\nskin = {thick}\n{lines}'
            f'[damage]\n{where}depth = {depth}\nside = "{side}"\n'
            f'[scarf]\nratio = {ratio}\n[layup]\n{layup}')
    said = (f"{number}: {name}.{form} {kind} at ({point[0]:.0f}, {point[1]:.0f}, {point[2]:.0f}), "
            f"{side}, depth {depth}, 1:{ratio}, {layup.splitlines()[0]}, "
            f"{skin.from_edge(point):.0f} mm from an edge")
    return text, said


# What may be refused: status, words of the message. Everything else is a bug.
REASONS = [
    (3, "leaves the surface"), (3, "leaves the hull"), (3, "over the edge"),
]


def faults_of(plan):
    """What of the facts that hold of every plan does not hold of this one."""
    out = []
    for ply in plan["plies"]:
        name = f"ply {ply['number']}"
        if not ply["pieces"]:
            out.append(f"{name} has no piece")
        if not ply["outlines_3d"]:
            out.append(f"{name} has no outline")
        for piece in ply["pieces"]:
            who = f"piece {piece['id']}"
            net, edge = area(piece["net_line"]), piece["tear_line"] or piece["cut_line"]
            if not net > 0:
                out.append(f"{who}: net line winds the wrong way, area {net}")
            if any(area(hole) >= 0 for hole in piece["net_holes"]):
                out.append(f"{who}: a hole winds the wrong way")
            if edge and area(edge) < net - 0.01:
                out.append(f"{who}: edge line inside the net line")
            if not all(math.isfinite(x) for p in piece["net_line"] for x in p):
                out.append(f"{who}: a point that is no number")
            shear = (piece["shear_deg"] or {}).get("max")
            strain = (piece["strain"] or {}).get("max")
            for what, value, most in (("strain", strain, 0.5), ("shear", shear, 89.0)):
                if value is not None and not 0 <= value < most:
                    out.append(f"{who}: {what} {value}")
    total = sum(ply["glass_area_mm2"] for ply in plan["plies"])
    if abs(total / 1e6 - plan["totals"]["glass_area_m2"]) > 1e-6 * max(1.0, total / 1e6):
        out.append("the plies' glass does not sum to the total")
    if any(not w["message"] for w in plan["warnings"]):
        out.append("a warning without words")
    return out


def allowed(status, words):
    return any(status == s and w in words for s, w in REASONS)


def plan_one(number, skins, folder):
    """Plans job `number`: what went wrong ("" if nothing), and what to say of it."""
    text, said = make_job(number, skins)
    job = folder / f"job{number}.toml"
    job.write_text(text, encoding="utf-8")
    out = folder / f"out{number}"
    began = time.monotonic()
    try:
        run = subprocess.run([TEARLINE, "plan", str(job), "-o", str(out), "--json"], timeout=60,
                             capture_output=True, text=True, check=False)
    except subprocess.TimeoutExpired:
        return "no answer within 60 s", said
    said += f" [{time.monotonic() - began:.2f} s]"
    if run.returncode == 0:
        return "; ".join(faults_of(json.loads(run.stdout))), said
    last = [line for line in run.stderr.splitlines() if not line.startswith("warning")]
    words = " ".join(last)[:400]
    if out.exists():
        return f"exit {run.returncode} and a folder is left: {words}", said
    if allowed(run.returncode, words):
        return "", said + f" -> {run.returncode}: {words}"
    return f"exit {run.returncode}: {words}", said


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--also", type=int, nargs="*", default=[], metavar="JOB",
                        help="jobs outside that range; --count 0 --also 17 plans job 17 alone")
    parser.add_argument("--keep", type=pathlib.Path, help="folder for the job files")
    parser.add_argument("--verbose", action="store_true")
    args = parser.parse_args()
    jobs = list(range(args.first, args.first + args.count))
    jobs += [j for j in dict.fromkeys(args.also) if j not in jobs]
    if not jobs or min(jobs) < 0:
        parser.error("no job to plan: --count at least 1 or --also with job numbers, none below 0")
    print(f"start value {START}, jobs {', '.join(map(str, jobs))}")
    skins, bad = {}, 0
    with tempfile.TemporaryDirectory(prefix="tearline random ") as room:
        folder = args.keep or pathlib.Path(room)
        folder.mkdir(parents=True, exist_ok=True)
        for number in jobs:
            wrong, said = plan_one(number, skins, folder)
            bad += bool(wrong)
            if wrong or args.verbose:
                print(("BAD  " if wrong else "ok   ") + said + (f"\n     {wrong}" if wrong else ""),
                      flush=True)
    print(f"{bad} of {len(jobs)} jobs went wrong")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
