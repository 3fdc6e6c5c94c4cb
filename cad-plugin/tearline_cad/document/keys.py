"""The keys of the job file as properties of a repair.

job_keys.json beside this file is what the engine answers to "keys" (a test holds the two together;
tests/support/job_keys.py writes it): documents open without an engine. ROWS say which keys are
properties, and where a property differs: what it starts as, and what stands behind its meaning. A key
whose property still has its start value is left out of the job, so that the engine's default holds.
"""
import collections
import json
import pathlib

from tearline_cad.document import toml

Key = collections.namedtuple("Key", "prop kind group table key start write meaning unit")

LENGTH, FLOAT, VECTOR = "App::PropertyLength", "App::PropertyFloat", "App::PropertyVector"
STRINGS, NUMBERS = "App::PropertyStringList", "App::PropertyFloatList"
STRING = "App::PropertyString"
ENUM, BOOL, WHOLE = "App::PropertyEnumeration", "App::PropertyBool", "App::PropertyInteger"

# Kind of a key: type of its property, how it is written.
KINDS = {
    "length": (LENGTH, toml.number), "number": (FLOAT, toml.number),
    "stress": (FLOAT, toml.megapascals), "mass": (FLOAT, toml.grams), "can": (FLOAT, toml.grams),
    "areal weight": (FLOAT, toml.grams_per_square_metre), "choice": (ENUM, toml.text),
    "truth": (BOOL, toml.truth), "text": (STRING, toml.text), "whole number": (WHOLE, toml.whole), "plies": (STRINGS, toml.plies),
    "pair": (NUMBERS, toml.numbers), "direction": (VECTOR, toml.vector)}

# A choice that has no default starts as none.
NOT_GIVEN = "not given"
# Keys that are shares or ratios, whose rows tell no unit.
UNITS = {"waste": "fraction", "use_fraction": "fraction", "share": "fraction", "ratio": "ratio",
         "glass_content": "fraction", "strain_limit": "fraction", "chamfer": "ratio"}

# Property, group, key in the job file, what stands behind its meaning, what it starts as if not as
# the engine's default; 0, an empty list: the engine's own.
ROWS = [
    # hull.model and hull.unit are written by hull_file.py
    ("Bow", "Hull", "hull.bow"),
    ("Up", "Hull", "hull.up"),
    ("Surface", "Hull", "hull.surface"),
    ("Skin", "Hull", "hull.skin", "; 0: not measured. Needed when the repair is on the other face"),
    ("Outward", "Hull", "hull.outward"),
    ("ExactMesh", "Hull", "hull.exact"),
    ("ScanKind", "Scan", "hull.scan.kind", "; not given: the model is exact", NOT_GIVEN),
    ("ScanShows", "Scan", "hull.scan.shows"),
    ("ScanNoise", "Scan", "hull.scan.noise", "; 0: the usual of its kind"),
    ("Fairness", "Scan", "hull.scan.fairness", "; 0: as its kind and noise ask"),
    # damage.outline or damage.centre is written by job_text.py
    ("Depth", "Damage", "damage.depth",
     "; 0: not given, of a hole right through or of a cored skin", 6),
    ("Side", "Damage", "damage.side"),
    ("OutlineRound", "Damage", "damage.round", "; not given: as the job file's", NOT_GIVEN),
    ("AtEnd", "Ends", "damage.at_end"),
    ("LapOver", "Ends", "damage.lap_over", "; 0: the usual"),
    ("EdgeTurn", "Ends", "damage.edge_turn", "; 0: the usual"),
    ("EdgeRadius", "Ends", "damage.edge_radius", "; 0: the usual"),
    ("Through", "Through", "damage.through"),
    ("ScarfFrom", "Through", "scarf.from", "", NOT_GIVEN),
    ("Share", "Through", "scarf.share"),
    ("First", "Through", "scarf.first"),
    ("GrindBack", "Through", "scarf.grind_back"),
    ("BackingKind", "Backing", "backing.kind"),
    ("BackingLap", "Backing", "backing.lap"),
    ("BackingThickness", "Backing", "backing.thickness", "; 0: not given"),
    ("BackingStays", "Backing", "backing.stays", "", ["", "yes", "no"]),
    ("BackingAccess", "Backing", "backing.access"),
    ("Reaches", "Core", "damage.reaches", "", NOT_GIVEN),
    ("CoreThickness", "Core", "core.thickness", "; 0: no core"),
    ("CoreOuter", "Core", "core.outer", "; 0: not given"),
    ("CoreInner", "Core", "core.inner", "; 0: not given"),
    ("CoreMaterial", "Core", "core.material"),
    ("CoreChamfer", "Core", "core.chamfer"),
    ("CoreGap", "Core", "core.gap"),
    ("CoreBed", "Core", "core.bed"),
    ("KerfPitch", "Core", "core.kerf_pitch", "; 0: no kerfs"),
    ("KerfWidth", "Core", "core.kerf_width", "; 0: no kerfs"),
    ("WetEdge", "Core", "core.wet_edge", "; 0: not measured"),
    ("WetMargin", "Core", "core.wet_margin"),
    ("CoreSeal", "Core", "core.seal", "; 0: not given"),
    ("EdgeFill", "Core", "core.edge_fill"),
    ("CoreGuard", "Core", "core.guard"),
    ("Ratio", "Scarf", "scarf.ratio"),
    ("LeastStep", "Scarf", "scarf.least_step"),
    ("SafetyFactor", "Scarf", "scarf.safety_factor"),
    ("BondShear", "Scarf", "scarf.bond_shear", "; 0: not known"),
    ("LayOrder", "Layup", "layup.order"),
    ("Stack", "Layup", "layup.stack", ", such as: mat 450, roving 600 @ 45 free 20. "
     "Empty: Fill, repeated until the depth is full"),
    ("Fill", "Layup", "layup.fill"),
    ("FillTo", "Layup", "layup.fill_to"),
    ("Cover", "Layup", "layup.cover"),
    ("CoverStep", "Layup", "layup.cover_step"),
    ("Position", "Layup", "layup.position"),
    ("Copies", "Layup", "layup.copies"),
    ("ResinKind", "Resin", "resin.kind"),
    ("ResinDensity", "Resin", "resin.density", ". 0: polyester's usual figure, else none"),
    ("CuredDensity", "Resin", "resin.cured_density",
     "; 0: the usual figure, but of vinylester, whose data sheet must say"),
    ("HardenerPercent", "Resin", "resin.hardener_percent",
     "; 0: not given, polyester then takes 1.25, vinylester needs its own"),
    ("HardenerParts", "Resin", "resin.hardener_parts"),
    ("HardenerBasis", "Resin", "resin.hardener_basis", "", ["", "mass", "volume"]),
    ("HardenerRange", "Resin", "resin.hardener_range"),
    ("HardenerDensity", "Resin", "resin.hardener_density",
     "; 0: polyester's usual figure, else none"),
    ("GelMinutes", "Resin", "resin.gel_minutes", "; 0: not known"),
    ("LeastTemperature", "Resin", "resin.least_temperature"),
    ("RecoatHours", "Resin", "resin.recoat_hours"),
    ("Waxed", "Resin", "resin.waxed"),
    ("Cup", "Resin", "resin.cup", ", g"),
    ("Waste", "Resin", "resin.waste"),
    ("Prime", "Resin", "resin.prime", ", g/m2"),
    ("DropsPerMillilitre", "Resin", "resin.drops_per_mL", "; 0: no drops are shown"),
    ("Can", "Resin", "resin.can", ", g; 5000: 5 kg, or a quart in US units", 5000),
    ("Finish", "Topcoat", "topcoat.finish"),
    ("TopcoatThickness", "Topcoat", "topcoat.thickness"),
    ("TopcoatDensity", "Topcoat", "topcoat.density"),
    ("TopcoatHardener", "Topcoat", "topcoat.hardener_percent"),
    ("TopcoatRange", "Topcoat", "topcoat.hardener_range", "", []),
    ("WetOutRate", "Shop", "laminator.wet_out_rate"),
    ("UseFraction", "Shop", "laminator.use_fraction"),
    ("Temperature", "Shop", "shop.temperature"),
    ("StageThickness", "Shop", "shop.stage_thickness"),
    ("CuttingGap", "Shop", "shop.cutting_gap"),
    ("HoursBetweenStages", "Shop", "shop.hours_between_stages", "; 0: not given"),
    ("FairingSkim", "Shop", "shop.fairing_skim"),
    ("DisplayUnits", "Job", ".display_units"),
]


def _start(row, kind):
    """The engine's default, where it is the same for every resin and cloth; else what says nothing."""
    if kind == ENUM:
        return row["choices"]
    if kind == VECTOR:
        return tuple(json.loads(row["form"]))
    default = next((each["value"] for each in row.get("defaults", []) if not each["of"]), None)
    if kind == STRINGS:
        return [ply["fabric"] for ply in default or []]
    if kind == NUMBERS:
        return default or []
    if kind == STRING:
        return default or ""
    if isinstance(default, str):  # "250 g"
        return float(default.split()[0])
    return 0 if default is None else default


def _capital(words):
    """A sentence's first letter, but of a unit: mm, m2, g/mL."""
    first = words.split()[0].strip(",:;")
    return words[0].upper() + words[1:] if first.isalpha() and first != "mm" else words


_PATH = pathlib.Path(__file__).with_name("job_keys.json")
_TOLD = {(row["table"], row["key"]): row
         for row in json.loads(_PATH.read_text(encoding="utf-8"))["keys"]}


def key(prop, group, path, more="", start=None):
    """A property by a row as in ROWS."""
    table, _, name = path.rpartition(".")
    row = _TOLD[table, name]
    kind, write = KINDS[row["kind"]]
    if start == NOT_GIVEN:
        start = ["", *row["choices"]]
    elif isinstance(start, list) and row["kind"] == "truth":
        kind, write = ENUM, toml.yes
    unit = "g" if row["kind"] == "can" else row.get("unit") or UNITS.get(name, "")
    return Key(prop, kind, group, table, name, _start(row, kind) if start is None else start, write,
               _capital(row["meaning"]) + more, unit)


KEYS = [key(*row) for row in ROWS]
# Places marked on the hull: property, table, key, how many (0: as many as there are), what to click.
PLACES = [
    ("PressFirst", "layup", "press_first", 1, "Where cloth is pressed down first"),
    ("Within", "damage", "within", 1, "In the part that an outline from end to end bounds"),
    ("SeenFrom", "hull.scan", "seen_from", 1, "A place outside the hull: where you look from now"),
    ("BowPoints", "hull.scan", "bow_points", 2, "Two places, the second nearer the bow"),
    ("UpPoints", "hull.scan", "up_points", 2, "Two places, the second straight above the first"),
    ("LevelPoints", "hull.scan", "level_points", 0, "Three places or more at one height"),
]
# Keys whose properties are written by others (job_text.py), too.
PROPERTIES = {f"{each.table}.{each.key}".lstrip("."): each.prop for each in KEYS} | {
    "damage.join": "Join", "damage.radius": "Radius", "damage.length": "Length",
    "damage.height": "Height", "hull.mirror": "Mirror"} | {
    f"{table}.{name}": prop for prop, table, name, _, _ in PLACES}
# The engine's own catalogue.
CLOTHS = _TOLD["layup", "stack"]["choices"]


def property_of(path):
    """The property that a key of the job stands for, as a refusal names it; "" for none."""
    return PROPERTIES.get(path.split("[")[0], "")


def defaults_of(key):
    """{for what: the engine's default} of a key; "" stands for all, else a kind of resin or cloth."""
    return {each["of"]: each["value"] for each in _TOLD[key.table, key.key].get("defaults", [])}


def start_value(of):
    """What a property starts as; an enumeration starts at its first word."""
    return of.start[0] if of.kind == ENUM else of.start


def same(value, start):
    """Whether a property still has its start value."""
    value = getattr(value, "Value", value)
    if hasattr(value, "x"):
        value = (value.x, value.y, value.z)
    if isinstance(start, (list, tuple)):
        return list(value) == list(start)
    return value == start
