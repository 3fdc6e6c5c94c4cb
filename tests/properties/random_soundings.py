"""Random dishes known by soundings, on sample hulls and on hulls measured by hand, each planned.

    random_soundings.py [--count N] [--first K] [--also JOB ...] [--keep DIR] [--verbose]

A fixed start value makes every job. The soundings are read off a dish with pockets and knolls, each
with an error of half a millimetre. Whatever they say, the program may end only with 0, or with 3 for
a reason named in REASONS; each plan made is checked for what must hold of plies that are levels of a
depth: deeper ones inside shallower ones, no part narrower than 25 mm, volumes that add up.
"""
import argparse
import json
import math
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import random_jobs as jobs  # noqa: E402

sp = jobs.sp
START = 20261126
SLIVER = 25.0  # mm: nothing narrower can be laid (issue: soundings)

REASONS = [
    (3, "leaves the surface"), (3, "leaves the hull"), (3, "over the edge"),
    (3, "the outline crosses itself"), (3, "no place is wide enough for a ply"),
]
# And half way through, where the cured work may leave nothing to lay, or less than was planned.
REASONS_HALF_WAY = REASONS + [
    (3, "nothing is left to lay but covers"),
    (3, "plies lie; sound the deepest place, too"),
    (3, "no ply up to that one has a place"),
]


def distance_in(polygon, x, y):
    """Distance of a place from a polygon's edge, negative outside."""
    least, inside = 1e9, False
    for (ax, ay), (bx, by) in zip(polygon, polygon[1:] + polygon[:1]):
        ux, uy = bx - ax, by - ay
        t = max(0.0, min(1.0, ((x - ax) * ux + (y - ay) * uy) / (ux * ux + uy * uy or 1.0)))
        least = min(least, math.hypot(x - ax - t * ux, y - ay - t * uy))
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * ux:
            inside = not inside
    return least if inside else -least


class Dish:
    """A ground-out place in a plane: its outline, what that goes round, pockets and knolls."""

    def __init__(self, polygon, deep, skin, ratio, floor, chance):
        self.polygon, self.deep, self.skin, self.floor = polygon, deep, skin, floor
        self.width = ratio * deep
        xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
        out = self.width if floor else 0.0
        self.box = (min(xs) - out, max(xs) + out, min(ys) - out, max(ys) + out)
        self.lumps = [(chance.uniform(*self.box[:2]), chance.uniform(*self.box[2:]),
                       chance.uniform(10, 60), chance.uniform(-0.5, 0.5) * deep)
                      for _ in range(chance.choice([0, 0, 1, 2, 4]))]
        self.wall = chance.uniform(4.0, 14.0)

    def depth(self, x, y):
        """Depth at a place; none outside the ground area or too near to its edge to be sure."""
        inside = distance_in(self.polygon, x, y)
        if self.floor:
            if inside < -0.8 * self.width:
                return None
            depth = self.deep * min(1.0, 1.0 + inside / self.width)
        else:
            if inside < 3.0:
                return None
            depth = min(self.deep, inside / self.wall)
        for at_x, at_y, wide, high in self.lumps:
            depth += high * math.exp(-((x - at_x) ** 2 + (y - at_y) ** 2) / wide ** 2)
        return max(0.0, min(depth, self.skin))

    def soundings(self, count, step, chance):
        """Places with what the gauge reads there."""
        found = []
        for _ in range(50 * count):
            if len(found) == count:
                break
            x, y = chance.uniform(*self.box[:2]), chance.uniform(*self.box[2:])
            depth = self.depth(x, y)
            if depth is None or any(math.hypot(x - a, y - b) < 4.0 for a, b, _ in found):
                continue
            read = max(0.0, depth + chance.uniform(-0.25, 0.25))
            found.append((x, y, round(read / step) * step))
        return found


def disc(chance):
    radius = chance.uniform(25, 140)
    return [(radius * math.cos(math.pi * i / 16), radius * math.sin(math.pi * i / 16))
            for i in range(32)]


def star(chance):
    count, size, thin = chance.randint(4, 12), chance.uniform(30, 150), chance.uniform(0.35, 1.0)
    polygon = []
    for i in range(count):
        angle = 2 * math.pi * (i + chance.uniform(-0.25, 0.25)) / count
        r = size * chance.uniform(0.7, 1.0)
        polygon.append((r * math.cos(angle), thin * r * math.sin(angle)))
    return polygon


def on_model(chance, skins):
    """Lines of [hull], and a way from the plane of the dish to the hull."""
    name = chance.choice(sorted(jobs.HULLS))
    thick, lines = jobs.HULLS[name]
    if name not in skins:
        skins[name] = sp.Skin(jobs.SOURCE / "sample-models" / f"{name}.stl")
    skin = skins[name]
    point, normal = skin.random_place(chance)
    across = sp.unit(sp.cross(normal, (0.3, 0.5, 0.8)))
    along = sp.cross(across, normal)

    def carry(x, y):
        q, away = skin.nearest(sp.add(sp.add(point, along, x), across, y))
        return None if away > 60 or skin.from_edge(q) < 8 else q

    text = (f'[hull]\nmodel = "{jobs.SOURCE}/sample-models/{name}.step"\nbow = [1, 0, 0]\n'
            f'up = [0, 0, 1]\nskin = {thick}\n{lines}')
    return name, text, carry, thick


def by_hand(chance, _skins):
    text = "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 10\n"
    if chance.random() < 0.6:
        batten = chance.choice([600, 800, 1000])
        text += (f"[hull.measured]\nbatten = {batten}\ngap_along = {chance.uniform(-8, 25):.1f}\n"
                 f"gap_across = {chance.uniform(-8, 45):.1f}\n")
        name = "measured"
    else:
        a, b = chance.uniform(-2e-4, 5e-4), chance.uniform(-2e-4, 5e-4)
        rows = [[round(60 + a * x * x + b * y * y + chance.uniform(-0.5, 0.5), 1)
                 for x in range(-400, 401, 100)] for y in range(-400, 401, 100)]
        text += f"[hull.grid]\nspacing_along = 100\nspacing_across = 100\noffsets = {rows}\n"
        name = "grid"
    # Batten: from its middle. Grid: from its first figure.
    origin = 0.0 if name == "measured" else 400.0
    return name, text, lambda x, y: ((x + origin, y + origin) if max(abs(x), abs(y)) < 390
                                     else None), 10.0


def make_job(number, skins):
    """Job `number`: its TOML text and what a report says of it; none where it finds no place."""
    chance = random.Random(START + number)
    name, hull, carry, skin = chance.choice([on_model, on_model, by_hand])(chance, skins)
    polygon = chance.choice([disc, star, star])(chance)
    deep, ratio = chance.uniform(0.2, 0.9) * skin, chance.choice([6, 8, 12, 12, 20])
    floor = chance.random() < 0.5
    dish = Dish(polygon, deep, skin, ratio, floor, chance)
    step = chance.choice([0.1, 0.1, 0.5])
    wanted = chance.choice([5, 6, 8, 12, 20, 40, 80, 200])
    points = [carry(*p) for p in polygon]
    taken = [(carry(x, y), d) for x, y, d in dish.soundings(wanted, step, chance)]
    if None in points or len(taken) < 5 or any(at is None for at, _ in taken):
        return None
    if not any(depth > 1.0 for _, depth in taken):
        return None

    def text_of(point):
        return "[" + ", ".join("%.3f" % c for c in point) + "]"

    layup = chance.choice([
        'fill = "mat 450"\ncover = ["mat 300", "mat 300"]\n', 'fill = "mat 300"\n',
        'fill = ["mat 450", "roving 600"]\n', 'fill = "mat 450"\norder = "largest first"\n',
        'stack = ["mat 450", "mat 450", "mat 300", "mat 300"]\n', 'fill = "mat 600"\n'])
    # Half way: the same places on the cured work, after so many plies of a millimetre or less.
    after = chance.choice([0, 0, 1, 2])
    left = [(at, max(0.0, depth - after * chance.uniform(0.6, 1.2))) for at, depth in taken]
    said_round = chance.choice([True, True, False])
    text = (f'title = "soundings {number}"\n{hull}[damage]\n'
            f'outline = [{", ".join(map(text_of, points))}]\n'
            + (f'round = "{"floor" if floor else "ground area"}"\n' if said_round else "")
            + f"depth = {deep:.1f}\n"
            + "".join(f"[[damage.sounding]]\nat = {text_of(at)}\ndepth = {depth:.2f}\n"
                      for at, depth in taken)
            + "".join(f"[[damage.sounding]]\nat = {text_of(at)}\ndepth = {depth:.2f}\n"
                      f"after = {after}\n" for at, depth in left if after > 0)
            + f"[scarf]\nratio = {ratio}\n[layup]\n{layup}")
    said = (f"{number}: {name}, {len(points)} corners, {len(taken)} soundings, depth {deep:.1f}, "
            f"1:{ratio}, {'floor' if floor else 'ground area'}{'' if said_round else ' (unsaid)'}, "
            f"{layup.splitlines()[0]}{f', after {after}' if after else ''}")
    return text, said, after


def widest(loop, holes, enough):
    """How wide a disc lies in a region, found on a grid; stops at `enough`."""
    xs, ys = [p[0] for p in loop], [p[1] for p in loop]
    best = 0.0
    step = max(2.0, max(max(xs) - min(xs), max(ys) - min(ys)) / 40)
    spots = [(min(xs) + step * i, min(ys) + step * j)
             for i in range(int((max(xs) - min(xs)) / step) + 1)
             for j in range(int((max(ys) - min(ys)) / step) + 1)]

    def room(x, y):
        return min([distance_in(loop, x, y)] + [-distance_in(hole, x, y) for hole in holes])

    for x, y in spots:
        here = room(x, y)
        if here > best:
            best = here
            fine = step / 2
            while fine > 0.2 and 2 * best < enough:
                found = max(((room(x + i * fine, y + j * fine), x + i * fine, y + j * fine)
                             for i in (-1, 0, 1) for j in (-1, 0, 1)))
                if found[0] > best:
                    best, x, y = found
                else:
                    fine /= 2
        if 2 * best >= enough:
            break
    return 2 * best


def faults_of(plan, text):
    out = jobs.faults_of(plan)
    rings = {}
    for ring in plan["grind_guide"]["rings"]:
        if ring["ply"] > 0:
            rings.setdefault(ring["ply"], (ring["depth_mm"], ring["loops"]))
    stack = [ply for ply in plan["plies"] if not ply["cover"]]
    numbers = [ply["number"] for ply in plan["plies"]]
    if numbers != sorted(set(numbers)):
        out.append(f"plies in the order {numbers}")
    for number, (_, loops) in rings.items():
        for loop in loops:
            out += [f"ply {number}: its ring turns back on itself at {p}" for p in spurs(loop)]
    by_depth = sorted((rings[ply["number"]] + (ply["number"],) for ply in stack
                       if ply["number"] in rings), key=lambda r: -r[0])
    for (_, deeper, k), (_, shallower, m) in zip(by_depth, by_depth[1:]):
        worst = max((min_outside(shallower, p) for loop in deeper for p in loop), default=0.0)
        if worst > 0.05:
            out.append(f"ply {k} reaches {worst:.2f} mm outside ply {m}")
    for ply in stack:
        for piece in ply["pieces"]:
            wide = widest(piece["net_line"], piece["net_holes"], SLIVER - 0.5)
            if wide < SLIVER - 0.5 and len(ply["pieces"]) == len(ply["outlines_3d"]):
                out.append(f"piece {piece['id']} is {wide:.1f} mm wide")
    for warning in plan["warnings"]:
        if re.search(r"up to 0\.0 mm|\bnan\b|\binf\b|-\d+\.\d+ mm thick", warning["message"]):
            out.append("absurd: " + warning["message"])
        if warning["code"] == "ply-without-place" and "stack = " not in text:
            out.append("nobody asked for it: " + warning["message"])
        if warning["code"] == "roving-on-ground" and "after = " not in text:
            out.append("a mat was asked for first: " + warning["message"])
    volumes = plan["volumes"]
    if not (volumes["dish_mL"] > 0 and volumes["laminate_mL"] > 0 and volumes["fairing_mL"] >= 0):
        out.append(f"volumes {volumes}")
    return out


def spurs(loop):
    """Points of a closed line between two steps that go nearly the same way there and back."""
    found = []
    for a, b, c in zip(loop[-1:] + loop[:-1], loop, loop[1:] + loop[:1]):
        u, v = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
        if min(math.hypot(*u), math.hypot(*v)) > 0.5:
            turn = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
            if abs(turn) > math.radians(150):
                found.append(b)
    return found


def min_outside(loops, point):
    """How far a point lies outside what loops enclose, by the even-odd rule."""
    signed = [distance_in(loop, *point) for loop in loops]
    inside = sum(d > 0 for d in signed) % 2 == 1
    return 0.0 if inside else min((abs(d) for d in signed), default=1e9)


def plan_one(number, skins, folder):
    """Plans job `number`, and what is left after its first plies: what went wrong, what to say of
    it, and the plan."""
    made = make_job(number, skins)
    if made is None:
        return "", f"{number}: no place", None
    text, said, after = made
    wrong, more, plan = plan_text(text, folder, number, 0)
    said += more
    if plan and after and not wrong:
        wrong, more, half_way = plan_text(text, folder, number, after)
        said += more
        if half_way and min(ply["number"] for ply in half_way["plies"]) <= after:
            wrong += f"; plies numbered from 1 again after {after}"
    return wrong, said, plan


def plan_text(text, folder, number, after):
    job, out = folder / f"job{number}.toml", folder / f"out{number}-{after}"
    job.write_text(text, encoding="utf-8")
    command = [jobs.TEARLINE, "plan", str(job), "-o", str(out), "--json"]
    began = time.monotonic()
    try:
        run = subprocess.run(command + (["--after", str(after)] if after else []),
                             timeout=60, capture_output=True, text=True, check=False)
    except subprocess.TimeoutExpired:
        return "no answer within 60 s", "", None
    said = f" [{time.monotonic() - began:.2f} s]"
    if run.returncode == 0:
        plan = json.loads(run.stdout)
        return "; ".join(faults_of(plan, text)), said, plan
    words = " ".join(line for line in run.stderr.splitlines() if not line.startswith("warning"))
    if any(run.returncode == s and w in words for s, w in
           (REASONS_HALF_WAY if after else REASONS)):
        return "", said + f" -> {run.returncode}: {words}", None
    if run.returncode == 4 and refused_unsounded(text, folder):
        return "", said + f" -> 4, as without soundings: {words[:120]}", None
    return f"exit {run.returncode}: {words[:600]}", said, None


def refused_unsounded(text, folder):
    """Whether the place has no answer for a dish as planned, either."""
    plain = re.sub(r"\[\[damage\.sounding\]\]\nat = .*\ndepth = .*\n(after = .*\n)?|round = .*\n", "", text)
    job = folder / "unsounded.toml"
    job.write_text(plain, encoding="utf-8")
    run = subprocess.run([jobs.TEARLINE, "plan", str(job), "-o", str(folder / "unsounded")],
                         timeout=60, capture_output=True, text=True, check=False)
    shutil.rmtree(folder / "unsounded", ignore_errors=True)
    return run.returncode == 4


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--also", type=int, nargs="*", default=[], metavar="JOB")
    parser.add_argument("--keep", type=pathlib.Path, help="folder for the job files")
    parser.add_argument("--verbose", action="store_true", help="say every job and its warnings")
    args = parser.parse_args()
    numbers = list(range(args.first, args.first + args.count))
    numbers += [j for j in dict.fromkeys(args.also) if j not in numbers]
    print(f"start value {START}, jobs {', '.join(map(str, numbers))}")
    skins, bad = {}, 0
    with tempfile.TemporaryDirectory(prefix="tearline soundings ") as room:
        folder = args.keep or pathlib.Path(room)
        folder.mkdir(parents=True, exist_ok=True)
        for number in numbers:
            wrong, said, plan = plan_one(number, skins, folder)
            bad += bool(wrong)
            if wrong or args.verbose:
                print(("BAD  " if wrong else "ok   ") + said + (f"\n     {wrong}" if wrong else ""),
                      flush=True)
            if args.verbose and plan:
                for warning in plan["warnings"]:
                    print(f"       {warning['code']}: {warning['message']}")
    print(f"{bad} of {len(numbers)} jobs went wrong")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
