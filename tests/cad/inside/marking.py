"""Marking with the screen's own mouse and keys: undone point by point, left by Escape, nothing left behind:
see ../workbench_window_test.py."""
import FreeCAD
import FreeCADGui
from PySide import QtCore, QtGui

import hand
import sample_repair
import window
from at_panel import go_on_marking, new_repair, planned, press_widget
from at_view import a_click_selects
from sample_repair import parts
from tearline_cad.view import colours
from window import check, panel, picture, press, settle, wait_until

Vector = FreeCAD.Vector
POINTS = sample_repair.vectors(sample_repair.OUTLINE)
NEAR = 3  # [pixels] between a click and where its point is seen
BESIDE = Vector(2700, 1025, 1200)  # over the sheer: no hull there


def mark(eye, repair, points):
    for point in points:
        eye.click(point)
    check(len(repair.Outline) == len(points), f"{len(points)} clicks, {len(repair.Outline)} points")


def undo_while_marking(document, eye, repair):
    """Control and Z take back the point marked last; the panel stays and what follows can be marked."""
    mark(eye, repair, POINTS[:6])
    planned(repair)
    for count in (5, 4, 3):
        hand.key("z", "Control_L")
        settle(0.2)
        check(len(repair.Outline) == count, f"{len(repair.Outline)} points where {count} are left")
        check(panel() is not None and panel().marker is not None, "it is still being marked")
    hand.key("z", "Control_L", "Shift_L")
    settle(0.2)
    check(len(repair.Outline) == 4, "redone")
    hand.key("z", "Control_L")
    settle(0.2)
    picture("20-undone-while-marking")
    mark_count = len(repair.Outline)
    for point in POINTS[mark_count:]:
        eye.click(point)
    check(len(repair.Outline) == 9, "the marking went on")
    planned(repair)


def escape_steps_back(document, eye, repair):
    start = Vector(repair.Outline[2])
    hand.move(eye.at(start))
    hand.press()
    for step in range(1, 6):
        hand.move(eye.at(start + Vector(8 * step, 0, 4 * step)))
    check(repair.Outline[2].distanceToPoint(start) > 20, "the point is being dragged")
    hand.key("Escape")
    hand.release()
    settle(0.2)
    check(repair.Outline[2].distanceToPoint(start) < 1e-9, "Escape takes the drag back")
    check(panel() is not None and panel().marker is not None, "and the marking goes on")
    hand.key("Escape")
    settle(0.2)
    check(panel() is not None and panel().marker is None, f"the next one ends the marking: {panel()}, {QtGui.QApplication.focusWidget()}")
    a_click_selects(eye, document.getObject("Curlew"))


def cursor(eye):
    """A cross over the hull, forbidden beside it."""
    hand.move(eye.at(Vector(3050, 1010, 420)))
    settle(0.15)
    hand.move(eye.at(Vector(3052, 1010, 420)), 0.15)
    check(eye.port.cursor().shape() == QtCore.Qt.CrossCursor, "marking looks allowed on the hull")
    camera = eye.view.getCameraNode()
    camera.height = 3200
    settle(0.2)
    hand.move(eye.at(BESIDE), 0.15)
    hand.move(eye.at(BESIDE + Vector(30, 0, 0)), 0.15)
    check(eye.port.cursor().shape() == QtCore.Qt.ForbiddenCursor, "and forbidden beside it")
    camera.height = 800
    settle(0.2)


def undone_altogether(document, hull, eye):
    """Undone until the repair itself is gone: the panel goes with it and leaves nothing behind."""
    repair = new_repair(hull)
    mark(eye, repair, POINTS[:2])
    for _ in range(3):
        hand.move(eye.at(BESIDE))
        document.undo()
        settle(0.2)
    check(panel() is None and not FreeCADGui.Control.activeDialog(), "the panel has gone")
    check(FreeCADGui.activeDocument().getInEdit() is None, "nothing is being edited")
    a_click_selects(eye, document.getObject("Curlew"))


def not_through_another_body(document, eye, repair):
    wall = document.addObject("Part::Box", "Wall")
    wall.Length, wall.Width, wall.Height = 200, 5, 200
    wall.Placement.Base = Vector(3000, 1100, 300)
    document.recompute()
    count = len(repair.Outline)
    eye.click(Vector(3100, 1005, 420))
    check(len(repair.Outline) == count, "nothing is marked through another body")
    document.removeObject("Wall")


def press_first(eye, repair):
    """Where cloth is pressed down first is picked as other places are: one click marks it and nothing else."""
    count = len(repair.Outline)
    press_widget("Pick PressFirst")
    check(panel().strip.kind == "pick", panel().strip.kind)
    place = Vector(2700, 1015, 380)
    eye.click(place)
    settle(0.2)
    check(len(repair.PressFirst) == 1 and repair.PressFirst[0].distanceToPoint(place) < 20, f"{repair.PressFirst}")
    check(len(repair.Outline) == count, "it is no point of the damage")
    planned(repair)
    check("press_first" in repair.PlannedJob, "it is planned with")
    hand.key("z", "Control_L")
    settle(0.2)
    check(not repair.PressFirst, f"a step to undo: {repair.PressFirst}")
    hand.key("z", "Control_L", "Shift_L")
    settle(0.2)
    planned(repair)


def crossed(eye, repair):
    """An outline that crosses itself shows where."""
    outline = list(repair.Outline)
    outline[2], outline[5] = outline[5], outline[2]
    panel()._told("Outline", outline)
    wait_until(lambda: not panel().marker.draft.busy, "the outline")
    check(panel().marker.draft.words, "it is refused")
    check(panel().marker.draft.fault is not None, f"with its place: {panel().marker.draft.words}")
    picture("21-crossed")
    outline[2], outline[5] = outline[5], outline[2]
    panel()._told("Outline", outline)
    planned(repair)


def second_view(document, repair):
    """A second 3D view of the document is marked in as the first."""
    press("OK")
    settle(0.3)
    FreeCADGui.runCommand("Std_ViewCreate")
    settle(0.3)
    views = FreeCADGui.activeDocument().mdiViewsOfType("Gui::View3DInventor")
    check(len(views) == 2, "two views")
    go_on_marking(repair)
    FreeCADGui.runCommand("Std_TileWindows")
    settle(0.3)
    for view in views:
        window.look_at_port_chine(view)
    count = len(repair.Outline)
    for number, point in enumerate((Vector(2960, 1000, 380), Vector(2990, 1000, 300))):
        hand.View(views[number]).click(point)
        settle(0.2)
        check(len(repair.Outline) == count + 1 + number, f"marked in view {number}")
        eye, marked = hand.View(views[number]), Vector(repair.Outline[-1])
        missed = (eye.at(marked) - eye.at(point)).manhattanLength()
        check(missed <= NEAR, f"in a view higher than wide {marked} is seen {missed} pixels from where the mouse was")
        eye.drag(marked, marked + Vector(0, 0, 20))
        settle(0.2)
        check(len(repair.Outline) == count + 1 + number and repair.Outline[-1].distanceToPoint(marked) > 10,
              f"dragged in view {number}: {repair.Outline[-1]}")
    picture("22-two-views")
    press("Cancel")
    settle(0.3)
    check(len(repair.Outline) == count, "Cancel takes both back")


def points_off_the_hull(document, repair):
    """The hull's shape changes: points that lie beside it are shown, and moved onto it when that is wanted."""
    hull = document.getObject("Curlew")
    matrix = FreeCAD.Matrix()
    matrix.scale(1, 1.1, 1)  # 100 mm wider at the damage
    hull.Shape = hull.Shape.transformGeometry(matrix)
    document.recompute()
    check(repair.PlanState.startswith("Not planned"), repair.PlanState)
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Mark")
    wait_until(lambda: panel() and panel().marker and panel().marker.off, "points beside the hull")
    settle(0.6)
    picture("24-points-beside-the-hull")
    for view in FreeCADGui.activeDocument().mdiViewsOfType("Gui::View3DInventor"):
        seen = window.share_seen(view, list(repair.Outline), colours.OVER_LIMIT)
        at = [window.screen_place(view, point) for point in repair.Outline]
        check(seen == 1, f"the hull is wider than they are, and all of them are seen: {seen:.2f}, {at}")
    hand.click(hand.middle_of(window.widget("StripButton")))
    planned(repair)
    check(not panel().marker.off, "they lie on it")
    press("OK")
    settle(0.3)


def looked_at_alone(repair):
    """Marking hides the plies; Cancel with nothing changed shows them again."""
    ply = parts(repair, "ply")[-1].ViewObject.Proxy.node
    go_on_marking(repair)
    wait_until(lambda: ply.getNumChildren() == 0, "plies give way to the marking")
    press("Cancel")
    wait_until(lambda: ply.getNumChildren() > 0, "plies are back")


def main():
    window.tidy()
    document = window.new_document()
    hull = sample_repair.hull_object(document)
    view = window.fit(document)
    window.look_at_port_chine(view)
    eye = hand.View(view)
    undone_altogether(document, hull, eye)
    repair = new_repair(hull)
    cursor(eye)
    undo_while_marking(document, eye, repair)
    not_through_another_body(document, eye, repair)
    press_first(eye, repair)
    crossed(eye, repair)
    escape_steps_back(document, eye, repair)
    second_view(document, repair)
    looked_at_alone(repair)
    points_off_the_hull(document, repair)


window.run(main)
