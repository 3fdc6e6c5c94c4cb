"""A field for a figure: written with any unit of its kind, shown with its unit; empty where it is not
known, with what counts then in grey."""
from PySide import QtCore, QtGui

from tearline_cad.document import figures
from tearline_cad.document.words import tr

PAUSE = 500  # [ms] without a key before what is written counts
FAULT = "background: #fbe4de; color: #1c2730"


class Figure(QtGui.QLineEdit):
    """`on_change(value)` once a figure is written; a field that is left unreadable looks at fault and
    says why, and what was known before stays.

    unit      of the key, as document/figures.py knows it
    unknown   the value that stands for "not known"; None where there is always a figure
    """

    def __init__(self, unit, value, on_change, unknown=None, whole=False):
        super().__init__()
        self._unit, self._unknown, self._whole = unit, unknown, whole
        self._on_change = on_change
        self._timer = QtCore.QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(PAUSE)
        self._timer.timeout.connect(lambda: self._take(False))
        self.textEdited.connect(lambda *_: self._timer.start())
        self.editingFinished.connect(lambda: self._take(True))
        self.show_value(value)

    def show_value(self, value):
        """Shows a value that was set elsewhere."""
        self._value = self._stood = value
        self._timer.stop()
        self.setModified(False)
        self.setProperty("fault", "")
        self.setStyleSheet("")
        self.setText("" if value == self._unknown else figures.shown(value, self._unit))
        self.setCursorPosition(0)

    def being_written(self):
        """Whether somebody is at it, be its window the active one or not."""
        return self.isModified() and self.window().focusWidget() is self

    def focusOutEvent(self, event):
        """Whoever looks at another window has not left the field."""
        if event.reason() == QtCore.Qt.ActiveWindowFocusReason:
            event.accept()
            self.update()
        else:
            super().focusOutEvent(event)

    def _read(self):
        text = self.text().strip()
        if not text:
            if self._unknown is None:
                raise figures.Unclear(tr("a figure is needed here"))
            return self._unknown
        # In the unit that stood there when the writing began: what counted in a pause has not been shown.
        value = figures.read(text, self._unit, self._stood)
        if self._whole and value != int(value):
            raise figures.Unclear(tr("{}: a whole number", text))
        return int(value) if self._whole else value

    def _take(self, left):
        """What is written counts; `left`: the field is left, and shows it as it was understood."""
        self._timer.stop()
        if not self.isModified() and not self.property("fault"):
            return
        try:
            value = self._read()
        except figures.Unclear as unclear:
            if left:
                # What was readable on the way counts no longer: what stood there before does.
                if self._value != self._stood:
                    self._value = self._stood
                    self._on_change(self._stood)
                self.setProperty("fault", str(unclear))
                self.setStyleSheet(FAULT)
                QtGui.QToolTip.showText(self.mapToGlobal(self.rect().bottomLeft()), str(unclear), self)
            return
        changed = value != self._value
        if left:
            self.show_value(value)
        self._value = value
        if changed:
            self._on_change(value)


NONE = -1.0  # no figure of a pair is below 0


class Pair(QtGui.QWidget):
    """Two figures that go together, or none: `on_change([first, second])`, [] for none."""

    def __init__(self, unit, values, on_change, between):
        super().__init__()
        layout = QtGui.QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        self._on_change = on_change
        self.boxes = []
        for k in (0, 1):
            box = Figure(unit, NONE, lambda value, k=k: self._told(k, value), unknown=NONE)
            box.setMinimumWidth(40)
            self.boxes.append(box)
        layout.addWidget(self.boxes[0], 1)
        layout.addWidget(QtGui.QLabel(between))
        layout.addWidget(self.boxes[1], 1)
        self.show_value(values)

    def show_value(self, values):
        self._values = list(values) if len(values) == 2 else [NONE, NONE]
        for box, value in zip(self.boxes, self._values):
            box.show_value(value)

    def setPlaceholderText(self, texts):
        for box, text in zip(self.boxes, texts):
            box.setPlaceholderText(text)

    def _told(self, which, value):
        self._values[which] = value
        if NONE not in self._values:
            self._on_change(list(self._values))
        elif self._values == [NONE, NONE]:
            self._on_change([])
