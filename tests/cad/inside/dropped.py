"""Job files dropped onto FreeCAD's window out of another program's: see ../workbench_daily_test.py."""
import os
import pathlib
import queue
import subprocess
import tempfile
import threading

import FreeCAD
import FreeCADGui
from PySide import QtCore, QtGui

import hand
import window
from sample_repair import SAMPLES, parts
from tearline_cad.document.repair import repairs_of
from window import check, picture, settle, wait_until

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tearline-test-"))
CORNER = QtCore.QPoint(1230, 700)  # of the screen, where nothing is dropped


class FileManager:
    """A program beside FreeCAD with one file in its window."""

    def __init__(self, path):
        environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
        self._told = queue.Queue()
        self._process = subprocess.Popen(
            ["/usr/bin/python3", str(pathlib.Path(__file__).parent / "file_manager.py"), str(path),
             str(CORNER.x()), str(CORNER.y())], stdout=subprocess.PIPE, text=True, env=environment)
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self):
        for line in self._process.stdout:
            self._told.put(line.strip())

    def __enter__(self):
        self.wait_for("shown")
        return self

    def __exit__(self, *_):
        self._process.kill()
        self._process.wait()

    def wait_for(self, word):
        wait_until(lambda: not self._told.empty(), f"the file manager says {word}", 60)
        said = self._told.get()
        check(said == word, f"{said}, not {word}")


def drop(path, at):
    """Drags a file out of another program's window and lets it go at a place of the screen."""
    with FileManager(path) as manager:
        settle(0.2)
        hand.drag_and_drop(CORNER + QtCore.QPoint(70, 20), at)
        manager.wait_for("dropped")
    settle(0.3)


def middle_of_the_window():
    area = FreeCADGui.getMainWindow().findChild(QtGui.QMdiArea)
    return hand.middle_of(area)


def onto_the_empty_window():
    """With no document open it makes one."""
    for name in list(FreeCAD.listDocuments()):
        FreeCAD.closeDocument(name)
    settle(0.3)
    drop(SAMPLES / "curlew.toml", middle_of_the_window())
    wait_until(lambda: FreeCAD.listDocuments(), "a document")
    document = FreeCAD.ActiveDocument
    wait_until(lambda: repairs_of(document) and repairs_of(document)[0].PlanState == "Planned", "its plan")
    repair = repairs_of(document)[0]
    check(len(parts(repair, "ply")) == repair.PlyCount > 0, "its plies are there")
    check(repair.Hull is not None and len(repair.Outline) == 9, "with hull and outline")
    settle(0.5)
    picture("62-dropped")
    return document


def onto_a_view(document):
    """Over the 3D view of a document it goes into that document, in one step to undo."""
    document.UndoMode = 1
    document.clearUndos()
    drop(SAMPLES / "cylinder.toml", middle_of_the_window())
    wait_until(lambda: len(repairs_of(document)) == 2, "a second repair")
    wait_until(lambda: repairs_of(document)[1].PlanState == "Planned", "its plan")
    check(len(FreeCAD.listDocuments()) == 1, "in the same document")
    document.undo()
    settle(0.3)
    check(len(repairs_of(document)) == 1, f"one step takes it back: {document.UndoNames}")


def what_cannot_be_taken(document):
    """Is said in one line, and leaves nothing behind."""
    broken = FOLDER / "broken.toml"
    broken.write_text("[hull\nmodel = 3")
    names = [each.Name for each in document.Objects]
    report = FreeCADGui.getMainWindow().findChild(QtGui.QTextEdit, "Report view")
    before = len(report.toPlainText())
    drop(broken, middle_of_the_window())
    wait_until(lambda: "broken.toml" in report.toPlainText()[before:], "what is wrong with it")
    said = report.toPlainText()[before:].strip().splitlines()
    check(len(said) == 1 and "Tearline: " in said[0] and "line 1" in said[0], f"{said}")
    check([each.Name for each in document.Objects] == names, "nothing is in the document")


def main():
    window.tidy()
    FreeCADGui.activateWorkbench("TearlineWorkbench")
    document = onto_the_empty_window()
    onto_a_view(document)
    what_cannot_be_taken(document)


window.run(main)
