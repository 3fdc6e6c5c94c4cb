"""The workbench in FreeCAD's window; InitGui.py is executed without a place of its own.

FreeCAD loads this at every start, so what is heavy is imported where it is first needed.
"""
import os

import FreeCAD
import FreeCADGui

from tearline_cad.document import ask_plan, looks
from tearline_cad.view import editing, icons, language
from tearline_cad.window import pump, waiting

LANGUAGES = os.path.join(os.path.dirname(icons.FOLDER), "translations")
PREFERENCES_PAGE = os.path.join(os.path.dirname(icons.FOLDER), "preferences.ui")


def begin(workbench):
    """Commands, toolbars and menu, when the workbench is chosen for the first time."""
    from tearline_cad.commands import commands

    commands.register()
    # FreeCAD translates names of toolbars and menus by the context "Workbench".
    workbench.appendToolbar("Tearline", commands.WORK)
    workbench.appendToolbar("Tearline view", commands.LOOK)
    workbench.appendToolbar("Tearline files", commands.OUT)
    workbench.appendMenu("Tearline", [*commands.WORK, "Separator", *commands.LOOK, "Separator",
                                      *commands.OUT])


def _dress(made):
    from tearline_cad.view import dress

    dress.dress(made)


def _edit(repair):
    from tearline_cad.panel import open_repair

    return open_repair.edit(repair)


def _leave():
    from tearline_cad.panel import open_repair

    open_repair.leave()


def _redraw_all():
    from tearline_cad.document.repair import repairs_of
    from tearline_cad.view import redraw

    for document in FreeCAD.listDocuments().values():
        for repair in repairs_of(document):
            if repair.ViewObject is not None:
                redraw.redraw_soon(repair)


def prepare():
    """What is there whether or not the workbench is chosen: a file may hold repairs. The rooms
    below are told here whom to call above them."""
    pump.start()
    ask_plan.while_waiting = waiting.Waiting
    looks.dress = _dress
    editing.edit, editing.leave = _edit, _leave
    FreeCADGui.addLanguagePath(LANGUAGES)
    FreeCADGui.updateLocale()
    language.follow(_redraw_all)
    FreeCADGui.addIconPath(icons.FOLDER)
    FreeCADGui.addPreferencePage(PREFERENCES_PAGE, "Tearline")
