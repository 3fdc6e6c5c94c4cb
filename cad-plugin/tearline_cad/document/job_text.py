"""The job file of a repair, from its properties."""
from tearline_cad.document import ground_scans, keys, tables, toml
from tearline_cad.document.words import tr


class Incomplete(Exception):
    """What is still to be told before there can be a plan."""


def _damage(repair):
    shape = repair.DamageShape
    if shape == "points":
        if len(repair.Outline) < 3:
            raise Incomplete(tr("Mark the damage: three points or more round it"))
        points = ",\n    ".join(toml.vector(point) for point in repair.Outline)
        yield f"outline = [\n    {points},\n]"
        if repair.Join != "smooth":
            yield f"join = {toml.text(repair.Join)}"
        return
    if not repair.Centred:
        raise Incomplete(tr("Mark the damage: its middle"))
    yield f"centre = {toml.vector(repair.Centre)}"
    if shape == "disc":
        yield f"radius = {toml.number(repair.Radius)}"
    else:
        yield f"length = {toml.number(repair.Length)}"
        yield f"height = {toml.number(repair.Height)}"


def _hull(repair, model, unit):
    yield f"model = {toml.text(model)}"
    if unit:
        yield f"unit = {toml.text(unit)}"
    if repair.Mirror != "not said":
        yield f"mirror = {toml.truth(repair.Mirror == 'add the other half')}"


def _table(repair, name):
    """The keys of a table that are no longer at their start, and those that must go with them."""
    wanted = ()
    if name == "topcoat" and repair.ResinKind == "epoxy":
        # Over epoxy no topcoat is usual: one that is changed is said whole.
        changed = any(not keys.same(getattr(repair, key.prop), keys.start_value(key))
                      for key in keys.KEYS if key.table == name)
        wanted = ("thickness", "density") if changed else ()
    for key in keys.KEYS:
        if key.table != name:
            continue
        if key.prop == "Fill" and repair.Stack:
            continue  # a stack is told ply by ply
        value = getattr(repair, key.prop)
        if key.prop == "Bow" and repair.BowPoints or key.prop == "Up" and repair.UpPoints:
            continue  # told by places instead
        always = key.prop in ("Bow", "Up") or key.prop == "Depth" and value.Value > 0 \
            or key.key in wanted
        if key.prop == "Depth" and not always:
            continue
        if always or not keys.same(value, keys.start_value(key)):
            yield f"{key.key} = {key.write(value)}"


def _gel(repair):
    if repair.GelMinutes > 0:
        yield (f"gel_at = {{temperature = {toml.number(repair.GelTemperature)}, "
               f"percent = {toml.number(repair.GelPercent)}, "
               f"mass = {toml.grams(repair.GelMass)}}}")


def job_tables(repair, model, unit=""):
    """{table: lines of it} of all properties, the keys of no table first; FurtherTables are not among them.

    model   name of the hull's file, beside the job
    unit    of a mesh file, "" where the file knows its own
    Incomplete when the damage is not marked yet.
    """
    told = {"": list(_table(repair, "")),
              "hull": [*_hull(repair, model, unit), *_table(repair, "hull")],
              "damage": [*_damage(repair), *_table(repair, "damage")]}
    for name in ("hull.scan", "scarf", "layup", "backing", "core", "resin", "topcoat", "laminator", "shop"):
        told[name] = list(_table(repair, name))
    for prop, table, key, count, _ in keys.PLACES:
        if places := getattr(repair, prop):
            told[table].append(f"{key} = {toml.vector(places[0]) if count == 1 else toml.vectors(places)}")
    told["resin"] += _gel(repair)
    for line in repair.FurtherKeys:
        path, _, value = line.partition("=")
        table, _, key = path.strip().rpartition(".")
        told.setdefault(table, []).append(f"{key} = {value.strip()}")
    return told


def further_tables(repair):
    """The lines of further tables; without marks where there is only one, which tells no place to the engine and is
    kept to measure from."""
    alone = len(tables.all_of(repair, tables.MARKS)) == 1
    lines = [line for table in tables.cut(repair.FurtherTables)
             if not alone or not tables.is_of(table, tables.MARKS) for line in table]
    return ground_scans.for_engine(repair, lines)


def job_text(repair, model, unit=""):
    """TOML for the engine; as job_tables()."""
    told = job_tables(repair, model, unit)
    lines = ["tearline = 1", f"title = {toml.text(repair.Title or repair.Label)}", *told.pop("")]
    for name, content in told.items():
        if content:
            lines += ["", f"[{name}]", *content]
    if further := further_tables(repair):
        lines += ["", *further]
    return "\n".join(lines) + "\n"
