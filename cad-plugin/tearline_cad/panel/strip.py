"""What goes on with a plan: one line and its reason, always in sight at the head of the panel."""
from PySide import QtGui

from tearline_cad.document.words import tr

# State: its paper and ink, the same in a light and in a dark window.
LOOKS = {"planned": "#dff0e2", "pick": "#efe6f6", "planning": "#e2ebf6", "missing": "#fdf3df", "stale": "#fdf3df",
         "refused": "#fbe4de"}
INK = "#1c2730"


class Strip(QtGui.QFrame):
    """`act()` follows a press on its button."""

    def __init__(self, act):
        super().__init__()
        self.setObjectName("PlanStrip")
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(6, 4, 6, 4)
        layout.setSpacing(2)
        head = QtGui.QHBoxLayout()
        self.state = QtGui.QLabel()
        self.state.setObjectName("PlanState")
        self.button = QtGui.QPushButton()
        self.button.setObjectName("StripButton")
        self.button.clicked.connect(lambda: act())
        self.bar = QtGui.QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(6)
        self.words = QtGui.QLabel()
        self.words.setObjectName("PlanWords")
        for label in (self.state, self.words):
            label.setWordWrap(True)
            label.setMinimumWidth(60)
            label.setSizePolicy(QtGui.QSizePolicy.Ignored, QtGui.QSizePolicy.Preferred)
        head.addWidget(self.state, 1)
        head.addWidget(self.button)
        # What is below stays where it is while a plan is made: a click must not miss.
        for part in (self.button, self.bar, self.words):
            policy = part.sizePolicy()
            policy.setRetainSizeWhenHidden(True)
            part.setSizePolicy(policy)
        self.words.setMinimumHeight(self.words.fontMetrics().lineSpacing())
        layout.addLayout(head)
        layout.addWidget(self.bar)
        layout.addWidget(self.words)
        self.kind = ""

    def tell(self, kind, words="", button="", fraction=None):
        """kind of LOOKS; what is said beside it; what the button does, none for ""."""
        heads = {"pick": tr("Pick a place"), "planned": tr("Planned"), "planning": tr("Planning"), "refused": tr("Refused"),
                 "missing": tr("Not planned yet"), "stale": tr("Out of date")}
        self.kind = kind
        self.state.setText(heads[kind])
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self.button.setText(button)
        self.button.setVisible(bool(button))
        self.bar.setVisible(fraction is not None)
        self.bar.setValue(int(100 * (fraction or 0)))
        self.setStyleSheet(f"#PlanStrip {{background: {LOOKS[kind]}; border: 1px solid #9aa3ad}}"
                           f"QLabel {{color: {INK}; background: transparent}}"
                           "#PlanState {font-weight: bold}")
        self.updateGeometry()
