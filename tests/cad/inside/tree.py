"""The repair and its plies in FreeCAD's tree, and a second document beside: see ../workbench_panel_test.py."""
import FreeCAD
import FreeCADGui
from PySide import QtGui

import hand
import sample_repair
import tree_hand
import window
from at_panel import answer, gone_and_undone, go_on_marking, open_panel
from at_view import a_click_selects, pick_a_ply, sample_boat
from sample_repair import parts
from tearline_cad.document import plan_store
from tearline_cad.view import redraw, sheet
from window import check, panel, picture, press, settle, wait_until

Vector = FreeCAD.Vector


def opened_by_a_double_click(repair):
    tree_hand.click("Port chine", times=2)
    wait_until(panel, "the panel")
    settle(0.5)
    title = panel().form.windowTitle()
    check(repair.Label in title, f"the panel names its repair: {title}")
    window.narrow(244)
    narrow = panel().form.width()
    window.narrow(520)
    wide = panel().form.width()
    check(narrow <= 244 and wide > 400, f"the panel is {narrow} wide in 244 pixels, {wide} in 520")
    window.narrow(330)
    press("Cancel")
    settle(0.3)
    check(panel() is None, "Cancel closes it")


def left_by_a_double_click_elsewhere(document, repair, view):
    """While the damage is being marked something else is edited: what was marked stays, and nothing is left behind."""
    box = document.addObject("Part::Box", "Cradle")
    box.Placement.Base = Vector(0, 3000, 0)
    document.recompute()
    go_on_marking(repair)
    points = len(repair.Outline)
    hand.View(view).click(Vector(2990, 1000, 380))
    check(len(repair.Outline) == points + 1, "a point is marked")
    tree_hand.click("Cradle", times=2)
    wait_until(lambda: panel() is None, "the panel goes")
    settle(0.5)
    FreeCADGui.Control.closeDialog()
    FreeCADGui.activeDocument().resetEdit()
    settle(0.3)
    check(len(repair.Outline) == points + 1, "what was marked stays")
    check(panel() is None, "the panel has gone")
    a_click_selects(hand.View(view), repair.Hull)
    document.undo()
    settle(0.3)
    document.removeObject("Cradle")
    wait_until(lambda: len(repair.Outline) == points, f"undone: {len(repair.Outline)} points, not {points}")


def picked_in_the_tree_and_in_the_view(repair, view):
    """A ply is one thing in both."""
    document = repair.Document
    document.recompute()
    wait_until(lambda: not redraw.waiting(), "drawing")
    for made in parts(repair, "ply")[:2]:
        tree_hand.click(made.Label)
        check(FreeCADGui.Selection.getSelection() == [made], f"{made.Label} is chosen: {FreeCADGui.Selection.getSelection()}")
    picture("65-picked-in-the-tree")
    made = pick_a_ply(view)
    check(tree_hand.chosen() == [made.Label], f"{made.Label} is chosen in the tree: {tree_hand.chosen()}")
    FreeCADGui.Selection.clearSelection()


def contrast(one, other):
    """WCAG 2's, of two colours."""
    def light(colour):
        linear = [x / 12.92 if x <= 0.03928 else ((x + 0.055) / 1.055) ** 2.4 for x in (each / 255 for each in colour)]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    low, high = sorted((light(one), light(other)))
    return (high + 0.05) / (low + 0.05)


def templates_on_light_and_dark(repair, view):
    """Before a white and a black background each line of a template is seen in the colour that the legend gives it."""
    preferences = FreeCAD.ParamGet("User parameter:BaseApp/Preferences/View")
    FreeCADGui.runCommand("Tearline_LookTemplates")
    made = parts(repair, "template")[0]
    piece = plan_store.plan(repair)["plies"][0]["pieces"][0]
    box = made.Shape.BoundBox
    camera = view.getCameraNode()
    camera.position = (box.Center.x, box.Center.y, 5000)
    camera.height = 1.3 * max(box.XLength, box.YLength)
    for name, background in (("light", 0xFFFFFFFF), ("dark", 0x000000FF)):
        preferences.SetUnsigned("BackgroundColor", background)
        settle(0.6)
        for kind in ("net", "tear"):
            colour = sheet.STYLES[kind][0]
            corners = [made.Placement.multVec(Vector(x, y, 0)) for x, y in piece[f"{kind}_line"][::5]]
            share = window.share_seen(view, corners, colour)
            # Dashes leave gaps of half their length; marks cross a line here and there.
            check(share > 0.4, f"{kind} line before a {name} background: {share:.2f} of it in its colour")
            check(contrast(colour, sheet.PAPER) > 4.5, f"{kind} line on its paper (WCAG 2)")
        picture(f"66-template-on-{name}")
    preferences.SetUnsigned("BackgroundColor", 0xFFFFFFFF)
    settle(0.3)
    FreeCADGui.runCommand("Tearline_LookDamage")


def deleted_under_its_panel(document, repair):
    """The Delete key in the tree, with the panel of the repair open."""
    open_panel(repair)
    tree_hand.click("Port chine")
    check(FreeCADGui.Selection.getSelection() == [repair], "it is chosen")
    asked = answer(QtGui.QMessageBox.Yes)
    hand.key("Delete")
    wait_until(lambda: document.getObject("Repair") is None, "the repair goes", 20)
    check(asked, "it is asked")
    settle(0.4)
    check(panel() is None and not FreeCADGui.Control.activeDialog(), "and its panel with it")
    return gone_and_undone(document)


def two_documents(document, repair):
    """While one document's damage is marked, another can be worked in, undone and closed."""
    go_on_marking(repair)
    other = window.new_document()
    hull = sample_repair.hull_object(other)
    view = window.fit(other)
    window.look_at_port_chine(view)
    other.openTransaction("Move")
    hull.Placement.Base = Vector(0, 0, 1)
    other.commitTransaction()
    a_click_selects(hand.View(view), hull)
    hand.key("z", "Control_L")
    settle(0.3)
    check(hull.Placement.Base.z == 0, "undone there")
    check(panel() is not None and panel().repair is repair, "and the panel is still open")
    points = len(repair.Outline)
    FreeCAD.closeDocument(other.Name)
    settle(0.4)
    check(panel() is not None and panel().marker is not None, "as it is once the other one is closed")
    FreeCAD.setActiveDocument(document.Name)
    settle(0.3)
    hand.View(FreeCADGui.getDocument(document.Name).activeView()).click(Vector(2990, 1000, 380))
    check(len(repair.Outline) == points + 1, "the marking goes on")
    press("Cancel")
    settle(0.3)


def main():
    document, repair, view = sample_boat()
    window.look_at_port_chine(view)
    opened_by_a_double_click(repair)
    left_by_a_double_click_elsewhere(document, repair, view)
    picked_in_the_tree_and_in_the_view(repair, view)
    templates_on_light_and_dark(repair, view)
    repair = deleted_under_its_panel(document, repair)
    window.look_at_port_chine(view)
    two_documents(document, repair)


window.run(main)
