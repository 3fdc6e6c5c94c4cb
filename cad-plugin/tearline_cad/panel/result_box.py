"""Live totals of a repair: what it takes, and what to heed."""
from PySide import QtCore, QtGui

from tearline_cad.document import figures, plan_store
from tearline_cad.document.warning_headings import with_heading
from tearline_cad.document.warning_lines import RANKS, in_order
from tearline_cad.document.words import tr
from tearline_cad.panel import fields


def _hardener(repair):
    """By mass where it is known, otherwise by volume: epoxy without its densities."""
    if repair.Hardener:
        return figures.mass_text(repair.Hardener)
    return f"{repair.HardenerVolume:.0f} mL" if repair.HardenerVolume else tr("see warnings")


def _area(repair):
    """Cloth as it is bought: square metres, where FreeCAD would tell a small repair in cm^2; or in feet and inches as set."""
    area = repair.GlassArea
    if area.getUserPreferred()[2].endswith("m^2"):
        return f"{area.Value / 1e6:.2f} m²"
    return area.UserString.replace("^2", "²")


# What it is called and how it is told; lengths in FreeCAD's own units.
ROWS = [
    ("Plies", lambda repair: str(repair.PlyCount)),
    ("Thickness", lambda repair: repair.LaidThickness.UserString),
    ("Cloth to cut", lambda repair: _area(repair)),
    ("Glass", lambda repair: figures.mass_text(repair.Glass)),
    ("Resin", lambda repair: figures.mass_text(repair.Resin)),
    ("Hardener", lambda repair: _hardener(repair)),
    ("Topcoat", lambda repair: figures.mass_text(repair.Topcoat) if repair.Topcoat else tr("none")),
]

# Rank, paper and weight of a line: three looks for three ranks, the last as lists are.
LOOKS = (("stop", "#fbe4de", True), ("do", "#fdf3df", False))
STALE = "color: #8a8f96; text-decoration: line-through"


def _item_of(warning):
    """A line of the list, looking as its rank does on the job sheet."""
    item = QtGui.QListWidgetItem(tr(RANKS[warning["rank"]]) + with_heading(warning["code"], warning["plain"]))
    for rank, paper, bold in LOOKS:
        if warning["rank"] == rank:
            item.setBackground(QtGui.QColor(paper))
            item.setForeground(QtGui.QColor("#1c2730"))
            font = item.font()
            font.setBold(bold)
            item.setFont(font)
    if warning.get("at"):
        item.setData(QtCore.Qt.UserRole, list(warning["at"]))
        item.setToolTip(tr("Click to look at its place"))
    return item


class ResultBox(QtGui.QWidget):
    """`fly(place)` when a warning that has a place on the hull is clicked."""

    def __init__(self, repair, fly):
        super().__init__()
        self.setObjectName("Result")
        self.repair, self._fly = repair, fly
        self._told = []
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(6, 4, 2, 6)
        totals = QtGui.QFormLayout()
        self.figures = {}
        for name, _ in ROWS:
            self.figures[name] = QtGui.QLabel()
            self.figures[name].setObjectName("Total " + name)
            totals.addRow(tr(name), self.figures[name])
        self.warnings = QtGui.QListWidget()
        self.warnings.setObjectName("Warnings")
        self.warnings.setWordWrap(True)
        self.warnings.setHorizontalScrollBarPolicy(QtCore.Qt.ScrollBarAlwaysOff)
        fields.make_narrow(self.warnings)
        self.warnings.setFixedHeight(120)
        self.warnings.itemClicked.connect(self._clicked)
        layout.addLayout(totals)
        layout.addWidget(QtGui.QLabel(tr("Warnings")))
        layout.addWidget(self.warnings)

    def _clicked(self, item):
        place = item.data(QtCore.Qt.UserRole)
        if place:
            self._fly(place)

    def tell(self, stale):
        """The totals as the repair has them; `stale`: of a plan that is out of date."""
        planned = bool(self.repair.PlannedJob)
        for name, shown in ROWS:
            self.figures[name].setText(shown(self.repair) if planned else "")
            self.figures[name].setStyleSheet(STALE if stale else "")
        if self._told != list(self.repair.Warnings):
            self._told = list(self.repair.Warnings)
            plan = plan_store.plan(self.repair)
            self.warnings.clear()
            for warning in in_order(plan["warnings"]) if plan else []:
                self.warnings.addItem(_item_of(warning))
        self.warnings.setEnabled(not stale)
