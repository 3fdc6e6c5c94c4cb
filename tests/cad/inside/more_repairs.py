"""Further ways through FreeCAD's window: see ../workbench_window_test.py."""
import os
import signal

import FreeCAD
import FreeCADGui
import Mesh
from PySide import QtCore, QtGui

import hand
import sample_repair
import window
from sample_repair import parts
from tearline_cad.document.take_hull import read_hull
from tearline_cad.engine import client
from tearline_cad.window import waiting
from window import check, panel, picture, press, settle, wait_until, widget


def lit(hull, view):
    """A hull is seen in its colour from outside and, as it has no deck, from within."""
    for look, place in (("viewBottom", (2700, 0, 0)), ("viewTop", (2700, 0, 0))):
        getattr(view, look)()
        view.fitAll()
        settle(0.4)
        seen = window.colour_at(view, place)
        check(min(seen) > 80, f"{hull.Label} from {look} is {seen}")


def take_freecads_own_mesh():
    """A mesh that FreeCAD read itself, alone in its document: 0.20 draws it black."""
    document = window.new_document()
    Mesh.insert(str(sample_repair.SAMPLES / "curlew.stl"), document.Name)
    view = window.fit(document)
    FreeCADGui.runCommand("Tearline_TakeHull")
    settle(0.2)
    lit(document.Objects[0], view)
    press("Cancel")
    FreeCAD.closeDocument(document.Name)
    settle(0.2)


def take_mesh(document):
    """A mesh file becomes the hull of a repair."""
    hull = read_hull(document, str(sample_repair.SAMPLES / "curlew.stl"), "mm")
    view = window.fit(document)
    lit(hull, view)
    FreeCADGui.runCommand("Tearline_TakeHull")  # nothing selected: the only mesh there is
    settle(0.2)
    press("OK")
    wait_until(panel, "the repair's panel")
    settle(0.3)
    return document.getObject("Repair"), hull, view


def mark_a_disc(repair, mouse):
    """The middle is clicked, the rim pulled."""
    widget("DamageShape").setCurrentText("disc")
    mouse.click((2700, 1025.5, 432.1))
    check(repair.Centred and repair.Centre.distanceToPoint(
        FreeCAD.Vector(2700, 1025.5, 432.1)) < 6, f"the middle was clicked: {repair.Centre}")
    marker = panel().marker
    wait_until(lambda: len(marker.handles()) == 2, "the rim's handle")
    rim = marker.handles()[1]
    check(abs(rim.distanceToPoint(repair.Centre) - repair.Radius.Value) < 1, "it lies on the rim")
    mouse.press(rim)
    mouse.move(rim + (rim - repair.Centre) * 0.25)
    wait_until(lambda: not marker.draft.busy, "the outline")
    mouse.release(rim + (rim - repair.Centre) * 0.25)
    check(97 < repair.Radius.Value < 103, f"80 mm pulled to 100: {repair.Radius}")
    check(widget("Radius").text() == repair.Radius.UserString, "the panel follows")
    picture("11-disc")


def in_inches(repair):
    """Fields and totals are in the units of FreeCAD's preferences."""
    wait_until(lambda: repair.PlanState == "Planned" and not panel().plan.busy, "the plan")
    check("mm" in widget("Depth").text(), widget("Depth").text())
    press("OK")
    FreeCAD.Units.setSchema(3)  # inches
    FreeCADGui.runCommand("Tearline_Edit")
    settle(0.2)
    check(" in" in widget("Depth").text(), widget("Depth").text())
    check("in" in widget("Total Thickness").text(), widget("Total Thickness").text())
    check(widget("Total Resin").text().endswith((" oz", " lb")), widget("Total Resin").text())
    hand.fill(widget("Depth"), "0.125")  # without a unit: inches, as they are shown
    wait_until(lambda: not panel().plan.busy and repair.PlyCount < 8, "a shallower plan")
    check(abs(repair.Depth.Value - 3.175) < 1e-9, f"0.125 in is 3.175 mm, not {repair.Depth.Value}")
    hand.fill(widget("Depth"), "3,5 mm")
    wait_until(lambda: not panel().plan.busy, "the plan")
    check(abs(repair.Depth.Value - 3.5) < 1e-9, f"a decimal comma, in mm: {repair.Depth.Value}")
    picture("23-inches")
    press("Cancel")
    settle(0.2)
    check(repair.Depth.Value == 6 and repair.PlyCount == 8 and repair.PlanState == "Planned",
          "Cancel takes everything back")
    FreeCAD.Units.setSchema(0)


def stop_a_recompute(document, repair):
    """A property is changed outside the panel: a dialog shows how far it is and stops it."""
    waiting.PATIENCE = 0.0
    stopped = []
    # Held until it was asked to stop: on a busy machine it would be through before the click is heard.
    engine = client.engine().pid
    os.kill(engine, signal.SIGSTOP)

    def stop():
        for dialog in QtGui.QApplication.topLevelWidgets():
            if dialog.objectName() == "TearlineWaiting" and dialog.isVisible() and not stopped:
                stopped.append(dialog.labelText())
                dialog.findChild(QtGui.QPushButton).click()
                QtCore.QTimer.singleShot(200, lambda: os.kill(engine, signal.SIGCONT))

    timer = QtCore.QTimer()
    timer.timeout.connect(stop)
    timer.start(5)
    plies, resin = repair.PlyCount, repair.Resin
    repair.Ratio = 14
    document.recompute()
    timer.stop()
    check(stopped and "Planning" in stopped[0], "the dialog was shown")
    check("stopped as asked" in repair.PlanState, repair.PlanState)
    check((repair.PlyCount, repair.Resin) == (plies, resin), "the plan from before stays")
    repair.Ratio = 12
    document.recompute()
    check(repair.isValid() and repair.PlanState == "Planned", repair.PlanState)


def pull_the_axes(repair, mouse):
    """An ellipse has a handle for each of its axes; the panel shows what was pulled."""
    marker = panel().marker
    wait_until(lambda: len(marker.handles()) == 3, "the handles of both axes")
    for number, name, other in ((1, "Length", "Height"), (2, "Height", "Length")):
        size, kept = getattr(repair, name).Value, getattr(repair, other).Value
        at = marker.handles()[number]
        reach = at.distanceToPoint(repair.Centre)
        check(abs(reach - size / 2) < 1, f"the handle of {name} lies on the rim")
        pulled = at + (at - repair.Centre) * (10 / reach)
        mouse.press(at)
        mouse.move(pulled)
        wait_until(lambda: not marker.draft.busy, "the outline")
        mouse.release(pulled)
        check(abs(getattr(repair, name).Value - size - 20) < 5, f"{name} pulled by 10 mm a side")
        check(getattr(repair, other).Value == kept, f"{other} stays")
        check(widget(name).text() == getattr(repair, name).UserString,
              f"the panel shows the {name}")


def a_second_one(document, repair, hull, mouse):
    """Another repair on the same hull, with woven cloth, so that shear has a scale as well."""
    FreeCADGui.Selection.addSelection(hull)
    FreeCADGui.runCommand("Tearline_TakeHull")
    settle(0.2)
    press("OK")
    wait_until(panel, "the second repair's panel")
    settle(0.3)
    second = document.getObject("Repair001")
    second.Fill = ["mat 450", "roving 600"]
    widget("DamageShape").setCurrentText("ellipse")
    mouse.click((2400, 1000, 420))
    pull_the_axes(second, mouse)
    wait_until(lambda: second.PlanState == "Planned" and not panel().plan.busy, "its plan")
    press("OK")
    second.Label = "Topside aft"
    FreeCADGui.Selection.addSelection(parts(second, "ply")[0])
    FreeCADGui.runCommand("Tearline_Strain")
    picture("12-two-repairs")
    check(repair.ViewObject.Picture == "Plies", "only the one selected shows strain")
    check([head for head, _ in widget("TearlineLegend").sections[:2]]
          == ["Cloth: shear", "Mat: strain"], "a scale for each")
    check(len(parts(repair, "ply")) == 8, "the first one is as it was")


def close_with_the_panel_open(document, repair):
    """The panel goes with its document, and the next one can be worked on."""
    FreeCADGui.Selection.clearSelection()
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Mark")
    settle(0.3)
    check(panel() is not None and panel().marker is not None, "the panel is open")
    FreeCAD.closeDocument(document.Name)
    settle(0.3)
    check(panel() is None and not FreeCADGui.Control.activeDialog(), "it is closed")
    again = window.new_document()
    again.addObject("Part::Box", "Box")
    again.recompute()
    settle(0.2)


def preferences():
    """The page is there, with the program's place and the formats."""
    seen = []

    def look():
        for dialog in QtGui.QApplication.topLevelWidgets():
            if isinstance(dialog, QtGui.QDialog) and dialog.isVisible():
                seen.extend(found.objectName() for name in ("program", "formats")
                            for found in dialog.findChildren(QtGui.QWidget, name))
                if seen:
                    picture("14-preferences")
                dialog.reject()
                return
        QtCore.QTimer.singleShot(300, look)  # it takes its time to open, and nothing else goes on until it closes

    QtCore.QTimer.singleShot(500, look)
    FreeCADGui.showPreferences("Tearline")
    check(sorted(seen) == ["formats", "program"], f"the preferences show {seen}")


def main():
    window.tidy()
    take_freecads_own_mesh()
    document = window.new_document()
    repair, hull, view = take_mesh(document)
    window.look_at_port_chine(view)
    mouse = window.Mouse(view)
    mark_a_disc(repair, mouse)
    in_inches(repair)
    stop_a_recompute(document, repair)
    a_second_one(document, repair, hull, mouse)
    preferences()
    close_with_the_panel_open(document, repair)


window.run(main)
