"""The keys of the job file as properties of a repair.

One row a key: property, its type, its group, the key in the job file, what it starts as, how it is
written, what it means. A key whose property still has its start value is left out of the job, so
that the engine's own default holds.
"""
import collections
import json

import FreeCAD

Key = collections.namedtuple("Key", "prop kind group table key start write meaning")


def _text(value):
    return json.dumps(str(value), ensure_ascii=False)


def _number(value):
    return repr(float(getattr(value, "Value", value)))


def _length(value):
    return f"{float(getattr(value, 'Value', value))!r}"


def _whole(value):
    return str(int(value))


def _truth(value):
    return "true" if value else "false"


def _vector(value):
    return "[" + ", ".join(repr(float(c)) for c in (value.x, value.y, value.z)) + "]"


def _numbers(values):
    return "[" + ", ".join(repr(float(v)) for v in values) + "]"


def _mass(value):
    return _text(f"{float(value)!r} g")


def _per_area(value):
    return _text(f"{float(value)!r} g/m2")


def ply_words(line):
    """One line of a stack: "mat 450", "roving 600 @ 45", "roving 600 @ 45 free 20"."""
    fabric, _, turned = line.partition("@")
    fabric = fabric.strip()
    if not turned:
        return _text(fabric)
    axis, _, free = turned.partition("free")
    entry = f"{{fabric = {_text(fabric)}, axis = {_plain(axis)}"
    return entry + (f", axis_free = {_plain(free)}}}" if free else "}")


def _plain(words):
    """A number as typed; what is none goes to the engine as text, which says so."""
    try:
        return repr(float(words))
    except ValueError:
        return _text(words.strip())


def _plies(lines):
    return "[" + ", ".join(ply_words(line) for line in lines if line.strip()) + "]"


LENGTH, FLOAT, VECTOR = "App::PropertyLength", "App::PropertyFloat", "App::PropertyVector"
STRINGS, NUMBERS = "App::PropertyStringList", "App::PropertyFloatList"
ENUM, BOOL, WHOLE = "App::PropertyEnumeration", "App::PropertyBool", "App::PropertyInteger"

KEYS = [
    # -- hull: model and unit are written by hull_file.py
    Key("Bow", VECTOR, "Hull", "hull", "bow", (1, 0, 0), _vector, "Direction of the bow"),
    Key("Up", VECTOR, "Hull", "hull", "up", (0, 0, 1), _vector, "Upward direction"),
    Key("Surface", ENUM, "Hull", "hull", "surface", ["outside", "inside"], _text,
        "Which face of the skin the model is"),
    Key("Skin", LENGTH, "Hull", "hull", "skin", 0, _length,
        "Thickness of the skin; 0: not measured. Needed when the repair is on the other face"),
    Key("Outward", ENUM, "Hull", "hull", "outward", ["auto", "as modelled", "reversed"], _text,
        "Which way the model faces"),
    # -- damage: outline or centre are written by job_text.py
    Key("Depth", LENGTH, "Damage", "damage", "depth", 6, _length,
        "How deep the damage is ground out"),
    Key("Side", ENUM, "Damage", "damage", "side", ["outside", "inside"], _text,
        "The face the glass is laid from"),
    # -- scarf
    Key("Ratio", FLOAT, "Scarf", "scarf", "ratio", 12, _number, "mm out for each mm up"),
    Key("LeastStep", LENGTH, "Scarf", "scarf", "least_step", 0, _length,
        "A ply's edge lies at least this far outside the one before"),
    Key("SafetyFactor", FLOAT, "Scarf", "scarf", "safety_factor", 1.5, _number,
        "For the scarf check"),
    Key("BondShear", FLOAT, "Scarf", "scarf", "bond_shear", 0,
        lambda value: _text(f"{float(value)!r} MPa"),
        "Strength of the bond in MPa, from a data sheet; 0: not known"),
    # -- layup
    Key("LayOrder", ENUM, "Layup", "layup", "order", ["smallest first", "largest first"], _text,
        "Which ply is laid first"),
    Key("Stack", STRINGS, "Layup", "layup", "stack", [], _plies,
        "Plies in the order of laying, such as: mat 450, roving 600 @ 45 free 20. "
        "Empty: Fill, repeated until the depth is full"),
    Key("Fill", STRINGS, "Layup", "layup", "fill", ["mat 450"], _plies,
        "Cloths in turn, repeated until the depth is full"),
    Key("Cover", STRINGS, "Layup", "layup", "cover", ["mat 300", "mat 300"], _plies,
        "Plies above the base surface, there to be sanded back"),
    Key("CoverStep", LENGTH, "Layup", "layup", "cover_step", 25, _length,
        "How far each cover ply lies outside the widest edge before it"),
    Key("Position", ENUM, "Layup", "layup", "position", ["flat", "vertical", "overhead"], _text,
        "How the place lies when it is worked on"),
    Key("Copies", WHOLE, "Layup", "layup", "copies", 1, _whole, "Sets of templates on the rolls"),
    # -- resin
    Key("ResinKind", ENUM, "Resin", "resin", "kind", ["polyester", "vinylester", "epoxy"], _text,
        "Kind of resin"),
    Key("ResinDensity", FLOAT, "Resin", "resin", "density", 0, _number,
        "Of the liquid resin, g/mL; epoxy: of its resin part alone. "
        "0: polyester's usual figure, else none"),
    Key("CuredDensity", FLOAT, "Resin", "resin", "cured_density", 0, _number,
        "Cured, g/cm3; 0: the usual figure, but of vinylester, whose data sheet must say"),
    Key("HardenerPercent", FLOAT, "Resin", "resin", "hardener_percent", 0, _number,
        "Percent of the resin; 0: not given, polyester then takes 1.25, vinylester needs its own"),
    Key("HardenerParts", NUMBERS, "Resin", "resin", "hardener_parts", [], _numbers,
        "Epoxy: parts of resin and of hardener, such as 5 and 1"),
    Key("HardenerBasis", ENUM, "Resin", "resin", "hardener_basis", ["", "mass", "volume"], _text,
        "Whether percent or parts are by mass or by volume"),
    Key("HardenerRange", NUMBERS, "Resin", "resin", "hardener_range", [], _numbers,
        "Percent that the data sheet allows, least and most"),
    Key("HardenerDensity", FLOAT, "Resin", "resin", "hardener_density", 0, _number,
        "g/mL; 0: polyester's usual figure, else none"),
    Key("GelMinutes", FLOAT, "Resin", "resin", "gel_minutes", 0, _number,
        "Gel time from the data sheet or a test cup; 0: not known"),
    Key("LeastTemperature", FLOAT, "Resin", "resin", "least_temperature", 15, _number,
        "Celsius; a colder shop is refused"),
    Key("RecoatHours", FLOAT, "Resin", "resin", "recoat_hours", 24, _number,
        "Later than this: wash and abrade before the next ply"),
    Key("Waxed", BOOL, "Resin", "resin", "waxed", False, _truth, "The resin holds wax"),
    Key("Cup", FLOAT, "Resin", "resin", "cup", 250, _mass, "Most that is mixed at once, g"),
    Key("Waste", FLOAT, "Resin", "resin", "waste", 0.1, _number,
        "Share left in cups, rollers and brushes"),
    Key("Prime", FLOAT, "Resin", "resin", "prime", 150, _per_area,
        "Resin over the ground area before the first ply, g/m2"),
    Key("DropsPerMillilitre", FLOAT, "Resin", "resin", "drops_per_mL", 0, _number,
        "Count your own; 0: no drops are shown"),
    Key("Can", FLOAT, "Resin", "resin", "can", 5000, _mass,
        "Size that resin is sold in, g; 5000: 5 kg, or a quart in US units"),
    # -- topcoat
    Key("Finish", ENUM, "Topcoat", "topcoat", "finish", ["sacrificial", "final"], _text,
        "Sanded off again, or left"),
    Key("TopcoatThickness", LENGTH, "Topcoat", "topcoat", "thickness", 0.508, _length,
        "Wet thickness"),
    Key("TopcoatDensity", FLOAT, "Topcoat", "topcoat", "density", 1.25, _number, "g/mL"),
    Key("TopcoatHardener", FLOAT, "Topcoat", "topcoat", "hardener_percent", 2, _number,
        "Percent by mass"),
    Key("TopcoatRange", NUMBERS, "Topcoat", "topcoat", "hardener_range", [], _numbers,
        "Percent that the data sheet allows, least and most"),
    # -- laminator and shop
    Key("WetOutRate", FLOAT, "Shop", "laminator", "wet_out_rate", 0.05, _number,
        "m2 that one person wets out in a minute"),
    Key("UseFraction", FLOAT, "Shop", "laminator", "use_fraction", 0.6, _number,
        "Share of the gel time that a cup is used for"),
    Key("Temperature", FLOAT, "Shop", "shop", "temperature", 20, _number,
        "Celsius, of shop, hull and resin"),
    Key("StageThickness", LENGTH, "Shop", "shop", "stage_thickness", 4.3, _length,
        "Most that is laid wet on wet in one go"),
    Key("DisplayUnits", ENUM, "Job", "", "display_units", ["metric", "us"], _text,
        "What the sheets show first"),
]


def in_feet_or_inches():
    """Whether FreeCAD shows lengths in feet or inches; sheets of a new repair then begin so too."""
    shown = FreeCAD.Units.Quantity("1 mm").getUserPreferred()[2]
    return shown in ("in", "ft", "thou", "mil", "yd", '"', "'")


def start_value(key):
    """What a property starts as; an enumeration starts at its first word."""
    return key.start[0] if key.kind == ENUM else key.start


def same(value, start):
    """Whether a property still has its start value."""
    value = getattr(value, "Value", value)
    if hasattr(value, "x"):
        value = (value.x, value.y, value.z)
    if isinstance(start, (list, tuple)):
        return list(value) == list(start)
    return value == start
