"""The panel of a repair, opened and worked in by hand."""
import FreeCADGui
from PySide import QtCore, QtGui

import hand
from window import panel, settle, wait_until, widget


def open_panel(repair):
    FreeCADGui.Selection.clearSelection()
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Edit")
    wait_until(panel, "the panel")
    settle(0.6)


def answered():
    """What was asked of the engine has its answer, be it a refusal."""
    wait_until(lambda: not panel().plan.busy, "the plan")


def planned(repair):
    wait_until(lambda: not panel().plan.busy and repair.PlanState == "Planned", "the plan")


def press_widget(name):
    answered()
    settle(0.2)
    for _ in range(3):
        panel().form.reveal(widget(name))
        settle(0.1)
    hand.click(hand.middle_of(widget(name)))
    settle(0.3)


def _in_dialog(kind, act, after, tries=300):
    """act(dialog) in the next modal dialog of its kind, then its button is clicked; after() what follows."""
    def look():
        dialog = QtGui.QApplication.activeModalWidget()
        if dialog is None or not dialog.inherits(kind) or not dialog.isVisible():
            if tries:
                _in_dialog(kind, act, after, tries - 1)
            return
        act(dialog)
        after()
        hand.click(hand.middle_of(next(each for each in dialog.findChildren(QtGui.QPushButton)
                                       if each.isVisible() and each.text().replace("&", "") in ("Open", "OK"))))

    QtCore.QTimer.singleShot(200, look)


def choose_file(path, unit, then=""):
    """The dialogs that follow a press on a button: which file, the unit of its figures, and one to be closed."""
    def name(dialog):
        edit = dialog.findChild(QtGui.QLineEdit, "fileNameEdit")
        wait_until(edit.hasFocus, "the dialog's focus")
        settle(0.3)
        hand.key("a", "Control_L")
        hand.write(str(path))

    def choose(dialog):
        dialog.findChild(QtGui.QComboBox).setCurrentText(unit)

    _in_dialog("QFileDialog", name, lambda: _in_dialog("QInputDialog", choose, lambda: then and _in_dialog(
        then, lambda dialog: None, lambda: None)))
