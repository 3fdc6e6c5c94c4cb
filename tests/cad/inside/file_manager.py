"""A window of another program that a file can be dragged out of: python3 file_manager.py FILE X Y."""
import sys

try:
    from PySide2 import QtCore, QtGui, QtWidgets
except ImportError:
    from PySide6 import QtCore, QtGui, QtWidgets


def begun(what):
    """exec(), as PySide 2 calls it and PySide 6."""
    return what.exec_ if hasattr(what, "exec_") else what.exec


class File(QtWidgets.QLabel):
    def __init__(self, path):
        super().__init__("a file to drag")
        self._path = path
        self.setStyleSheet("background: #ffe9a8; border: 1px solid #604020")
        self.setAlignment(QtCore.Qt.AlignCenter)
        self.setWindowFlags(QtCore.Qt.X11BypassWindowManagerHint)

    def mouseMoveEvent(self, event):
        data = QtCore.QMimeData()
        data.setUrls([QtCore.QUrl.fromLocalFile(self._path)])
        drag = QtGui.QDrag(self)
        drag.setMimeData(data)
        taken = begun(drag)(QtCore.Qt.CopyAction | QtCore.Qt.MoveAction)
        print("dropped" if taken else "not taken", flush=True)


application = QtWidgets.QApplication(sys.argv[:1])
shown = File(sys.argv[1])
shown.setGeometry(int(sys.argv[2]), int(sys.argv[3]), 140, 40)
shown.show()
shown.raise_()
QtCore.QTimer.singleShot(200, lambda: print("shown", flush=True))
begun(application)()
