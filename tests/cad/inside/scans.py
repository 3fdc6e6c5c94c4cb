"""A scan with its dent, tapes and marks; openings and the hull's end by a click: see ../workbench_survey_test.py."""
import FreeCAD
import FreeCADGui
import numpy
import Part

import hand
import sample_repair
import window
from at_panel import new_repair, open_panel, planned, press_widget
from sample_repair import SAMPLES, parts
from tearline_cad import api
from tearline_cad.document import frames, plan_store, rims, survey, tables
from tearline_cad.view import redraw
from tearline_cad.view.picture import Picture
from window import check, panel, picture, press, settle, wait_until, widget

Vector = FreeCAD.Vector
# sample-models/scan_of_curlew.cpp: how deep the dent is.
DENT = 12.0


def lies_on_the_scan(repair):
    """A plan is told in true mm and the scan is a hundredth short: what lies on it is shown in the scan's own."""
    plan = plan_store.plan(repair)
    check(plan["scan"]["scale"] > 1.005, "the scan is out of scale")
    scan = numpy.array([(p.x, p.y, p.z) for p in frames.surface_of(repair.Hull).Points])
    for made in (*parts(repair, "ply"), *parts(repair, "outlines")):
        corners = numpy.array([tuple(vertex.Point) for vertex in made.Shape.Vertexes])[::20]
        off = max(numpy.sqrt(((scan - corner) ** 2).sum(axis=1)).min() for corner in corners)
        # Between two points of the scan, 12 mm apart, or over its dent; out of scale it would be 26 mm beside.
        check(off < 17, f"{made.Label} lies {off:.1f} mm off the scan")


def deviation(repair):
    FreeCADGui.runCommand("Tearline_Scan")
    wait_until(lambda: not redraw.waiting(), "drawing")
    FreeCADGui.runCommand("Tearline_LookDamage")  # beside the legend that is there now
    found = Picture(repair).deviation()
    deepest = -found.heights.min()
    noise = plan_store.plan(repair)["scan"]["noise_mm"]
    check(abs(deepest - DENT) < 3 * noise, f"the dent is {deepest:.1f} mm deep where it was made {DENT}")
    check(numpy.median(numpy.abs(found.heights)) < 3 * noise, "the rest lies on the fair surface")
    check(widget("TearlineLegend").sections[0][0] == "Scan off its fair surface", "the legend says so")
    picture("40-scan-deviation")
    FreeCADGui.runCommand("Tearline_Plies")


def pick_a_tape(document, repair, eye):
    """A tape's ends are clicked on the scan, its length is written; Escape picks nothing."""
    had = len(tables.all_of(repair, survey.TAPE))
    press_widget("Add Tapes")
    check(panel().strip.kind == "pick", panel().strip.kind)
    hand.key("Escape")
    settle(0.2)
    check(panel() is not None and panel().strip.kind != "pick", "Escape ends the picking, not the panel")
    press_widget("Add Tapes")
    start, end = Vector(2400, 1044, 520), Vector(2950, 1030, 520)
    eye.click(start)
    picture("41-picking-a-tape")
    eye.click(end)
    settle(0.3)
    told = tables.all_of(repair, survey.TAPE)
    check(len(told) == had + 1, f"{len(told)} tapes")
    check(Vector(*told[-1]["from"]).distanceToPoint(start) < 25, f"{told[-1]}")
    settle(0.3)
    wait_until(lambda: not panel().plan.busy, "a refusal")
    check("length: missing" in repair.PlanState, f"nobody has told yet what the tape reads: {repair.PlanState}")
    length = widget(f"Tapes {had + 1} length")
    check(length.text() == "" and length.styleSheet() != "", "its field is empty and asked for")
    settle(0.3)
    # What the two others say of the same way: 1.0098 times as long as the scan is.
    straight = Vector(*told[-1]["from"]).distanceToPoint(Vector(*told[-1]["to"]))
    hand.fill(widget(f"Tapes {had + 1} length"), f"{1.0098 * straight:.1f} mm")
    planned(repair)
    told = tables.all_of(repair, survey.TAPE)
    check(abs(told[-1]["length"] - 1.0098 * straight) < 0.1, f"{told[-1]}")
    picture("42-three-tapes")
    press_widget(f"Remove Tapes {had + 1}")
    check(len(tables.all_of(repair, survey.TAPE)) == had, "a tape can be taken away")


def pick_a_mark_and_bow(repair, eye):
    press_widget("Add Marks")
    eye.click(Vector(2500, 1043, 600))
    check([each["name"] for each in tables.all_of(repair, tables.MARKS)] == ["A"], "a mark is named A")
    press_widget("Pick BowPoints")
    eye.click(Vector(2450, 1043, 560))
    eye.click(Vector(2900, 1034, 560))
    check(len(repair.BowPoints) == 2, f"{repair.BowPoints}")
    planned(repair)
    check("bow_points" in repair.PlannedJob and "bow =" not in repair.PlannedJob, "two points replace the bow")
    picture("43-mark-and-bow")


def scan():
    document = window.new_document()
    repair = api.open_job(document, SAMPLES / "curlew-photo.toml")
    check((repair.ScanKind, len(tables.all_of(repair, survey.TAPE))) == ("photo", 2), "the scan's keys are read")
    view = window.fit(document)
    check(repair.PlanState == "Planned", repair.PlanState)
    lies_on_the_scan(repair)
    deviation(repair)
    open_panel(repair)
    panel().damage.mark.setChecked(True)
    FreeCADGui.runCommand("Tearline_LookDamage")
    view.getCameraNode().height = 800
    settle(0.3)
    eye = hand.View(view)
    pick_a_tape(document, repair, eye)
    pick_a_mark_and_bow(repair, eye)
    press("OK")
    settle(0.3)


def points_only():
    """Bare points are a hull as well, and can be clicked."""
    document = window.new_document()
    text = (SAMPLES / "curlew-photo.toml").read_text().replace("curlew-photo.ply", str(SAMPLES / "curlew-photo.xyz"))
    job = window.PICTURES / "points.toml"
    job.parent.mkdir(parents=True, exist_ok=True)
    job.write_text(text.replace('kind = "photo"', 'kind = "photo"\nseen_from = [2700, 4000, 600]'))
    repair = api.open_job(document, job)
    repair.Label = "Curlew, port topside"
    view = window.fit(document)
    check(repair.Hull.isDerivedFrom("Points::Feature"), repair.Hull.TypeId)
    check(repair.PlanState == "Planned", repair.PlanState)
    FreeCADGui.runCommand("Tearline_Scan")
    wait_until(lambda: not redraw.waiting(), "drawing")
    FreeCADGui.runCommand("Tearline_LookDamage")
    picture("44-points")
    from tearline_cad.marking.picking import Picker

    point = Vector(*tables.all_of(repair, survey.TAPE)[0]["from"])
    near = min(frames.surface_of(repair.Hull).Points, key=lambda each: each.distanceToPoint(point))
    found = Picker(view, repair.Hull).on_hull(tuple(view.getPointOnScreen(near)))
    check(found is not None and found.distanceToPoint(near) < 25, f"{found}")


def holed_hull(document):
    hull = sample_repair.hull_object(document)
    hole = Part.makeCylinder(40, 400, Vector(2700, 800, 480), Vector(0, 1, 0))
    hull.Shape = hull.Shape.cut(hole)
    document.recompute()
    return hull


def openings():
    """An opening is taken by a click at its edge, the hull's end by a click just beside it."""
    document = window.new_document()
    hull = holed_hull(document)
    view = window.fit(document)
    repair = new_repair(hull)
    window.look_at_port_chine(view)
    view.getCameraNode().height = 1300
    settle(0.3)
    eye = hand.View(view)
    widget("DamageShape").setCurrentIndex(widget("DamageShape").findData("disc"))
    eye.click(Vector(2760, 1029, 480))
    settle(0.2)
    check(repair.Centred and repair.Centre.distanceToPoint(Vector(2760, 1029, 480)) < 25, f"{repair.Centre}")
    wait_until(lambda: not panel().plan.busy, "a first plan")
    settle(0.5)
    hand.fill(widget("Radius"), "130 mm")
    wait_until(lambda: "opening" in repair.PlanState, "the engine asks what of the opening")
    press_widget("Add Openings")
    eye.click(Vector(2700, 1030, 525))
    told = tables.all_of(repair, survey.OPENING)
    check(len(told) == 1 and told[0]["keep"] is True, f"{told}")
    middle = Vector(*told[0]["centre"])
    check(abs(middle.x - 2700) < 2 and abs(middle.z - 480) < 2, f"the middle of the opening, not the click: {middle}")
    planned(repair)
    plan = plan_store.plan(repair)
    # Cut by a cylinder of 80 mm across the boat: along the hull at least that, at most that over the slope there.
    most = 80 / plan["frame"]["normal"][1]
    opening = plan["openings"][0]
    check(opening["in_model"], "it is the hull's own")
    check(all(79.5 < opening[size] < most + 2 for size in ("width_mm", "height_mm")), f"{opening}"[:200])
    check(all(region["holes"] for ply in plan["plies"] for region in ply["outlines_3d"]), "each ply goes round it")
    panel().damage.mark.setChecked(False)
    settle(0.5)
    picture("45-opening")
    at_the_end(document, hull, view, eye, repair)


def at_the_end(document, hull, view, eye, repair):
    panel().damage.mark.setChecked(True)
    widget("DamageShape").setCurrentIndex(widget("DamageShape").findData("points"))
    FreeCADGui.runCommand("Tearline_LookDamage")
    _, sheer, _ = rims.nearest_end(hull, Vector(2700, 1040, 830))
    camera = view.getCameraNode()
    camera.position = tuple(sheer - view.getViewDirection() * 5000)
    camera.focalDistance = 5000
    camera.height = 500
    settle(0.2)
    pixel = eye.at(sheer)
    for off in range(1, 8):  # the first pixel over the hull's end, to be meant all the same
        pixel.setY(eye.at(sheer).y() - off)
        if not panel().marker._eyes[0].picker.on_hull((0, 0)) and off >= 4:
            break
    hand.click(pixel)
    settle(0.3)
    check(len(repair.Outline) == 1, f"{len(repair.Outline)} points")
    _, place, off = rims.nearest_end(hull, repair.Outline[0])
    check(off < 0.01, f"the point lies {off} mm off the hull's end")
    picture("46-end")
    press("Cancel")


def main():
    window.tidy()
    scan()
    points_only()
    openings()


window.run(main)
