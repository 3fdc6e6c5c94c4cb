"""The workbench in FreeCAD's window; InitGui.py is executed without a place of its own."""
import os

import FreeCADGui

from tearline_cad.view.views import icon

PREFERENCES_PAGE = os.path.join(os.path.dirname(os.path.dirname(__file__)), "resources",
                                "preferences.ui")


def begin(workbench):
    """Commands, toolbars and menu, when the workbench is chosen for the first time."""
    from tearline_cad.commands import commands

    commands.register()
    workbench.appendToolbar("Tearline", commands.WORK)
    workbench.appendToolbar("Tearline view", commands.LOOK)
    workbench.appendToolbar("Tearline files", commands.OUT)
    workbench.appendMenu("Tearline", [*commands.WORK, "Separator", *commands.LOOK, "Separator",
                                      *commands.OUT])


def prepare():
    """What is there whether or not the workbench is chosen."""
    from tearline_cad.document import ask_plan
    from tearline_cad.window import pump, waiting

    pump.start()
    ask_plan.while_waiting = waiting.Waiting
    FreeCADGui.addIconPath(os.path.dirname(icon("tearline")))
    FreeCADGui.addPreferencePage(PREFERENCES_PAGE, "Tearline")
