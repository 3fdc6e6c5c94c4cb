"""Buttons and lists of a narrow panel. What one has no room to say it shortens with a mark that says so, and its tip
says the whole of it; buttons that do not fit beside each other stand below each other."""
from PySide import QtCore, QtGui

ROOM = 16  # [pixels] of a button beside its words, at the least: themes of FreeCAD's have more


class _Elided:
    """words() of the widget in the room() that it has for them."""

    def words_shown(self):
        return self.fontMetrics().elidedText(self.words(), QtCore.Qt.ElideRight, self.room())

    def event(self, event):
        if event.type() == QtCore.QEvent.ToolTip and self.words_shown() != self.words():
            told = "\n".join(filter(None, [self.words(), self.toolTip()]))
            QtGui.QToolTip.showText(QtGui.QCursor.pos(), told, self)
            return True
        return super().event(event)


class Button(_Elided, QtGui.QPushButton):
    """Takes what width there is."""

    def __init__(self, words=""):
        super().__init__(words)
        self.setMinimumWidth(ROOM)
        self.setSizePolicy(QtGui.QSizePolicy.Ignored, self.sizePolicy().verticalPolicy())

    def words(self):
        return self.text()

    def room(self):
        return self.width() - self.beside()

    def beside(self):
        """[pixels] that are not its words'."""
        words = self.style().subElementRect(QtGui.QStyle.SE_PushButtonContents, self._option(), self)
        return max(ROOM, self.width() - words.width())

    def _option(self):
        option = QtGui.QStyleOptionButton()
        self.initStyleOption(option)
        return option

    def paintEvent(self, event):
        option = self._option()
        option.text = self.words_shown()
        QtGui.QStylePainter(self).drawControl(QtGui.QStyle.CE_PushButton, option)


class List(_Elided, QtGui.QComboBox):
    """One of several words."""

    def words(self):
        return self.currentText()

    def _option(self):
        option = QtGui.QStyleOptionComboBox()
        self.initStyleOption(option)
        return option

    def room(self):
        return self.style().subControlRect(QtGui.QStyle.CC_ComboBox, self._option(),
                                           QtGui.QStyle.SC_ComboBoxEditField, self).width() - 2

    def paintEvent(self, event):
        option, painter = self._option(), QtGui.QStylePainter(self)
        painter.drawComplexControl(QtGui.QStyle.CC_ComboBox, option)
        option.currentText = self.words_shown()
        painter.drawControl(QtGui.QStyle.CE_ComboBoxLabel, option)


class ButtonRow(QtGui.QWidget):
    """Buttons beside each other, below each other where one would be cut."""

    def __init__(self, buttons):
        super().__init__()
        self._buttons = buttons
        self._layout = QtGui.QBoxLayout(QtGui.QBoxLayout.LeftToRight, self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        for button in buttons:
            self._layout.addWidget(button, self._need(button))

    @staticmethod
    def _need(button):
        return button.fontMetrics().horizontalAdvance(button.text()) + button.beside()

    def resizeEvent(self, event):
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event):
        """Another theme has other room for words."""
        super().changeEvent(event)
        if event.type() == QtCore.QEvent.StyleChange:
            QtCore.QTimer.singleShot(0, self._arrange)

    def _arrange(self):
        need = sum(map(self._need, self._buttons)) + self._layout.spacing() * (len(self._buttons) - 1)
        fits = need <= self.width()
        self._layout.setDirection(QtGui.QBoxLayout.LeftToRight if fits else QtGui.QBoxLayout.TopToBottom)
