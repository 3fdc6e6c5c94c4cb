"""The sample's boat in a new document, and its 3D view, looked at and clicked into by hand."""
import FreeCAD
import FreeCADGui
from PySide import QtCore

import hand
import sample_repair
import window
from at_panel import answered, open_panel
from tearline_cad.view import redraw
from window import check, settle, wait_until

BARE = FreeCAD.Vector(3150, 1005, 470)  # of the hull, beside what the repair lays there
LAID = FreeCAD.Vector(2700, 960, 330)  # within the damage: plies lie there


def sample_boat():
    """(document, repair, view): the sample's repair, planned, in a tidy window."""
    window.tidy()
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    return document, repair, window.fit(document)


def at_the_panel():
    """(document, repair, view): the same, seen from port, its panel open and everything drawn."""
    document, repair, view = sample_boat()
    window.look_at_port_chine(view)
    open_panel(repair)
    answered()
    wait_until(lambda: not redraw.waiting(), "the first drawing")
    settle(0.3)
    return document, repair, view


def a_click_selects(eye, hull):
    """Nothing is left behind in a view: a click selects what it meets, and the cursor is as it was."""
    FreeCADGui.Selection.clearSelection()
    settle(0.1)
    eye.click(BARE)
    settle(0.3)
    names = [(each.Document.Name, each.Name) for each in FreeCADGui.Selection.getSelection()]
    check(names == [(hull.Document.Name, hull.Name)], f"a click selects the hull: {names}")
    check(eye.port.cursor().shape() == QtCore.Qt.ArrowCursor, "the cursor is the usual one")
    FreeCADGui.Selection.clearSelection()


def pick_a_ply(view):
    """The ply that a click at the damage chooses, and nothing else."""
    FreeCADGui.runCommand("Tearline_LookDamage")
    FreeCADGui.Selection.clearSelection()
    settle(0.4)
    hand.View(view).click(LAID)
    settle(0.4)
    chosen = FreeCADGui.Selection.getSelection()
    check(len(chosen) == 1 and getattr(chosen[0], "Role", "") == "ply",
          f"a ply is chosen: {[each.Name for each in chosen]}")
    return chosen[0]
