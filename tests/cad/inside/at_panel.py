"""The panel of a repair, opened and worked in by hand."""
import FreeCADGui

import hand
from window import panel, settle, wait_until, widget


def open_panel(repair):
    FreeCADGui.Selection.clearSelection()
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Edit")
    wait_until(panel, "the panel")
    settle(0.6)


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
