"""A job file becomes a repair. Nothing of it is lost: what is no property of a repair is kept as the lines of
the job that it is, key by key or as whole tables."""
import os
import re

import FreeCAD

from tearline_cad.document import ground_scans, job_form, keys, take_hull, toml
from tearline_cad.document.job_form import TABLES, Unreadable, is_table
from tearline_cad.document.repair import make_repair
from tearline_cad.document.words import tr

try:
    import tomllib
except ImportError:  # Python before 3.11
    tomllib = None


MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "mil": 0.0254}
_AMOUNT = re.compile(r"\s*([-+]?[\d.]+(?:[eE][-+]?\d+)?)\s*(.*?)\s*")
GRAMS = {"g": 1.0, "kg": 1000.0}


class _NoProperty(Exception):
    """A value that its property cannot hold."""


def _amount(value, units):
    """A number, or a text with one of the units."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    matched = _AMOUNT.fullmatch(value) if isinstance(value, str) else None
    if not matched or matched.group(2) not in units:
        raise _NoProperty
    return float(matched.group(1)) * units[matched.group(2)]


def _ply(entry):
    """A line of a stack."""
    if isinstance(entry, str):
        return entry
    if not isinstance(entry, dict) or set(entry) - {"fabric", "axis", "axis_free"}:
        raise _NoProperty
    line = entry["fabric"]
    if "axis" in entry or "axis_free" in entry:
        line += f" @ {entry.get('axis', 0):g}"
    return line + (f" free {entry['axis_free']:g}" if "axis_free" in entry else "")


def _vector(value):
    if not job_form.is_vector(value):
        raise _NoProperty
    return FreeCAD.Vector(*value)


def _value(key, value):
    """A value of the job as its property takes it."""
    if key.kind == keys.LENGTH:
        return _amount(value, MILLIMETRES)
    if key.kind == keys.FLOAT:
        return _amount(value, {"g": GRAMS, "g/m2": {"g/m2": 1.0}, "MPa": {"MPa": 1.0}}.get(key.unit, {}))
    if key.kind == keys.STRINGS:
        return [_ply(each) for each in (value if isinstance(value, list) else [value])]
    if key.kind == keys.VECTOR:
        return _vector(value)
    if key.kind == keys.ENUM and isinstance(value, bool):
        return "yes" if value else "no"
    if key.kind == keys.NUMBERS:
        return [float(each) for each in value]
    return value


def value_of(text):
    """A value as it is written in a job file or on the command line, where words need no quotes."""
    try:
        return tomllib.loads(f"value = {text}")["value"] if tomllib else text
    except tomllib.TOMLDecodeError:
        return text


# A job tells one or the other: whoever takes one over leaves the other behind.
INSTEAD = {"Stack": "Fill", "Fill": "Stack"}


def take_value(repair, key, value):
    """Sets a property to a value of the job; whether it could hold it."""
    try:
        _take(repair, key, value)
    except _NoProperty:
        return False
    for other in keys.KEYS:
        if other.prop == INSTEAD.get(key.prop):
            setattr(repair, other.prop, keys.start_value(other))
    return True


def _take(repair, key, value):
    """Sets a property; _NoProperty where the job would not say the same again."""
    try:
        told = _value(key, value)
        if keys.same(told, keys.start_value(key)) and not told \
                and keys.defaults_of(key).get("") is None and key.kind != keys.BOOL:
            raise _NoProperty  # 0 stands for "not told", and this was told
        if getattr(told, "Length", 1) and key.kind == keys.LENGTH and told < 0:
            raise _NoProperty
        setattr(repair, key.prop, told)
    except (TypeError, ValueError, KeyError) as error:
        raise _NoProperty from error


def _table_lines(path, table):
    """A table, or a list of tables, as lines."""
    for each in table if isinstance(table, list) else [table]:
        # What a scan's marks are is read and changed line by line.
        deeper = {} if path in ground_scans.PATHS else {key: value for key, value in each.items() if is_table(value)}
        if isinstance(table, list):
            yield f"[[{path}]]"
        elif len(deeper) < len(each) or not each:  # else the tables in it say that it is there
            yield f"[{path}]"
        for key, value in each.items():
            if key not in deeper:
                yield f"{toml.name(key)} = {toml.written(value)}"
        for key, value in deeper.items():
            yield from _table_lines(f"{path}.{toml.name(key)}", value)


def _damage(repair, damage):
    """Takes what says where the damage is out of its table, where the properties can hold it."""
    try:
        if "outline" in damage:
            repair.Outline = [_vector(point) for point in damage["outline"]]
            repair.DamageShape = "points"
            taken = ["outline"]
            if damage.get("join") in ("smooth", "straight"):
                repair.Join = damage["join"]
                taken.append("join")
        elif "centre" in damage:
            repair.Centre = _vector(damage["centre"])
            repair.Centred = True
            sizes = {"radius": "Radius"} if "radius" in damage else {"length": "Length",
                                                                    "height": "Height"}
            for key, prop in sizes.items():
                setattr(repair, prop, _amount(damage[key], MILLIMETRES))
            repair.DamageShape = "disc" if "radius" in damage else "ellipse"
            taken = ["centre", *sizes]
        else:
            return
    except (_NoProperty, KeyError, TypeError) as error:
        raise Unreadable(tr("damage: its outline is told by marks, which the workbench does not know: tell it in "
                            "millimetres of the model")) from error
    for key in taken:
        del damage[key]


def _places(repair, job):
    """Places that are properties, taken out of their tables where they are told in coordinates."""
    for prop, table, key, count, _ in keys.PLACES:
        place = job_form.told(job, table)
        told = place.get(key)
        if not isinstance(told, list) or not told:
            continue
        try:
            setattr(repair, prop, [_vector(told)] if count == 1 else [_vector(each) for each in told])
        except _NoProperty:
            continue
        del place[key]


def _own(repair, job):
    """What properties of their own hold."""
    if "title" in job:
        repair.Title = job.pop("title")
    job.pop("tearline", None)
    _damage(repair, job.get("damage", {}))
    if "mirror" in job.get("hull", {}):
        repair.Mirror = "add the other half" if job["hull"].pop("mirror") else "ends there"
    _places(repair, job)
    resin = job.get("resin", {})
    gel = resin.get("gel_at")
    if isinstance(gel, dict) and "gel_minutes" in resin \
            and set(gel) == {"temperature", "percent", "mass"}:
        repair.GelTemperature, repair.GelPercent = gel["temperature"], gel["percent"]
        repair.GelMass = _amount(gel["mass"], GRAMS)
        del resin["gel_at"]


def take_job(repair, job):
    """Sets all properties of a new repair from a job that was read; what none of them holds goes into
    FurtherKeys and FurtherTables. `job` is used up."""
    if "depth" not in job.get("damage", {}):
        repair.Depth = 0
    _own(repair, job)
    known = {(key.table, key.key): key for key in keys.KEYS}
    further, tables = [], []
    for table in TABLES:
        for name, value in list(job_form.told(job, table).items()):
            path = f"{table}.{toml.name(name)}".lstrip(".")
            if path in TABLES or not table and is_table(value):
                continue
            try:
                if (table, name) not in known:
                    raise _NoProperty
                _take(repair, known[table, name], value)
            except _NoProperty:
                if path == "damage.depth":  # the one key that is written though it is at its start
                    repair.Depth = 0
                if is_table(value):
                    tables += _table_lines(path, value)
                else:
                    further.append(f"{path} = {toml.written(value)}")
    for name, value in job.items():
        if name not in TABLES and is_table(value):
            tables += _table_lines(toml.name(name), value)
    repair.FurtherKeys, repair.FurtherTables = further, tables


def read(path):
    """What a job file says."""
    if tomllib is None:
        raise Unreadable(tr("Job files are read with Python 3.11 and later, as FreeCAD 1.0 has it"))
    try:
        with open(path, "rb") as file:
            return tomllib.load(file)
    except OSError as error:
        raise Unreadable(f"{path}: {error.strerror}") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise Unreadable(f"{path}: {error}") from error


def open_job(document, path):
    """A repair, with its hull brought into the document, from a job file; not recomputed."""
    job = read(path)
    try:
        job_form.check(job)
    except Unreadable as error:
        raise Unreadable(f"{path}: {error}") from error
    hull = job.get("hull", {})
    model = hull.pop("model", "")
    if not model:
        raise Unreadable(tr("{}: it names no hull.model: measured and sectioned hulls have no model here", path))
    unit = hull.pop("unit", "mm")
    model = os.path.join(os.path.dirname(os.path.abspath(path)), model)
    if not os.path.isfile(model):
        raise Unreadable(tr("{}: there is no file {}", f"{path}: hull.model", model))
    try:
        thing = take_hull.read_hull(document, model, unit)
    except ValueError as error:
        raise Unreadable(f"{path}: hull.model: {error}") from error
    repair = make_repair(document, thing, job.get("title") or os.path.splitext(
        os.path.basename(path))[0])
    try:
        take_job(repair, job)
        ground_scans.take(repair, os.path.dirname(os.path.abspath(path)))
    except (Unreadable, ValueError) as error:
        for made in (*repair.Scans, repair, thing):
            document.removeObject(made.Name)
        raise Unreadable(str(error) if str(error).startswith(path) else f"{path}: {error}") from error
    return repair
