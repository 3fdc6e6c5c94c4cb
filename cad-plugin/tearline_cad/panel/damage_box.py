"""Where the damage is: marked by clicks on the hull, or as a disc or ellipse."""
from PySide import QtGui

from tearline_cad.document.words import tr
from tearline_cad.panel import fields
from tearline_cad.panel.elided import Button, ButtonRow

HINTS = {
    "points": "Click on the hull round the damage. Drag a point to move it; click beside the line "
              "to put one in between; right click or Delete takes a point away; Escape steps back.",
    "disc": "Click the middle of the damage on the hull, then drag the point on the rim.",
    "ellipse": "Click the middle of the damage on the hull, then drag the two points on the rim.",
}
SIZES = {"points": ["Join", "OutlineRound"], "disc": ["Radius"], "ellipse": ["Length", "Height"]}
ROWS = ["DamageShape", "Join", "Radius", "Length", "Height", "OutlineRound", "Depth", "Side", "Ratio"]


class DamageBox(QtGui.QWidget):
    """`told(name, value)` after a change here; `on_mark(bool)` when marking is switched; `clear()`
    when all marks are to go."""

    def __init__(self, repair, told, on_mark, clear):
        super().__init__()
        self.setObjectName("Damage")
        self.repair = repair
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 4)
        self.mark = Button(tr("Mark on the hull"))
        self.mark.setObjectName("MarkOnHull")
        self.mark.setCheckable(True)
        self.mark.toggled.connect(on_mark)
        anew = Button(tr("Mark anew"))
        anew.setObjectName("MarkAnew")
        anew.clicked.connect(lambda: clear())
        self.hint = QtGui.QLabel()
        self.hint.setWordWrap(True)
        self.words = QtGui.QLabel()
        self.words.setObjectName("DraftState")
        self.words.setWordWrap(True)
        self.words.setStyleSheet("background: #fbe4de; color: #1c2730; padding: 3px")
        for label in (self.hint, self.words):
            label.setMinimumWidth(60)
            label.setSizePolicy(QtGui.QSizePolicy.Ignored, QtGui.QSizePolicy.Preferred)
        self.form = fields.Form("DamageForm", repair, ROWS, told, self._shows)
        layout.addWidget(ButtonRow([self.mark, anew]))
        layout.addWidget(self.hint)
        layout.addWidget(self.words)
        layout.addWidget(self.form)
        self.tell("")

    def _shows(self, name):
        others = {size for shape, sizes in SIZES.items() if shape != self.repair.DamageShape
                  for size in sizes}
        return name not in others

    def follow(self):
        self.form.follow()
        self.hint.setText(tr(HINTS[self.repair.DamageShape]))
        self.hint.setVisible(self.mark.isChecked())

    def tell(self, words):
        """What the engine says to the outline."""
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self.follow()
