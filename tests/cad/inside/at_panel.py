"""The panel of a repair, opened and worked in by hand."""
import FreeCADGui
from PySide import QtCore, QtGui

import hand
from sample_repair import parts
from window import check, panel, press, settle, wait_until, widget


def _choose(thing):
    FreeCADGui.Selection.clearSelection()
    FreeCADGui.Selection.addSelection(thing)


def open_panel(repair):
    _choose(repair)
    FreeCADGui.runCommand("Tearline_Edit")
    wait_until(panel, "the panel")
    settle(0.6)


def new_repair(hull):
    """A repair of a hull, its panel open and its damage to be marked."""
    _choose(hull)
    FreeCADGui.runCommand("Tearline_TakeHull")
    settle(0.2)
    press("OK")
    wait_until(panel, "the repair's panel")
    settle(0.5)
    return panel().repair


def go_on_marking(repair):
    _choose(repair)
    FreeCADGui.runCommand("Tearline_Mark")
    wait_until(lambda: panel() and panel().marker, "the marking")
    settle(0.5)


def answer(button):
    """Answers the question that will be asked, by the mouse; what was asked, once it is."""
    asked = []

    def look():
        for box in QtGui.QApplication.topLevelWidgets():
            if isinstance(box, QtGui.QMessageBox) and box.isVisible():
                asked.append(box.text())
                hand.click(hand.middle_of(box.button(button)))
                return
        QtCore.QTimer.singleShot(200, look)

    QtCore.QTimer.singleShot(300, look)
    return asked


def answered():
    """What was asked of the engine has its answer, be it a refusal."""
    wait_until(lambda: not panel().plan.busy, "the plan")


def planned(repair):
    wait_until(lambda: not panel().plan.busy and repair.PlanState == "Planned", "the plan")


def press_widget(name):
    answered()
    settle(0.2)
    for _ in range(3):
        panel().form.reveal(widget(name))
        settle(0.1)
    hand.click(hand.middle_of(widget(name)))
    settle(0.3)


def gone_and_undone(document):
    """A deleted repair has taken along all that it made; undone in one step it is whole again."""
    names = [each.Name for each in document.Objects]
    check(names == ["Curlew"], f"the hull alone is left: {names}")
    document.undo()
    settle(0.4)
    repair = document.getObject("Repair")
    check(repair is not None and len(parts(repair, "ply")) == repair.PlyCount, "undone in one step")
    return repair
