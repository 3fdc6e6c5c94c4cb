"""The keys of the job file as properties of a repair.

One row a key: property, its type, its group, the key in the job file, what it starts as, how it is
written, what it means. A key whose property still has its start value is left out of the job, so
that the engine's own default holds.
"""
import collections

from tearline_cad.document import toml

Key = collections.namedtuple("Key", "prop kind group table key start write meaning")

LENGTH, FLOAT, VECTOR = "App::PropertyLength", "App::PropertyFloat", "App::PropertyVector"
STRINGS, NUMBERS = "App::PropertyStringList", "App::PropertyFloatList"
ENUM, BOOL, WHOLE = "App::PropertyEnumeration", "App::PropertyBool", "App::PropertyInteger"

KEYS = [
    # -- hull: model and unit are written by hull_file.py
    Key("Bow", VECTOR, "Hull", "hull", "bow", (1, 0, 0), toml.vector, "Direction of the bow"),
    Key("Up", VECTOR, "Hull", "hull", "up", (0, 0, 1), toml.vector, "Upward direction"),
    Key("Surface", ENUM, "Hull", "hull", "surface", ["outside", "inside"], toml.text,
        "Which face of the skin the model is"),
    Key("Skin", LENGTH, "Hull", "hull", "skin", 0, toml.number,
        "Thickness of the skin; 0: not measured. Needed when the repair is on the other face"),
    Key("Outward", ENUM, "Hull", "hull", "outward", ["auto", "as modelled", "reversed"], toml.text,
        "Which way the model faces"),
    # -- damage: outline or centre are written by job_text.py
    Key("Depth", LENGTH, "Damage", "damage", "depth", 6, toml.number,
        "How deep the damage is ground out"),
    Key("Side", ENUM, "Damage", "damage", "side", ["outside", "inside"], toml.text,
        "The face the glass is laid from"),
    # -- scarf
    Key("Ratio", FLOAT, "Scarf", "scarf", "ratio", 12, toml.number, "mm out for each mm up"),
    Key("LeastStep", LENGTH, "Scarf", "scarf", "least_step", 0, toml.number,
        "A ply's edge lies at least this far outside the one before"),
    Key("SafetyFactor", FLOAT, "Scarf", "scarf", "safety_factor", 1.5, toml.number,
        "For the scarf check"),
    Key("BondShear", FLOAT, "Scarf", "scarf", "bond_shear", 0, toml.megapascals,
        "Strength of the bond in MPa, from a data sheet; 0: not known"),
    # -- layup
    Key("LayOrder", ENUM, "Layup", "layup", "order", ["smallest first", "largest first"],
        toml.text, "Which ply is laid first"),
    Key("Stack", STRINGS, "Layup", "layup", "stack", [], toml.plies,
        "Plies in the order of laying, such as: mat 450, roving 600 @ 45 free 20. "
        "Empty: Fill, repeated until the depth is full"),
    Key("Fill", STRINGS, "Layup", "layup", "fill", ["mat 450"], toml.plies,
        "Cloths in turn, repeated until the depth is full"),
    Key("Cover", STRINGS, "Layup", "layup", "cover", ["mat 300", "mat 300"], toml.plies,
        "Plies above the base surface, there to be sanded back"),
    Key("CoverStep", LENGTH, "Layup", "layup", "cover_step", 25, toml.number,
        "How far each cover ply lies outside the widest edge before it"),
    Key("Position", ENUM, "Layup", "layup", "position", ["flat", "vertical", "overhead"],
        toml.text, "How the place lies when it is worked on"),
    Key("Copies", WHOLE, "Layup", "layup", "copies", 1, toml.whole,
        "Sets of templates on the rolls"),
    # -- resin
    Key("ResinKind", ENUM, "Resin", "resin", "kind", ["polyester", "vinylester", "epoxy"],
        toml.text, "Kind of resin"),
    Key("ResinDensity", FLOAT, "Resin", "resin", "density", 0, toml.number,
        "Of the liquid resin, g/mL; epoxy: of its resin part alone. "
        "0: polyester's usual figure, else none"),
    Key("CuredDensity", FLOAT, "Resin", "resin", "cured_density", 0, toml.number,
        "Cured, g/cm3; 0: the usual figure, but of vinylester, whose data sheet must say"),
    Key("HardenerPercent", FLOAT, "Resin", "resin", "hardener_percent", 0, toml.number,
        "Percent of the resin; 0: not given, polyester then takes 1.25, vinylester needs its own"),
    Key("HardenerParts", NUMBERS, "Resin", "resin", "hardener_parts", [], toml.numbers,
        "Epoxy: parts of resin and of hardener, such as 5 and 1"),
    Key("HardenerBasis", ENUM, "Resin", "resin", "hardener_basis", ["", "mass", "volume"],
        toml.text, "Whether percent or parts are by mass or by volume"),
    Key("HardenerRange", NUMBERS, "Resin", "resin", "hardener_range", [], toml.numbers,
        "Percent that the data sheet allows, least and most"),
    Key("HardenerDensity", FLOAT, "Resin", "resin", "hardener_density", 0, toml.number,
        "g/mL; 0: polyester's usual figure, else none"),
    Key("GelMinutes", FLOAT, "Resin", "resin", "gel_minutes", 0, toml.number,
        "Gel time from the data sheet or a test cup; 0: not known"),
    Key("LeastTemperature", FLOAT, "Resin", "resin", "least_temperature", 15, toml.number,
        "Celsius; a colder shop is refused"),
    Key("RecoatHours", FLOAT, "Resin", "resin", "recoat_hours", 24, toml.number,
        "Later than this: wash and abrade before the next ply"),
    Key("Waxed", BOOL, "Resin", "resin", "waxed", False, toml.truth, "The resin holds wax"),
    Key("Cup", FLOAT, "Resin", "resin", "cup", 250, toml.grams, "Most that is mixed at once, g"),
    Key("Waste", FLOAT, "Resin", "resin", "waste", 0.1, toml.number,
        "Share left in cups, rollers and brushes"),
    Key("Prime", FLOAT, "Resin", "resin", "prime", 150, toml.grams_per_square_metre,
        "Resin over the ground area before the first ply, g/m2"),
    Key("DropsPerMillilitre", FLOAT, "Resin", "resin", "drops_per_mL", 0, toml.number,
        "Count your own; 0: no drops are shown"),
    Key("Can", FLOAT, "Resin", "resin", "can", 5000, toml.grams,
        "Size that resin is sold in, g; 5000: 5 kg, or a quart in US units"),
    # -- topcoat
    Key("Finish", ENUM, "Topcoat", "topcoat", "finish", ["sacrificial", "final"], toml.text,
        "Sanded off again, or left"),
    Key("TopcoatThickness", LENGTH, "Topcoat", "topcoat", "thickness", 0.508, toml.number,
        "Wet thickness"),
    Key("TopcoatDensity", FLOAT, "Topcoat", "topcoat", "density", 1.25, toml.number, "g/mL"),
    Key("TopcoatHardener", FLOAT, "Topcoat", "topcoat", "hardener_percent", 2, toml.number,
        "Percent by mass"),
    Key("TopcoatRange", NUMBERS, "Topcoat", "topcoat", "hardener_range", [], toml.numbers,
        "Percent that the data sheet allows, least and most"),
    # -- laminator and shop
    Key("WetOutRate", FLOAT, "Shop", "laminator", "wet_out_rate", 0.05, toml.number,
        "m2 that one person wets out in a minute"),
    Key("UseFraction", FLOAT, "Shop", "laminator", "use_fraction", 0.6, toml.number,
        "Share of the gel time that a cup is used for"),
    Key("Temperature", FLOAT, "Shop", "shop", "temperature", 20, toml.number,
        "Celsius, of shop, hull and resin"),
    Key("StageThickness", LENGTH, "Shop", "shop", "stage_thickness", 4.3, toml.number,
        "Most that is laid wet on wet in one go"),
    Key("DisplayUnits", ENUM, "Job", "", "display_units", ["metric", "us"], toml.text,
        "What the sheets show first"),
]


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
