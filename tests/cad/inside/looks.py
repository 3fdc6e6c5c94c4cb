"""Figures and plies of an older plan, pictures, picking and deleting, with the screen's own mouse: see
../workbench_window_test.py."""
import FreeCADGui
from PySide import QtGui

import window
from at_panel import answer, answered, gone_and_undone, open_panel
from at_view import pick_a_ply, sample_boat
from window import check, panel, picture, press, settle, wait_until, widget


def old_figures(repair):
    """Under a refusal the figures of the older plan are struck through, after OK as well."""
    widget("ResinKind").setCurrentIndex(widget("ResinKind").findData("epoxy"))
    answered()
    settle(0.3)
    check(panel().strip.kind == "refused", panel().strip.kind)
    check("line-through" in widget("Total Resin").styleSheet(), "figures are struck through")
    picture("33-refused")
    press("OK")
    settle(0.5)
    check(repair.PlanState.startswith("Not planned"), repair.PlanState)
    check(repair.ViewObject.Proxy.getIcon().endswith("repair-refused.svg"), "the tree says so")
    legend = widget("TearlineLegend")
    wait_until(lambda: legend.sections[0][0] == "OUT OF DATE", "the legend says so")
    FreeCADGui.runCommand("Tearline_LookTemplates")
    picture("34-templates-out-of-date")
    FreeCADGui.runCommand("Tearline_LookDamage")
    picture("35-plies-out-of-date")
    repair.ResinKind = "polyester"
    repair.Document.recompute()
    wait_until(lambda: legend.sections[0][0] != "OUT OF DATE", "its colours are back")


def checkable(repair):
    FreeCADGui.runCommand("Tearline_Dish")
    settle(0.5)
    action = FreeCADGui.Command.get("Tearline_Dish").getAction()[0]
    check(action.isCheckable(), "pictures are checkable")
    wait_until(action.isChecked, "the picture that is shown is checked", 5)
    FreeCADGui.runCommand("Tearline_Plies")
    wait_until(lambda: not action.isChecked(), "and no longer once another is", 5)


def delete(document, repair):
    """Deleting asks, and takes along all that the repair made."""
    for button, left in ((QtGui.QMessageBox.No, True), (QtGui.QMessageBox.Yes, False)):
        FreeCADGui.Selection.clearSelection()
        FreeCADGui.Selection.addSelection(repair)
        asked = answer(button)
        FreeCADGui.runCommand("Std_Delete")
        settle(0.3)
        check(asked, "it is asked")
        check((document.getObject("Repair") is not None) == left, f"{left}")
    return gone_and_undone(document)


def delete_under_the_panel(document, repair):
    open_panel(repair)
    document.openTransaction("Delete")
    for made in document.Objects:
        if made.Name != "Curlew" and document.getObject(made.Name) is not None:
            document.removeObject(made.Name)
    document.commitTransaction()
    settle(0.4)
    check(panel() is None and not FreeCADGui.Control.activeDialog(), "the panel has gone with it")


def two_repairs(document, hull):
    """With two repairs none is guessed."""
    from tearline_cad.commands import selected
    from tearline_cad.document.repair import make_repair

    first, second = make_repair(document, hull), make_repair(document, hull)
    FreeCADGui.Selection.clearSelection()
    check(selected.repair() is None, "none is meant")
    FreeCADGui.Selection.addSelection(first)
    check(selected.repair() is first, "the one that is chosen is")
    del second


def main():
    document, repair, view = sample_boat()
    window.look_at_port_chine(view)
    open_panel(repair)
    old_figures(repair)
    checkable(repair)
    pick_a_ply(view)
    picture("36-picked")
    repair = delete(document, repair)
    delete_under_the_panel(document, repair)
    two_repairs(document, document.getObject("Curlew"))


window.run(main)
