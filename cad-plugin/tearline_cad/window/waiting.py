"""A plan that is waited for shows how far it is, and can be stopped."""
import time

import FreeCADGui
from PySide import QtCore, QtGui

from tearline_cad.document.words import tr
from tearline_cad.engine.client import engine

# [s] what is done sooner needs no dialog.
PATIENCE = 0.4


class Waiting:
    """Called again and again by whoever waits for `question`."""

    def __init__(self, question):
        self._question = question
        self._since = time.monotonic()
        self._dialog = None

    def tick(self):
        if self._dialog is None:
            if time.monotonic() - self._since < PATIENCE:
                return
            self._open()
        stage, fraction = self._question.progress
        self._dialog.setLabelText(tr("Planning") + (f": {stage}" if stage else ""))
        self._dialog.setValue(int(100 * fraction))
        QtGui.QApplication.processEvents()

    def _open(self):
        dialog = QtGui.QProgressDialog(tr("Planning"), tr("Stop"), 0, 100, FreeCADGui.getMainWindow())
        dialog.setObjectName("TearlineWaiting")
        dialog.setWindowTitle("Tearline")
        # Nothing else may be changed in the middle of a recompute.
        dialog.setWindowModality(QtCore.Qt.ApplicationModal)
        dialog.setMinimumDuration(0)
        dialog.setAutoClose(False)
        dialog.setAutoReset(False)
        dialog.canceled.connect(lambda: engine().cancel(self._question))
        dialog.show()
        self._dialog = dialog

    def close(self):
        if self._dialog is not None:
            self._dialog.canceled.disconnect()
            self._dialog.close()
            self._dialog.deleteLater()
            self._dialog = None
