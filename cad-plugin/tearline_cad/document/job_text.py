"""The job file of a repair, from its properties."""
from tearline_cad.document import keys, toml


class Incomplete(Exception):
    """What is still to be told before there can be a plan."""


def _damage(repair):
    shape = repair.DamageShape
    if shape == "points":
        if len(repair.Outline) < 3:
            raise Incomplete("Mark the damage: three points or more round it")
        points = ",\n    ".join(toml.vector(point) for point in repair.Outline)
        yield f"outline = [\n    {points},\n]"
        if repair.Join != "smooth":
            yield f"join = {toml.text(repair.Join)}"
        return
    if not repair.Centred:
        raise Incomplete("Mark the damage: its middle")
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


def job_text(repair, model, unit=""):
    """TOML for the engine.

    model   name of the hull's file, beside the job
    unit    of a mesh file, "" where the file knows its own
    Incomplete when the damage is not marked yet.
    """
    lines = ["tearline = 1", f"title = {toml.text(repair.Title or repair.Label)}"]
    lines += _table(repair, "")
    tables = {"hull": [*_hull(repair, model, unit), *_table(repair, "hull")],
              "damage": [*_damage(repair), *_table(repair, "damage")]}
    for name in ("scarf", "layup", "backing", "core", "resin", "topcoat", "laminator", "shop"):
        tables[name] = list(_table(repair, name))
    if repair.PressFirst:
        tables["layup"].append(f"press_first = {toml.vector(repair.PressFirst[0])}")
    tables["resin"] += _gel(repair)
    for line in repair.FurtherKeys:
        path, _, value = line.partition("=")
        table, _, key = path.strip().rpartition(".")
        tables.setdefault(table, []).append(f"{key} = {value.strip()}")
    lines += tables.pop("", [])
    for name, content in tables.items():
        if content:
            lines += ["", f"[{name}]", *content]
    if repair.FurtherTables:
        lines += ["", *repair.FurtherTables]
    return "\n".join(lines) + "\n"
