"""What a panel has no room to say: its own measures against those of its words."""
from PySide import QtCore, QtGui

import window

STYLE_ROOM = 4  # [pixels] of a style's own about the words of a button
NARROW = 244  # [pixels] that a panel has at least


def _words(widget):
    return widget.text().replace("&", "")


def _advance(widget, text):
    return widget.fontMetrics().horizontalAdvance(text)


def _cut_label(label):
    """A text of several lines has to have the height for them and room for its longest word."""
    if not label.text() or label.textFormat() == QtCore.Qt.RichText:
        return False
    if not label.wordWrap():
        return label.sizeHint().width() > label.width()
    if max(_advance(label, word) for word in label.text().replace("/", "/ ").split()) > label.width():
        return True
    return label.heightForWidth(label.width()) > label.height()


def cut_button(button):
    """By the room that the style, a theme of FreeCAD's too, leaves for its words."""
    option = QtGui.QStyleOptionButton()
    button.initStyleOption(option)
    room = button.style().subElementRect(QtGui.QStyle.SE_PushButtonContents, option, button)
    return _advance(button, _words(button)) > room.width()


def _cut_list(box):
    """One that says too much shortens it with a mark, and its tip says the whole of it."""
    option = QtGui.QStyleOptionComboBox()
    box.initStyleOption(option)
    style = box.style()
    field = style.subControlRect(QtGui.QStyle.CC_ComboBox, option, QtGui.QStyle.SC_ComboBoxEditField, box)
    if _advance(box, box.currentText()) <= field.width() - 2:
        return False
    tip = QtGui.QHelpEvent(QtCore.QEvent.ToolTip, QtCore.QPoint(5, 5), box.mapToGlobal(QtCore.QPoint(5, 5)))
    QtGui.QApplication.sendEvent(box, tip)
    shown = getattr(box, "words_shown", lambda: "")()
    return not (len(shown) > 4 and shown.endswith("…") and QtGui.QToolTip.text().startswith(box.currentText()))


def cut(form):
    """[what is said by it] of every widget in sight of a panel whose words are cut."""
    found = []
    for each in form.findChildren(QtGui.QWidget):
        if not each.isVisible():
            continue
        if isinstance(each, QtGui.QPushButton):
            short = _advance(each, _words(each)) + STYLE_ROOM > each.width() or cut_button(each)
        elif isinstance(each, (QtGui.QCheckBox, QtGui.QToolButton)):
            short = bool(each.text()) and each.sizeHint().width() > each.width()
        elif isinstance(each, QtGui.QLabel):
            short = _cut_label(each)
        elif isinstance(each, QtGui.QComboBox):
            short = _cut_list(each)
        else:
            continue
        if short:
            said = each.currentText() if isinstance(each, QtGui.QComboBox) else _words(each)
            found.append(f"{type(each).__name__} {each.objectName()}: {said} ({each.width()} x {each.height()})")
    return found


def check(form, whose):
    """The panel is as wide as its place and nothing in it is cut."""
    window.settle(0.3)
    place = form.parentWidget()
    while place is not None and not isinstance(place, QtGui.QScrollArea):
        place = place.parentWidget()
    right = form.mapTo(place.viewport(), QtCore.QPoint(form.width(), 0)).x()
    window.check(right <= place.viewport().width(), f"{whose}: {right} wide in {place.viewport().width()}")
    for area in form.findChildren(QtGui.QScrollArea):
        if isinstance(area, QtGui.QScrollArea):
            room = area.viewport()
            beyond = [f"{type(each).__name__} {each.objectName()} of {each.parentWidget().objectName()}" for each in area.widget().findChildren(QtGui.QWidget) if each.isVisible()
                      and each.mapTo(room, QtCore.QPoint(each.width(), 0)).x() > room.width()]
            window.check(not beyond, f"{whose}: beyond the panel's edge: {beyond}")
    window.check(not cut(form), f"{whose}: " + "; ".join(cut(form)))
