"""Where the damage is: marked by clicks on the hull, or as a disc or ellipse."""
from PySide import QtGui

from tearline_cad.document import keys
from tearline_cad.panel import fields

HINTS = {
    "points": "Click on the hull round the damage. Drag a point to move it; click beside the line "
              "to put one in between; right click or Delete takes a point away.",
    "disc": "Click the middle of the damage on the hull, then drag the point on the rim.",
    "ellipse": "Click the middle of the damage on the hull, then drag the two points on the rim.",
}
SIZES = {"points": ["Join"], "disc": ["Radius"], "ellipse": ["Length", "Height"]}


class DamageBox(QtGui.QWidget):
    """`on_change()` after a change here; `on_mark(bool)` when marking is switched."""

    def __init__(self, repair, on_change, on_mark):
        super().__init__()
        self.setWindowTitle("Damage")
        self.repair, self._on_change = repair, on_change
        layout = QtGui.QVBoxLayout(self)
        self.mark = QtGui.QPushButton("Mark on the hull")
        self.mark.setObjectName("MarkOnHull")
        self.mark.setCheckable(True)
        self.mark.toggled.connect(on_mark)
        self.hint = QtGui.QLabel()
        self.hint.setWordWrap(True)
        self.words = QtGui.QLabel()
        self.words.setObjectName("DraftState")
        self.words.setWordWrap(True)
        self.words.setStyleSheet("color: #961440")
        self._form = QtGui.QFormLayout()
        self._row("DamageShape", keys.ENUM, "How the damage is marked", self._shape_changed)
        self._sizes = {}
        for name, kind in (("Join", keys.ENUM), ("Radius", keys.LENGTH), ("Length", keys.LENGTH),
                           ("Height", keys.LENGTH)):
            self._sizes[name] = self._row(name, kind, "", on_change)
        for name, kind, meaning in fields.rows_of("Depth", "Side", "Ratio"):
            self._row(name, kind, meaning, on_change)
        clear = QtGui.QPushButton("Mark anew")
        clear.setObjectName("MarkAnew")
        clear.clicked.connect(self._clear)
        layout.addWidget(self.mark)
        layout.addWidget(self.hint)
        layout.addWidget(self.words)
        layout.addLayout(self._form)
        layout.addWidget(clear)
        self._show_shape()

    def _row(self, name, kind, meaning, on_change):
        widget = fields.field(self.repair, name, kind, meaning, on_change)
        self._form.addRow(fields.words_of(name), widget)
        return widget

    def _shape_changed(self):
        self._show_shape()
        self._on_change()

    def _show_shape(self):
        shape = self.repair.DamageShape
        self.hint.setText(HINTS[shape])
        for name, widget in self._sizes.items():
            for part in (widget, self._form.labelForField(widget)):
                part.setVisible(name in SIZES[shape])

    def _clear(self):
        self.repair.Outline = []
        self.repair.Centred = False
        self._on_change()

    def follow(self, words):
        """Sizes that were dragged in the view, and what the engine says to the outline."""
        self.words.setText(words)
        self.words.setVisible(bool(words))
        for name in ("Radius", "Length", "Height"):
            value = getattr(self.repair, name).Value
            if abs(self._sizes[name].property("rawValue") - value) > 1e-9:
                self._sizes[name].blockSignals(True)
                self._sizes[name].setProperty("rawValue", value)
                self._sizes[name].blockSignals(False)
