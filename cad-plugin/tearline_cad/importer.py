"""Job files as FreeCAD opens, imports and exports files, or has them dropped into it."""
import os

import FreeCAD

from tearline_cad import api
from tearline_cad.document.repair import is_repair
from tearline_cad.document.words import tr


def open(path):  # the name that FreeCAD calls
    """A document of its own from a job file."""
    name = os.path.splitext(os.path.basename(path))[0]
    insert(path, FreeCAD.newDocument(name).Name)


def insert(path, name):
    """A repair from a job file, into an open document."""
    document = FreeCAD.getDocument(name)
    document.openTransaction(tr("Job file"))
    try:
        api.open_job(document, path)
        document.recompute()
    except api.NotPlanned as error:
        FreeCAD.Console.PrintError(f"Tearline: {error}\n")
    document.commitTransaction()


def export(things, path):
    """The job file of the repair among the chosen objects."""
    repairs = [each for each in things if is_repair(each)]
    if len(repairs) != 1:
        FreeCAD.Console.PrintError("Tearline: " + tr("choose one repair to write its job file") + "\n")
        return
    try:
        api.save_job(repairs[0], path)
    except Exception as error:  # incomplete or no hull: its words say which
        FreeCAD.Console.PrintError(f"Tearline: {error}\n")
