"""The repair's panel that is open, if one is.

FreeCAD opens and closes it as it does any editing (`setEdit`, `unsetEdit` of the repair's view), so
that Escape, a double click elsewhere, closing the document and undoing the repair itself all end it.
"""
import FreeCAD
import FreeCADGui
from PySide import QtCore

from tearline_cad.document.belonging import document_of
from tearline_cad.panel import task
from tearline_cad.panel.repair_panel import RepairPanel

_current = None
_heard = False  # whether Delete is heard of
_wanted = {"marking": False, "begun": False}


def current():
    """The panel that is open, or None."""
    return _current


def open_panel(repair, marking=False, begun=False):
    """Opens the panel, unless another one is open; returns it.

    marking   whether it begins with the marking of the damage
    begun     whether the repair is being made: Cancel then takes it away altogether
    """
    _wanted.update(marking=marking, begun=begun)
    try:
        if FreeCADGui.Control.activeDialog() and _current is None:
            FreeCADGui.Control.showTaskView()
            return None
        FreeCADGui.getDocument(repair.Document.Name).setEdit(repair.Name)
    finally:
        _wanted.update(marking=False, begun=False)
    return _current


def edit(repair):
    """FreeCAD begins to edit a repair; whether it can."""
    global _current
    panel = task.open_panel(RepairPanel, repair, _ended, **_wanted)
    if panel is not None:
        _current = panel
        _hear_delete()
    return panel is not None


def _delete(*_):
    """FreeCAD's Delete does nothing to what is being edited: the panel is closed as by OK, and then it asks."""
    panel = _current
    if panel is not None and panel.repair in FreeCADGui.Selection.getSelection(panel.name):
        panel.accept()
        FreeCADGui.runCommand("Std_Delete")


def _hear_delete():
    """The key and the menu, once FreeCAD has answered them itself; it makes them after the commands."""
    global _heard
    if not _heard:
        for action in FreeCADGui.Command.get("Std_Delete").getAction():
            action.triggered.connect(lambda *_: QtCore.QTimer.singleShot(0, _delete))
            _heard = True


def leave():
    """FreeCAD ends the editing."""
    if _current is not None:
        _current.left()


def _ended():
    global _current
    _current = None


class _Watcher:
    """A document may be closed while its panel is open; told while its views are still there."""

    def slotDeletedDocument(self, document):
        if _current is not None and _current.name == document.Document.Name:
            _current.document_goes()


class _UndoWatcher:
    """Undoing follows in the panel; what it removes altogether closes it (`unsetEdit`)."""

    def _moved(self, document):
        if _current is not None and _current.name == document.Name \
                and document.getObject(_current.repair.Name) is not None:
            _current.undone()

    slotUndoDocument = slotRedoDocument = _moved

    def slotChangedObject(self, changed, prop):
        panel, document = _current, document_of(changed)
        if panel is not None and document is not None and not document.Transacting \
                and document.Name == panel.name and document_of(panel.repair) is document and changed.Name == panel.repair.Name \
                and panel.is_own(prop):
            QtCore.QTimer.singleShot(0, panel.changed_elsewhere)


_watcher, _undo_watcher = _Watcher(), _UndoWatcher()
FreeCADGui.addDocumentObserver(_watcher)
FreeCAD.addDocumentObserver(_undo_watcher)
