"""The repair: one object that turns its properties into a plan, parametrically."""
import FreeCAD

from tearline_cad.document import (ask_plan, hull_file, job_text, keys, looks, plan_store, plies,
                                   templates)
from tearline_cad.engine import client, find_program

HIDDEN, READ_ONLY = 4, 1  # property attributes of FreeCAD


class NotPlanned(Exception):
    """Why there is no plan; shown at the object and in the report view."""


# Properties beside those of keys.KEYS: name, type, group, start, meaning.
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
    ("Join", keys.ENUM, "Damage", ["smooth", "straight"], "How the points are joined"),
    ("Centred", keys.BOOL, "Damage", False, "The middle of disc or ellipse is marked"),
    ("Centre", keys.VECTOR, "Damage", (0, 0, 0), "Middle of disc or ellipse"),
    ("Radius", keys.LENGTH, "Damage", 80, "Of a disc"),
    ("Length", keys.LENGTH, "Damage", 200, "Of an ellipse, along the bow direction"),
    ("Height", keys.LENGTH, "Damage", 120, "Of an ellipse, across the bow direction"),
    ("PressFirst", "App::PropertyVectorList", "Layup", [],
     "One point: where cloth is pressed down first; none: the middle of the damage"),
    ("GelTemperature", keys.FLOAT, "Resin", 20, "Celsius that the gel time was measured at"),
    ("GelPercent", keys.FLOAT, "Resin", 1.25, "Percent of hardener that it was measured at"),
    ("GelMass", keys.FLOAT, "Resin", 100, "Mass that it was measured at, g"),
    ("FurtherTables", keys.STRINGS, "Job", [],
     "Lines put at the end of the job as they stand: [[fabric]], [old_laminate], [prices]"),
]

# What the engine answers, for reading.
RESULTS = [
    ("PlanState", "App::PropertyString", "Whether the plan fits the properties above"),
    ("PlyCount", "App::PropertyInteger", "Plies, covers included"),
    ("LaidThickness", "App::PropertyLength", "Of all stack plies"),
    ("GlassArea", "App::PropertyArea", "Cloth to cut, one copy"),
    ("Glass", "App::PropertyFloat", "g"),
    ("Resin", "App::PropertyFloat", "g, waste and priming included"),
    ("Hardener", "App::PropertyFloat", "g; 0 where only its volume is known"),
    ("HardenerVolume", "App::PropertyFloat", "mL; 0 where only its mass is known"),
    ("Topcoat", "App::PropertyFloat", "g"),
    ("Warnings", "App::PropertyStringList", "What to heed"),
]

STORED = [
    ("PlanData", "App::PropertyFileIncluded", "The plan as the engine gave it"),
    ("PlannedJob", "App::PropertyString", "The job that the plan was made from"),
]


class Repair:
    """Proxy of the repair; holds nothing itself."""

    def __init__(self, repair):
        repair.Proxy = self
        add_properties(repair)

    def onDocumentRestored(self, repair):
        repair.Proxy = self
        add_properties(repair)

    def onChanged(self, repair, prop):
        document = repair.Document
        if prop == "Label" and document is not None and not document.Restoring \
                and not document.Transacting:
            for each in repair.OutListRecursive:
                if getattr(each, "Role", ""):
                    plies.name(each, repair)

    def execute(self, repair):
        try:
            job, model = ask_plan.job_of(repair)
        except job_text.Incomplete as missing:
            say(repair, str(missing))
            return
        except hull_file.NoHull as missing:
            fail(repair, str(missing))
        if job == repair.PlannedJob and plan_store.parts(repair):
            say(repair, PLANNED)
            return
        try:
            header, body = ask_plan.plan_of(job)
        except (client.Refused, find_program.ProgramMissing) as refusal:
            fail(repair, ask_plan.in_short(str(refusal), model))
        take_plan(repair, job, header, body)

    def dumps(self):
        return None

    def loads(self, state):
        return None

    __getstate__, __setstate__ = dumps, loads


PLANNED = "Planned"


def say(repair, words):
    """What the state is; a state that stays is no change that undo would have to know of."""
    if repair.PlanState != words:
        repair.PlanState = words


def fail(repair, words):
    """The old plan stays, and the object says that it is no longer right."""
    had = " (what is shown is the plan from before)" if repair.PlannedJob else ""
    say(repair, "Not planned: " + words + had)
    raise NotPlanned(words)


def take_plan(repair, job, header, body):
    """Makes an answer of the engine the repair's plan: data, totals, plies, templates."""
    plan_store.store(repair, header, body)
    plan = plan_store.plan(repair)
    totals = plan["totals"]
    repair.PlannedJob = job
    repair.PlyCount = len(plan["plies"])
    repair.LaidThickness = totals["laid_thickness_mm"]
    repair.GlassArea = totals["glass_area_m2"] * 1e6
    repair.Glass = totals["glass_g"]
    repair.Resin = totals["resin_g"]
    repair.Hardener = totals["hardener_g"] or 0.0
    repair.HardenerVolume = totals["hardener_mL"] or 0.0
    repair.Topcoat = totals["topcoat_g"] or 0.0
    repair.Warnings = warning_lines(plan["warnings"])
    plies.update(repair, plan)
    templates.update(repair, plan)
    say(repair, PLANNED)


RANKS = {"stop": "Stop and decide: ", "do": "Do this: ", "know": "Know this: "}


def warning_lines(warnings):
    """A line for each warning, the gravest rank first, in the words of the job sheet."""
    order = list(RANKS)
    return [RANKS[warning["rank"]] + warning["plain"]
            for warning in sorted(warnings, key=lambda each: order.index(each["rank"]))]


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
        repair.PlanState = "Mark the damage"


def make_repair(document, hull=None, label="Repair"):
    """A new repair, not planned yet."""
    repair = document.addObject("App::DocumentObjectGroupPython", "Repair")
    Repair(repair)
    repair.Label = label
    repair.Hull = hull
    if keys.in_feet_or_inches():
        repair.DisplayUnits = "us"
    looks.dress_new(repair)
    return repair


class _Watcher:
    """Repairs follow what their hull is nested in; once planned they are up to date, though their
    children were touched."""

    def slotChangedObject(self, changed, prop):
        document = changed.Document
        if prop != "Placement" or document.Restoring or document.Transacting:
            return
        for repair in repairs_of(document):
            if repair.Hull is not None and changed in repair.Hull.InListRecursive:
                repair.touch()

    def slotRecomputedDocument(self, document):
        for repair in repairs_of(document):
            if repair.PlanState == PLANNED and repair.isValid():
                for each in (repair, *repair.OutListRecursive):
                    if each.isDerivedFrom("App::DocumentObjectGroup"):
                        each.purgeTouched()


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)


def is_repair(candidate):
    return isinstance(getattr(candidate, "Proxy", None), Repair)


def repairs_of(document):
    return [each for each in document.Objects if is_repair(each)]
