"""The hand at FreeCAD's tree."""
import FreeCADGui
from PySide import QtCore, QtGui

import hand
from window import settle


def tree():
    """FreeCAD's tree, in sight."""
    FreeCADGui.Control.showModelView()
    settle(0.2)
    return next(each for each in FreeCADGui.getMainWindow().findChildren(QtGui.QTreeWidget)
                if each.isVisible() and each.metaObject().className() == "Gui::TreeWidget")


def _items(item):
    for k in range(item.childCount()):
        yield item.child(k)
        yield from _items(item.child(k))


def place(label):
    """The place on the screen of what the tree calls that."""
    shown = tree()
    item = next(each for each in _items(shown.invisibleRootItem()) if each.text(0) == label)
    parent = item.parent()
    while parent is not None:
        parent.setExpanded(True)
        parent = parent.parent()
    shown.scrollToItem(item)
    settle(0.2)
    box = shown.visualItemRect(item)
    return shown.viewport().mapToGlobal(QtCore.QPoint(box.left() + 30, box.center().y()))


def click(label, times=1):
    hand.click(place(label), times=times)
    settle(0.3)


def chosen():
    """What is chosen in the tree."""
    return [each.text(0) for each in tree().selectedItems()]
