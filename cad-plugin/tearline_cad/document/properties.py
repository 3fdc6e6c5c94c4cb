"""Every property of a repair: what the job file is made from, and what the engine answered."""
import FreeCAD

from tearline_cad.document import keys
from tearline_cad.document.words import tr

HIDDEN, READ_ONLY = 4, 1  # property attributes of FreeCAD


def _of_key(*row, **start):
    key = keys.key(*row, **start)
    return key.prop, key.kind, key.group, key.start, key.meaning


# Properties beside those of keys.KEYS, written by job_text.py: name, type, group, start, meaning.
OWN = [
    ("Title", "App::PropertyString", "Job", "", "Title on sheets and templates; empty: the label"),
    ("Hull", "App::PropertyLinkGlobal", "Hull", None, "Shape or mesh of the hull"),
    ("HullFile", "App::PropertyFile", "Hull", "", "Model file, where no object holds the hull"),
    ("HullUnit", keys.ENUM, "Hull", ["mm", "cm", "m", "in", "ft"], "Unit of a mesh file"),
    ("Mirror", keys.ENUM, "Hull", ["not said", "add the other half", "ends there"],
     "Whether the model is half a hull"),
    ("DamageShape", keys.ENUM, "Damage", ["points", "disc", "ellipse"],
     "How the damage is marked"),
    ("Outline", "App::PropertyVectorList", "Damage", [], "Points round the damage, in order"),
    _of_key("Join", "Damage", "damage.join"),
    ("Centred", keys.BOOL, "Damage", False, "The middle of disc or ellipse is marked"),
    ("Centre", keys.VECTOR, "Damage", (0, 0, 0), "Middle of disc or ellipse"),
    _of_key("Radius", "Damage", "damage.radius", start=80),
    _of_key("Length", "Damage", "damage.length", start=200),
    _of_key("Height", "Damage", "damage.height", start=120),
    ("PressFirst", "App::PropertyVectorList", "Layup", [],
     "One point: where cloth is pressed down first; none: the middle of the damage"),
    ("Within", "App::PropertyVectorList", "Ends", [],
     "One point in the part that an outline from end to end bounds; none: the smaller part"),
    ("SeenFrom", "App::PropertyVectorList", "Scan", [],
     "One point outside the hull, where its shape does not tell which side that is"),
    ("BowPoints", "App::PropertyVectorList", "Scan", [],
     "Two points, the second nearer the bow; then Bow does not count"),
    ("UpPoints", "App::PropertyVectorList", "Scan", [],
     "Two points, the second straight above the first; then Up does not count"),
    ("LevelPoints", "App::PropertyVectorList", "Scan", [],
     "Three points or more at one height; Up then only says which side of them is up"),
    ("Scans", "App::PropertyLinkListGlobal", "Scan", [],
     "Scans of the ground place or of work half done, that [damage.scan] and [[damage.scan_after]] name"),
    _of_key("GelTemperature", "Resin", "resin.gel_at.temperature", start=20),
    _of_key("GelPercent", "Resin", "resin.gel_at.percent", start=1.25),
    _of_key("GelMass", "Resin", "resin.gel_at.mass", start=100),
    ("FurtherKeys", keys.STRINGS, "Job", [],
     "Keys of the job that are no property here, each with its table: hull.outward = \"reversed\""),
    ("FurtherTables", keys.STRINGS, "Job", [],
     "Lines put at the end of the job as they stand: [[fabric]], [[damage.opening]], [marks.A], [prices]"),
]

# What the engine answers, for reading.
RESULTS = [
    ("PlanState", "App::PropertyString", "Whether the plan fits the properties above"),
    ("PlyCount", "App::PropertyInteger", "Plies, covers included"),
    ("LaidThickness", "App::PropertyLength", "Of all stack plies"),
    ("GlassArea", "App::PropertyArea", "Cloth to cut, one copy"),
    ("Glass", "App::PropertyFloat", "g"),
    ("Resin", "App::PropertyFloat", "g, waste and priming included"),
    ("Hardener", "App::PropertyFloat", "g; not shown where only its volume is known"),
    ("HardenerVolume", "App::PropertyFloat", "mL; not shown where only its mass is known"),
    ("Topcoat", "App::PropertyFloat", "g"),
    ("Warnings", "App::PropertyStringList", "What to heed"),
]

STORED = [
    ("PlanData", "App::PropertyFileIncluded", "The plan as the engine gave it"),
    ("PlannedJob", "App::PropertyString", "The job that the plan was made from"),
    ("Fault", "App::PropertyString", "Key of the job that the engine found fault with"),
    ("Coordinates", "App::PropertyString", "What points and directions are told in"),
]


# Of repair.Coordinates: points and directions are told in the hull's own, and move with it.
OF_THE_HULL = "hull"


def tell(repair, name, figure):
    """Sets a result; one that is not known is not shown, since a property cannot be empty and 0 is a figure."""
    setattr(repair, name, figure or 0.0)
    repair.setEditorMode(name, ["ReadOnly"] if figure is not None else ["ReadOnly", "Hidden"])


def add_properties(repair):
    """Every property that is not there yet: files of older versions gain the new ones."""
    have = set(repair.PropertiesList)
    own = [(name, kind, group, start, meaning, 0) for name, kind, group, start, meaning in OWN]
    own += [(key.prop, key.kind, key.group, key.start, key.meaning, 0) for key in keys.KEYS]
    own += [(name, kind, "Result", None, meaning, READ_ONLY) for name, kind, meaning in RESULTS]
    own += [(name, kind, "Result", None, meaning, READ_ONLY | HIDDEN)
            for name, kind, meaning in STORED]
    for name, kind, group, start, meaning, attributes in own:
        if name in have:
            continue
        repair.addProperty(kind, name, group, meaning, attributes)
        if kind == keys.VECTOR:
            setattr(repair, name, FreeCAD.Vector(*start))
        elif start is not None:
            setattr(repair, name, start)
    if not repair.PlanState:
        repair.PlanState = tr("Mark the damage: three points or more round it")
