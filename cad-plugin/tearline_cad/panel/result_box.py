"""Live totals of a repair: what it takes, and what to heed."""
from PySide import QtGui

from tearline_cad.document.warning_lines import RANKS
from tearline_cad.panel import fields


def _mass(grams):
    return f"{grams / 1000:.2f} kg" if grams >= 1000 else f"{grams:.0f} g"


def _hardener(repair):
    """By mass where it is known, otherwise by volume: epoxy without its densities."""
    if repair.Hardener:
        return _mass(repair.Hardener)
    return f"{repair.HardenerVolume:.0f} mL" if repair.HardenerVolume else "see warnings"


# What it is called and how it is told; lengths and areas in FreeCAD's own units.
ROWS = [
    ("Plies", lambda repair: str(repair.PlyCount)),
    ("Thickness", lambda repair: repair.LaidThickness.UserString),
    ("Cloth to cut", lambda repair: repair.GlassArea.UserString),
    ("Glass", lambda repair: _mass(repair.Glass)),
    ("Resin", lambda repair: _mass(repair.Resin)),
    ("Hardener", lambda repair: _hardener(repair)),
    ("Topcoat", lambda repair: _mass(repair.Topcoat) if repair.Topcoat else "none"),
]

# Rank, paper and weight of a line: three looks for three ranks, the last as lists are.
LOOKS = (("stop", "#fbe4de", True), ("do", "#fdf3df", False))


def item_of(line):
    """A line of the list, looking as its rank does on the job sheet."""
    item = QtGui.QListWidgetItem(line)
    for rank, paper, bold in LOOKS:
        if line.startswith(RANKS[rank]):
            item.setBackground(QtGui.QColor(paper))
            item.setForeground(QtGui.QColor("#1c2730"))
            font = item.font()
            font.setBold(bold)
            item.setFont(font)
    return item


class ResultBox(QtGui.QWidget):
    def __init__(self, repair, stop):
        super().__init__()
        self.setWindowTitle("Plan")
        self.repair = repair
        layout = QtGui.QVBoxLayout(self)
        self.state = QtGui.QLabel()
        self.state.setObjectName("PlanState")
        self.state.setWordWrap(True)
        going = QtGui.QHBoxLayout()
        self.bar = QtGui.QProgressBar()
        self.bar.setRange(0, 100)
        self.stop = QtGui.QPushButton("Stop")
        self.stop.setObjectName("StopPlan")
        self.stop.clicked.connect(stop)
        going.addWidget(self.bar, 1)
        going.addWidget(self.stop)
        figures = QtGui.QFormLayout()
        self.figures = {}
        for name, _ in ROWS:
            self.figures[name] = QtGui.QLabel()
            self.figures[name].setObjectName("Total " + name)
            figures.addRow(name, self.figures[name])
        self.warnings = QtGui.QListWidget()
        self.warnings.setObjectName("Warnings")
        self.warnings.setWordWrap(True)
        fields.make_narrow(self.warnings)
        fields.make_narrow(self.bar)
        self.warnings.setFixedHeight(120)
        layout.addWidget(self.state)
        layout.addLayout(going)
        layout.addLayout(figures)
        layout.addWidget(QtGui.QLabel("To heed"))
        layout.addWidget(self.warnings)

    def tell(self, words, fraction):
        """What goes on; the totals follow the repair."""
        self.state.setText(words)
        self.bar.setEnabled(fraction is not None)
        self.stop.setEnabled(fraction is not None)
        self.bar.setValue(int(100 * fraction) if fraction is not None else 0)
        planned = bool(self.repair.PlannedJob)
        for name, shown in ROWS:
            self.figures[name].setText(shown(self.repair) if planned else "")
        if [self.warnings.item(k).text() for k in range(self.warnings.count())] != \
                list(self.repair.Warnings):
            self.warnings.clear()
            for line in self.repair.Warnings:
                self.warnings.addItem(item_of(line))
