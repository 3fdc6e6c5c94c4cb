"""FreeCAD shows one task panel at a time."""
import FreeCAD
import FreeCADGui
from PySide import QtCore, QtGui

from tearline_cad.document.belonging import document_of
from tearline_cad.window.shim import plain


def open_panel(make, *what, **how):
    """The panel make(*what, **how), opened; None where another one is open, which is shown instead."""
    if FreeCADGui.Control.activeDialog():
        FreeCADGui.Control.showTaskView()
        return None
    panel = make(*what, **how)
    FreeCADGui.Control.showDialog(panel)
    return panel


LONGEST = 160  # [pixels] of a panel's title: FreeCAD makes the panel as wide as that asks for


def title(words, named):
    """A panel's title with the name of what it is of, shortened."""
    font = QtGui.QFont(QtGui.QApplication.font())
    font.setBold(True)
    return QtGui.QFontMetrics(font).elidedText(f"{words}: {named.Label}", QtCore.Qt.ElideRight, LONGEST)


class ClosePanel:
    """A panel with nothing to accept: one button, Close. It closes by itself when what it is about goes.

    about   the object, or the document, of one that is about any
    """

    def __init__(self, about=None):
        global _shown
        in_document = hasattr(about, "Document")
        self._document = (about.Document if in_document else about).Name if about is not None else ""
        self._object = about.Name if in_document else ""
        _shown = self

    def is_about(self, document, thing=None):
        """Whether what goes, a document or an object in it, is what it is about."""
        return bool(self._document) and document.Name == self._document and \
            (thing is None or thing.Name == self._object)

    def getStandardButtons(self):
        button = QtGui.QDialogButtonBox.Close
        return plain(button)

    def reject(self):
        global _shown
        _shown = None
        FreeCADGui.Control.closeDialog()
        return True


_shown = None  # the panel to close that is open


class _DocumentWatcher:
    """Told while the views of the document are still there."""

    def slotDeletedDocument(self, document):
        if _shown is not None and _shown.is_about(document.Document):
            _shown.reject()


class _ObjectWatcher:
    def slotDeletedObject(self, gone):
        document, panel = document_of(gone), _shown
        if panel is not None and document is not None and panel.is_about(document, gone):
            QtCore.QTimer.singleShot(0, lambda: panel.reject() if _shown is panel else None)


_document_watcher, _object_watcher = _DocumentWatcher(), _ObjectWatcher()
FreeCADGui.addDocumentObserver(_document_watcher)
FreeCAD.addDocumentObserver(_object_watcher)


class OkCancelPanel:
    """A panel with OK and Cancel."""

    def getStandardButtons(self):
        buttons = QtGui.QDialogButtonBox.Ok | QtGui.QDialogButtonBox.Cancel
        return plain(buttons)
