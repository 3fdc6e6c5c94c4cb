"""Every key of the job file with every extreme value: a job of the samples that has the key's table, and in it
that key as a text. Which keys there are and what each may hold is asked of the program, so that a new key is
tried as well."""
import copy
import math
import random
import tomllib

from random_repairs import SAMPLES, START

LONG = "x" * 300
WRONG = {  # what no key takes, or few: tried with every key
    "nan": "nan", "inf": "inf", "minus inf": "-inf", "largest whole": "9223372036854775807",
    "over the largest whole": "9223372036854775808", "least whole": "-9223372036854775808", "over a double": "1e400",
    "truth": "true", "date": "1979-05-27", "time": "07:32:00", "empty text": '""', "300 letters": f'"{LONG}"',
    "control bytes": r'"\u0000\u0001\u001b[2J\u007f"', "turned over": r'"a\u202eb"', "a noncharacter": r'"a\uFFFEb"',
    "space": '" "', "empty list": "[]", "empty table": "{}", "list of lists": "[[[[0]]]]",
    "deep": "[" * 60 + "]" * 60, "too deep": "[" * 5000 + "]" * 5000, "100000 zeros": "[" + "0," * 100_000 + "]",
    "100000 texts": "[" + '"a",' * 100_000 + "]", "table of tables": "{a = {b = {c = 1}}}",
    "list of tables": "[{a = 1}, {b = 2}]", "100000 keys": "{" + ", ".join(f"k{i} = 0" for i in range(60_000)) + "}",
}
NUMBERS = {"0": "0", "-0": "-0.0", "1e-12": "1e-12", "least double": "5e-324", "-least double": "-5e-324", "1e9": "1e9",
           "-1e9": "-1e9", "1e308": "1e308", "-1e308": "-1e308", "1": "1", "-1": "-1", "0.5": "0.5"}
UNITS = {"length": ("mm", "in"), "mass": ("g", "lb"), "can": ("g", "qt"), "areal weight": ("g/m2", "oz/ft2"), "stress": ("MPa", "psi")}
TRIPLES = {"origin": "[0, 0, 0]", "tiny": "[5e-324, 5e-324, 5e-324]", "far": "[1e7, 1e7, 1e7]", "very far": "[1e308, 1e308, 1e308]",
           "not a number": "[nan, 0, 0]", "endless": "[0, inf, 0]", "two": "[1, 2]", "four": "[1, 2, 3, 4]", "texts": '["1", "2", "3"]',
           "-0": "[-0.0, -0.0, -0.0]", "taped": '{A = "1e308 mm", B = 0}', "taped by none": "{}", "one mark": "{A = 5}"}


def lists_of_triples():
    draw = random.Random(START)
    ring = [(2700 + 150 * math.cos(a / 500 * math.pi), 1000, 330 + 90 * math.sin(a / 500 * math.pi)) for a in range(1000)]
    return {"one": "[[0, 0, 0]]", "three of one place": "[[0, 0, 0], [0, 0, 0], [0, 0, 0]]", "in a line": "[[0, 0, 0], [1, 0, 0], [2, 0, 0]]",
            "far": "[[1e308, 0, 0], [0, 1e308, 0], [0, 0, 1e308]]", "tiny": "[[0, 0, 0], [5e-324, 0, 0], [0, 5e-324, 0]]",
            "not a number": "[[0, 0, 0], [nan, 0, 0], [0, 1, 0]]", "ragged": "[[0, 0, 0], [1, 0], [0, 1, 0]]",
            "10000 places": "[" + "[0,0,0]," * 10_000 + "]", "1000 in a ring": str([[round(v, 1) for v in p] for p in ring]),
            "20000 at random": "[" + ",".join(f"[{draw.uniform(2500, 2900):.0f},1000,{draw.uniform(240, 420):.0f}]" for _ in range(20_000)) + "]"}


def numbers(entry):
    out = dict(NUMBERS)
    limits = entry.get("range")
    if limits:
        least, most = limits["least"], limits["most"]
        nearby = 0.5 if entry["kind"] == "whole number" else None
        out |= {"least": repr(least), "most": repr(most),
                "below": repr(least - (nearby or max(abs(least) * 1e-9, 1e-9))), "above": repr(most + (nearby or most * 1e-9)),
                "just above least": repr(least + max(abs(least) * 1e-9, 1e-9)), "just below most": repr(most * (1 - 1e-9))}
        if entry["kind"] == "whole number":
            out |= {"least": str(int(least)), "most": str(int(most)), "below": str(int(least) - 1), "above": str(int(most) + 1)}
    for unit in UNITS.get(entry["kind"], ()):
        out |= {f"{n} {unit}": f'"{n} {unit}"' for n in ("0", "-0", "1e-12", "5e-324", "1e308", "-1", "nan", "inf", "1", "", "1/0", "1e400")}
    if entry["kind"] in UNITS:
        out |= {"of a strange unit": '"1 furlong"', "unit alone": '"mm"', "two": '"1 mm 2 mm"', "300 figures": f'"{"9" * 300} mm"',
                "comma": '"1,5 mm"', "100000 figures": f'"{"1" * 100_000} mm"'}
    return out


def values_of(entry):
    """{what it is called: as a text of TOML} of a key as the program tells it."""
    kind = entry["kind"]
    out = dict(WRONG)
    if kind in ("number", "whole number", "length", "mass", "can", "areal weight", "stress"):
        out |= numbers(entry)
    elif kind in ("pair", "lengths", "rows of lengths"):
        for name, value in numbers({**entry, "kind": "number"}).items():
            out[f"{name} twice"] = f"[{value}, {value}]" if kind != "rows of lengths" else f"[[{value}, {value}], [{value}, {value}], [{value}, {value}]]"
            out[f"{name} and 1"] = f"[{value}, 1]" if kind != "rows of lengths" else f"[[{value}, 1], [2, 3]]"
        out |= {"one": "[1]", "1000 rows": str([[float(i), float(i * i % 7)] for i in range(1000)]),
                "100 rows of 100": str([[(i * j) % 50 for j in range(100)] for i in range(100)]),
                "300 rising": str([i * 10 for i in range(300)])}
    elif kind in ("point", "place", "direction"):
        out |= TRIPLES
    elif kind in ("points", "places"):
        out |= lists_of_triples()
    elif kind == "choice":
        out |= {f"choice {c}": f'"{c}"' for c in entry["choices"]}
        out |= {"in capitals": f'"{entry["choices"][0].upper()}"', "0": "0", "1e308": "1e308"}
    elif kind == "plies":
        out |= {"none of that name": '["mat 1e308"]', "61 plies": '["mat 450"' + ', "mat 450"' * 60 + "]", "60 plies": '["mat 300"' + ', "mat 300"' * 59 + "]",
                "one": '"mat 450"', "woven": '["roving 600"]', "biaxial": '["biaxial 400"]', "100000 plies": "[" + '"mat 450",' * 60_000 + "]",
                "an axis that is none": '[{fabric = "roving 600", axis = nan}]', "1e308": "1e308", "no fabric": "[{axis = 0}]"}
    elif kind == "truth":
        out |= {"false": "false", "0": "0", "1": "1", "1e308": "1e308"}
    elif kind == "text":
        out |= {"1e308": "1e308", "a folder": '"."', "up": '".."', "zero": '"/dev/zero"', "null": '"/dev/null"', "stdin": '"/dev/stdin"',
                "terminal": '"/dev/tty"', "memory": '"/proc/self/mem"', "200 letters": f'"{"y" * 200}"', "5000 letters": f'"{"z/" * 2500}"',
                "markup": """'</svg><script>&amp;"%s%n'""", "format": '"%s%n%999999999d{}{0}"'}
    else:
        out |= {"1e308": "1e308", "0": "0"}
    return out


def sample(name):
    job = tomllib.loads((SAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    if "model" in job["hull"]:
        job["hull"]["model"] = str((SAMPLES / name).parent / job["hull"]["model"])
    return job


def plate(**more):
    """The flat panel with a small disc: a plan of a blink."""
    job = sample("panel")
    job["damage"] = {"centre": [0, 0, 0], "radius": 40, "depth": 3}
    job["fabric"] = []
    for table, keys in more.items():
        job[table] = {**job.get(table, {}), **keys} if isinstance(keys, dict) else keys
    return job


def by_hand(**more):
    job = sample("curlew-taped")
    job["damage"] = {"centre": [0, 0], "radius": 60, "depth": 4}
    job["hull"].update(more)
    return job


def bases():
    """{table: jobs that have it}; the keys of a table are tried in each."""
    curlew, photo, cored, grounded = (sample(f"curlew{x}") for x in ("", "-photo", "-cored", "-grounded"))
    taped, coaming, edge = (sample(f"curlew-{x}") for x in ("taped", "coaming", "deck-edge"))
    refit = sample("boats/curlew-refit")
    refit["repair"] = [r for r in refit["repair"] if r["name"].startswith("blister")]
    cloth = plate(layup={"stack": ["roving 600", "mat 450", "roving 600"], "cover": []})
    del cloth["layup"]["fill"]
    epoxy = plate(layup={"fill": "biaxial 400"}, resin={"kind": "epoxy", "hardener_parts": [5, 1], "hardener_basis": "mass", "density": 1.1})
    hole = plate(damage={"opening": [{"centre": [70, 0, 0], "radius": 10, "keep": True}]})
    sounded = plate(damage={"sounding": [{"at": [x, 0, z], "depth": 3 - (x or z) / 50} for x in (0, 20, -20) for z in (0, 20, -20)], "round": "floor"})
    dish = plate(damage={"scan": {"model": "dish.xyz", "unit": "mm", "kind": "light"}})
    after = copy.deepcopy(dish)
    after["damage"]["scan_after"] = [{"ply": 1, "model": "dish.xyz", "unit": "mm", "kind": "light"}]
    creased = copy.deepcopy(photo)
    creased["hull"]["scan"]["crease"] = [{"points": [[2400, 980, 300], [2700, 985, 300], [3000, 980, 300]]}]
    corner = sample("curlew-coaming")
    measured = by_hand()
    grid = by_hand(grid={"spacing_along": 200, "spacing_across": 200, "offsets": [[30, 22, 20, 23], [26, 18, 16, 19], [27, 19, 17, 20], [30, 22, 20, 25]]})
    del grid["hull"]["measured"]
    del grid["marks"]
    sections = plate(hull={"sections": {"stations": [0, 300, 600, 900], "waterlines": [0, 150, 300, 450],
                                        "half_breadths": [[310, 420, 480, 500], [330, 445, 505, 520], [335, 450, 512, 530], [335, 450, 515, 533]]}},
                     damage={"centre": [450, 440, 150]})
    for key in ("model", "outward"):
        del sections["hull"][key]
    prices = plate(prices={"currency": "EUR"})
    return {"": [plate()], "hull": [plate(), curlew], "hull.measured": [measured], "hull.grid": [grid], "hull.sections": [sections],
            "hull.corner": [corner], "hull.scan": [photo], "hull.scan.tape": [photo], "hull.scan.crease": [creased], "marks": [taped],
            "damage": [plate(), curlew, edge], "damage.opening": [hole], "damage.sounding": [sounded, taped], "damage.scan": [dish],
            "damage.scan_after": [after], "scarf": [plate(), grounded], "layup": [plate(), cloth, curlew], "layup.inside": [grounded],
            "layup.inner": [cored], "layup.outer": [cored], "backing": [grounded, cored], "core": [cored], "layup.stack": [cloth],
            "fabric": [plate(fabric=[{"name": "mat 450"}]), {**cloth, "fabric": [{"name": "roving 600"}]}],
            "resin": [plate(), epoxy], "resin.gel_at": [plate(resin={"gel_minutes": 20, "gel_at": {"temperature": 20, "percent": 1.25, "mass": 100}})],
            "old_laminate": [plate(), grounded], "prices": [prices], "repair": [refit], "remnant": [refit], "remnant.locked": [refit],
            "hull.of_coaming": [coaming]}


# What only a boat's file has is not among the keys that the program tells.
BOAT_KEYS = [{"table": "remnant", "key": k, "kind": kind} for k, kind in (
    ("name", "text"), ("fabric", "text"), ("outline", "rows of lengths"), ("model", "text"), ("unit", "text"), ("roll_direction", "number"),
    ("face", "text"), ("keep_off", "rows of lengths"), ("locked", "list"))] + [
        {"table": "remnant.locked", "key": k, "kind": kind} for k, kind in (("piece", "text"), ("at", "lengths"), ("turn", "number"))] + [
            {"table": "repair", "key": "name", "kind": "text"}, {"table": "repair", "key": "damage", "kind": "table"},
            {"table": "", "key": "allow_overlap", "kind": "truth"}, {"table": "", "key": "repair", "kind": "list"}, {"table": "", "key": "remnant", "kind": "list"}]
TABLES = [{"table": "", "key": k, "kind": "table"} for k in (
    "hull", "marks", "damage", "scarf", "layup", "backing", "core", "fabric", "resin", "topcoat", "laminator", "shop", "old_laminate", "prices")] + [
        {"table": t, "key": k, "kind": "table"} for t, k in (
            ("hull", "measured"), ("hull", "grid"), ("hull", "sections"), ("hull", "corner"), ("hull", "scan"), ("hull.scan", "tape"),
            ("hull.scan", "crease"), ("damage", "opening"), ("damage", "sounding"), ("damage", "scan"), ("damage", "scan_after"),
            ("layup", "inside"), ("layup", "inner"), ("layup", "outer"))]


class Raw(str):
    """A value as a text of TOML."""


def put(job, table, key, text):
    """The job with that key: in every table of a list the first."""
    job = copy.deepcopy(job)
    at = job
    if table == "marks":
        at = job["marks"].setdefault("B", {})
    elif table == "layup.stack":
        at = job["layup"]["stack"]
        at[0] = {"fabric": at[0]}
        at = at[0]
    elif table == "remnant.locked":
        at = {"piece": "blister-1-1A", "at": [100, 100]}
        job["remnant"][0]["locked"] = [at]
    else:
        for part in table.split(".") if table else []:
            at = at.setdefault(part, {})
            at = at[0] if isinstance(at, list) else at
    at[key] = Raw(text)
    return job


def toml(value):
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, dict):
        return "{" + ", ".join(f'"{k}" = {toml(v)}' for k, v in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(toml, value)) + "]"
    return repr(value)


def written(job):
    """A key of the top a line."""
    return "".join(f'"{key}" = {toml(value)}\n' for key, value in job.items())


def dish_points(deep=3.0):
    """A scan of a dish in the flat panel, of 40 mm radius at its floor: a grid of points, in mm."""
    lines = []
    for x in range(-110, 111, 2):
        for z in range(-110, 111, 2):
            out = max(math.hypot(x, z) - 40, 0)
            lines.append(f"{x} {-max(deep - out / 12, 0):.3f} {z}\n")
    return "".join(lines)


def cases(keys):
    """(table.key, what the value is called, number of the base, job as text) of every key and value."""
    of_table = bases()
    for entry in keys + BOAT_KEYS + TABLES:
        for name, text in values_of(entry).items():
            for number, job in enumerate(of_table.get(entry["table"], of_table[""])):
                path = f"{entry['table']}.{entry['key']}".lstrip(".")
                yield path, name, number, written(put(job, entry["table"], entry["key"], text))
