"""The repair: one object that turns its properties into a plan, parametrically."""
import FreeCAD

from tearline_cad.document import (ask_plan, drawn, figures, frames, hull_file, job_text, keys, looks, plan_store, plies,
                                   properties, templates, warning_lines)
from tearline_cad.document.belonging import document_of
from tearline_cad.document.words import tr
from tearline_cad.engine import client, find_program

PLANNED = "Planned"
REFUSED = "Not planned: "


class Repair:
    """Proxy of the repair; holds nothing itself."""

    def __init__(self, repair):
        repair.Proxy = self
        properties.add_properties(repair)
        repair.Coordinates = properties.OF_THE_HULL

    def onDocumentRestored(self, repair):
        repair.Proxy = self
        properties.add_properties(repair)
        if repair.Coordinates != properties.OF_THE_HULL:
            _to_the_hulls_coordinates(repair)
        plan = plan_store.plan(repair)
        if plan:
            plies.update(repair, plan, is_stale(repair))
            templates.update(repair, plan, is_stale(repair))

    def onChanged(self, repair, prop):
        document = repair.Document
        if prop == "Label" and document is not None and not document.Restoring \
                and not document.Transacting:
            for each in repair.OutListRecursive:
                if getattr(each, "Role", ""):
                    plies.set_label(each, repair)
            templates.set_label(repair)

    def execute(self, repair):
        """Raises nothing: what a person can cause is told at the object and in one line of the report,
        where FreeCAD would print the way through our code."""
        plies.place(repair)
        try:
            job, model = ask_plan.job_of(repair)
        except (job_text.Incomplete, hull_file.NoHull) as missing:
            not_planned(repair, str(missing), isinstance(missing, hull_file.NoHull))
            return
        if job == repair.PlannedJob and plan_store.parts(repair):
            still_planned(repair)
            return
        try:
            header, body = ask_plan.plan_of(job)
        except client.Refused as refusal:
            not_planned(repair, ask_plan.in_short(refusal, model), True, refusal.key)
        except find_program.ProgramMissing as missing:
            not_planned(repair, str(missing), True)
        else:
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


def is_stale(repair):
    """Whether what is shown is of a plan that the repair has left behind."""
    return bool(repair.PlannedJob) and repair.PlanState != PLANNED


def not_planned(repair, words, fault=True, key=""):
    """There is no plan for what the repair is now: the one from before stays, crossed out.

    fault   whether something is wrong, not just missing yet
    key     of the job, that the engine finds fault with
    """
    said = REFUSED + words if fault else words
    if fault and repair.PlanState != said:
        FreeCAD.Console.PrintError("Tearline: " + tr("{} is not planned: {}", repair.Label, words) + "\n")
    say(repair, said)
    plies.set_values(repair, Fault=key)
    _draw_old(repair)


def asked(repair):
    """The property that the engine's refusal means; "" for none."""
    rough = repair.Fault == "hull.model" and frames.is_mesh(repair.Hull) and not repair.ScanKind
    return "ScanKind" if rough else keys.property_of(repair.Fault)


def still_planned(repair):
    """The repair is what its plan was made from, after all."""
    say(repair, PLANNED)
    plies.set_values(repair, Fault="")
    _draw_old(repair)


def _draw_old(repair):
    """Crosses out what is of a plan that the repair has left behind, or no longer."""
    if repair.PlannedJob:
        plan, stale = plan_store.plan(repair), is_stale(repair)
        drawn.draw_all(plies.drawings(repair, plan, stale))
        templates.update(repair, plan, stale)


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
    for name, figure in (("Hardener", "hardener_g"), ("HardenerVolume", "hardener_mL"), ("Topcoat", "topcoat_g")):
        properties.tell(repair, name, totals[figure])
    repair.Warnings = warning_lines.warning_lines(plan["warnings"])
    plies.update(repair, plan)
    templates.update(repair, plan)
    say(repair, PLANNED)
    plies.set_values(repair, Fault="")


def _to_the_hulls_coordinates(repair):
    """A file from before: its points are told in those of the document."""
    back = frames.frame_of(repair.Hull).inverse()
    for name in ("Outline", "PressFirst"):
        setattr(repair, name, [back.multVec(point) for point in getattr(repair, name)])
    repair.Centre = back.multVec(repair.Centre)
    for name in ("Bow", "Up"):
        setattr(repair, name, back.Rotation.multVec(getattr(repair, name)))
    repair.Coordinates = properties.OF_THE_HULL


def make_repair(document, hull=None, label="Repair"):
    """A new repair, not planned yet."""
    repair = document.addObject("App::DocumentObjectGroupPython", "Repair")
    Repair(repair)
    repair.Label = label
    repair.Hull = hull
    if figures.in_feet_or_inches():  # its sheets begin so, too
        repair.DisplayUnits = "us"
    looks.dress_new(repair)
    return repair


# What moves a hull, or a repair itself.
MOVES = ("Placement", "LinkPlacement", "LinkTransform", "Group")


def delete_children(repair):
    """Takes away all that a repair made."""
    for made in list(repair.Group):
        for inner in list(getattr(made, "Group", [])):
            repair.Document.removeObject(inner.Name)
        repair.Document.removeObject(made.Name)


def delete(repair):
    """Takes a repair away with all that it made."""
    delete_children(repair)
    repair.Document.removeObject(repair.Name)


class _Watcher:
    """What lies on a hull follows it; once planned, repairs are up to date though their children were
    touched, and what could not be planned is tried again at the next recompute."""

    def slotChangedObject(self, changed, prop):
        document = document_of(changed)
        if prop not in MOVES or document is None or document.Restoring or document.Transacting \
                or is_repair(changed):
            return
        for repair in repairs_of(document):
            if _carries(changed, repair.Hull) or changed in repair.InListRecursive:
                plies.place(repair)

    def slotStartSaveDocument(self, document, path):
        for repair in repairs_of(document):
            plan_store.make_light(repair)

    def slotRecomputedDocument(self, document):
        tidy(document)


def tidy(document):
    """After a recompute: what could not be planned is tried again at the next one, all else is up to date."""
    for repair in repairs_of(document):
        if repair.PlanState.startswith(REFUSED):
            repair.touch()
        elif repair.isValid():
            for each in (repair, *repair.OutListRecursive):
                if each.isDerivedFrom("App::DocumentObjectGroup"):
                    each.purgeTouched()


def _carries(changed, thing):
    """Whether a thing goes where another one goes: nested in it, or a link to it."""
    return thing is not None and changed in (thing, *thing.InListRecursive, thing.getLinkedObject(True))


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)


def is_repair(candidate):
    return isinstance(getattr(candidate, "Proxy", None), Repair)


def repairs_of(document):
    return [each for each in document.Objects if is_repair(each)]
