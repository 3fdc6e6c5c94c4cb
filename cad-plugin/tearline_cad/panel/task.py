"""FreeCAD shows one task panel at a time."""
import FreeCADGui
from PySide import QtCore, QtGui

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
    """A panel with nothing to accept: one button, Close."""

    def getStandardButtons(self):
        button = QtGui.QDialogButtonBox.Close
        return plain(button)

    def reject(self):
        FreeCADGui.Control.closeDialog()
        return True


class OkCancelPanel:
    """A panel with OK and Cancel."""

    def getStandardButtons(self):
        buttons = QtGui.QDialogButtonBox.Ok | QtGui.QDialogButtonBox.Cancel
        return plain(buttons)
