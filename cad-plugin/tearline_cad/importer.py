"""Job files as FreeCAD opens, imports and exports files, or has them dropped into it."""
import os

import FreeCAD

from tearline_cad import api
from tearline_cad.document.repair import is_repair
from tearline_cad.document.words import tr


def take(path, document):
    """A repair from a job file in one step to undo. api.NotPlanned says why there is none; then nothing is left."""
    document.openTransaction(tr("Job file"))
    try:
        api.open_job(document, path)
    except api.NotPlanned:
        document.abortTransaction()
        raise
    document.recompute()
    document.commitTransaction()


def take_into_new(path):
    """The same in a document of its own."""
    document = FreeCAD.newDocument(os.path.splitext(os.path.basename(path))[0])
    try:
        take(path, document)
    except api.NotPlanned:
        FreeCAD.closeDocument(document.Name)
        raise


def open(path):  # the name that FreeCAD calls
    """A document of its own from a job file."""
    insert(path, "")


def insert(path, name):
    """A repair from a job file, into an open document; where a file is dropped and none is open, FreeCAD tells the
    name of none."""
    try:
        if name in FreeCAD.listDocuments():
            take(path, FreeCAD.getDocument(name))
        else:
            take_into_new(path)
    except api.NotPlanned as error:
        FreeCAD.Console.PrintError(f"Tearline: {error}\n")


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
