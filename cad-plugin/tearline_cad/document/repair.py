"""The repair: one object that turns its properties into a plan, parametrically."""
import FreeCAD

from tearline_cad.document import (ask_plan, hull_file, job_text, looks, plan_store, plies,
                                   properties, templates, warning_lines)
from tearline_cad.engine import client, find_program

PLANNED = "Planned"


class NotPlanned(Exception):
    """Why there is no plan; shown at the object and in the report view."""


class Repair:
    """Proxy of the repair; holds nothing itself."""

    def __init__(self, repair):
        repair.Proxy = self
        properties.add_properties(repair)

    def onDocumentRestored(self, repair):
        repair.Proxy = self
        properties.add_properties(repair)

    def onChanged(self, repair, prop):
        document = repair.Document
        if prop == "Label" and document is not None and not document.Restoring \
                and not document.Transacting:
            for each in repair.OutListRecursive:
                if getattr(each, "Role", ""):
                    plies.set_label(each, repair)

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
        except client.Refused as refusal:
            fail(repair, ask_plan.in_short(refusal, model))
        except find_program.ProgramMissing as missing:
            fail(repair, str(missing))
        take_plan(repair, job, header, body)

    def dumps(self):
        return None

    def loads(self, state):
        return None

    __getstate__, __setstate__ = dumps, loads


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
    repair.Warnings = warning_lines.warning_lines(plan["warnings"])
    plies.update(repair, plan)
    templates.update(repair, plan)
    say(repair, PLANNED)


def _in_feet_or_inches():
    """Whether FreeCAD shows lengths in feet or inches; sheets of a new repair then begin so too."""
    shown = FreeCAD.Units.Quantity("1 mm").getUserPreferred()[2]
    return shown in ("in", "ft", "thou", "mil", "yd", '"', "'")


def make_repair(document, hull=None, label="Repair"):
    """A new repair, not planned yet."""
    repair = document.addObject("App::DocumentObjectGroupPython", "Repair")
    Repair(repair)
    repair.Label = label
    repair.Hull = hull
    if _in_feet_or_inches():
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
