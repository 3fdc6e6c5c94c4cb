"""Tells when FreeCAD's language is switched: what is drawn with words follows."""
import FreeCADGui
from PySide import QtCore

_ear = None


class _Ear(QtCore.QObject):
    def __init__(self, on_switch):
        super().__init__()
        self._on_switch = on_switch

    def eventFilter(self, watched, event):
        if event.type() == QtCore.QEvent.LanguageChange:
            QtCore.QTimer.singleShot(0, self._on_switch)
        return False


def follow(on_switch):
    """`on_switch()` from now on; called once, by the workbench."""
    global _ear
    if _ear is None:
        _ear = _Ear(on_switch)
        FreeCADGui.getMainWindow().installEventFilter(_ear)
