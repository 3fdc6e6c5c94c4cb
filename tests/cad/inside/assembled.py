"""A hull inside an assembly (FreeCAD 1.0), or parts in parts (0.20): marked by clicks, moved, marked again: see
../workbench_daily_test.py."""
import FreeCAD

import hand
import sample_repair
import window
from at_panel import go_on_marking, new_repair, planned
from sample_repair import first_place
from tearline_cad.engine import client
from tearline_cad.view import redraw
from window import check, picture, press, settle, wait_until

Vector, Placement, Rotation = FreeCAD.Vector, FreeCAD.Placement, FreeCAD.Rotation
POINTS = sample_repair.vectors(sample_repair.OUTLINE)
PLACES = [Placement(Vector(500, -300, 200), Rotation(Vector(0, 0, 1), 35)),
          Placement(Vector(-800, 900, 0), Rotation(Vector(1, 2, 3), 25))]
NEAR = 6.0  # [mm] a click may miss by: a pixel is 0.7 mm, and the display mesh lies off the surface


def assembly(document):
    """What a boat is put together in."""
    try:
        import AssemblyApp  # FreeCAD 1.0
    except ImportError:
        return document.addObject("App::Part", "Assembly")
    del AssemblyApp
    made = document.addObject("Assembly::AssemblyObject", "Assembly")
    made.newObject("Assembly::JointGroup", "Joints")
    return made


def look(view, place):
    """At the damage, wherever the hull is."""
    window.look_at_port_chine(view)
    view.setCameraOrientation(place.Rotation * view.getCameraOrientation())
    camera = view.getCameraNode()
    camera.position = tuple(place.multVec(Vector(2790, 950, 320)) - view.getViewDirection() * 5000)
    settle(0.2)


def mark(document, hull, view, place):
    """Clicks on a hull that stands elsewhere are points in its own coordinates."""
    repair = new_repair(hull)
    look(view, place)
    eye = hand.View(view)
    for point in POINTS:
        eye.click(place.multVec(point))
    check(len(repair.Outline) == len(POINTS), f"{len(repair.Outline)} points of {len(POINTS)} clicks")
    for clicked, aimed in zip(repair.Outline, POINTS):
        check(clicked.distanceToPoint(aimed) < NEAR, f"{clicked} was aimed at {aimed} of the hull")
    planned(repair)
    press("OK")
    settle(0.3)
    return repair


def moved(document, repair, holder, inner, view, name):
    """The holder is moved: plies go along, nothing is asked of the engine, and the damage can be dragged there."""
    wait_until(lambda: not redraw.waiting(), "the plies' shapes")
    before, asked, stood = first_place(repair), client.engine()._number, holder.Placement * inner
    holder.Placement = PLACES[1]
    place = PLACES[1] * inner
    document.recompute()
    check(repair.PlanState == "Planned", repair.PlanState)
    check(client.engine()._number == asked, "nothing is asked of the engine")
    wanted = place.multVec(stood.inverse().multVec(before))
    check(first_place(repair).distanceToPoint(wanted) < 1e-6, "the plies are where the hull is")
    wait_until(lambda: not redraw.waiting(), "drawing")
    look(view, place)
    picture(name)
    drag(document, repair, view, place)


def drag(document, repair, view, place):
    go_on_marking(repair)
    eye, start = hand.View(view), Vector(repair.Outline[2])
    eye.drag(place.multVec(start), place.multVec(start + Vector(30, 0, 10)))
    settle(0.2)
    check(repair.Outline[2].distanceToPoint(start + Vector(30, 0, 10)) < NEAR, f"{repair.Outline[2]} from {start}")
    planned(repair)
    press("Cancel")
    settle(0.3)
    check(repair.Outline[2].distanceToPoint(start) < 1e-9, "Cancel takes it back")


def nested(document, view, hull):
    """The hull in a part in the assembly."""
    outer = assembly(document)
    inner = document.addObject("App::Part", "Port")
    inner.Placement = Placement(Vector(0, 0, 100), Rotation(Vector(0, 0, 1), 20))
    inner.addObject(hull)
    outer.addObject(inner)
    outer.Placement = PLACES[0]
    document.recompute()
    repair = mark(document, hull, view, PLACES[0] * inner.Placement)
    moved(document, repair, outer, inner.Placement, view, "63-in-an-assembly")
    return outer, repair


def linked(document, view, hull, outer, first):
    """A sister as a link in the assembly, as FreeCAD's own assemblies take in what they are made of."""
    link = document.addObject("App::Link", "Sister")
    link.LinkedObject = hull
    link.Placement = Placement(Vector(0, 5000, 0), Rotation())
    outer.addObject(link)
    outer.Placement = PLACES[0]
    document.recompute()
    first.ViewObject.Visibility = False
    repair = mark(document, link, view, PLACES[0] * link.Placement)
    check(repair.Hull is link, f"{repair.Hull.Label} is the hull")
    moved(document, repair, outer, link.Placement, view, "64-a-link-in-an-assembly")


def main():
    window.tidy()
    document = window.new_document()
    hull = sample_repair.hull_object(document)
    view = window.fit(document)
    outer, repair = nested(document, view, hull)
    linked(document, view, hull, outer, repair)


window.run(main)
