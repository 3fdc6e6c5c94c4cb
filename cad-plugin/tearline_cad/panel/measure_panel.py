"""From a mark to the edges of the plies, to be found again on the boat by tape."""
import FreeCAD
from PySide import QtCore, QtGui

from tearline_cad.document import measure, survey, tables
from tearline_cad.document.words import tr
from tearline_cad.marking.place_pick import PlacePick
from tearline_cad.panel import fields, task
from tearline_cad.panel.elided import Button


def _told(length):
    return FreeCAD.Units.Quantity(length, FreeCAD.Units.Length).UserString


class MeasurePanel(task.ClosePanel):
    def __init__(self, repair):
        super().__init__(repair)
        self.repair = repair
        self._place, self._name, self.found = None, "", []
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(task.title(tr("Measure"), repair))
        layout = QtGui.QVBoxLayout(self.form)
        fields.said(layout, tr("Click a place on the hull that can be found on the boat, or choose a mark"))
        self._marks = {each.words: each.points[0] for each in survey.surveyed(repair) if each.kind == "mark"}
        self.which = fields.choice(["", *self._marks], "", self._chosen)
        self.which.setItemText(0, tr("the place clicked"))
        self.which.setObjectName("WhichMark")
        layout.addWidget(self.which)
        self.list = QtGui.QTreeWidget()
        self.list.setObjectName("Measured")
        self.list.setHeaderLabels([tr("Edge of ply"), tr("Along the hull"), tr("Straight")])
        self.list.setRootIsDecorated(False)
        self.list.setMinimumHeight(240)
        self.list.currentItemChanged.connect(lambda *_: self._show())
        layout.addWidget(self.list, 1)
        self.keep = Button(tr("Keep the place as a mark"))
        self.keep.setObjectName("KeepMark")
        self.keep.setEnabled(False)
        self.keep.clicked.connect(self._keep)
        layout.addWidget(self.keep)
        fields.said(layout, tr("Along the hull: a tape pulled straight over it to the nearest place of the edge"))
        self._pick = PlacePick(repair.Hull, self._clicked)

    def _chosen(self, name):
        if name:
            self._measure(self._marks[name], name)

    def _clicked(self, place):
        self.which.blockSignals(True)
        self.which.setCurrentIndex(0)
        self.which.blockSignals(False)
        self._measure(place, tr("from here"))

    def _measure(self, place, name):
        self._place, self._name = place, name
        self.found = measure.measured(self.repair, place)
        self.list.clear()
        for each in self.found:
            item = QtGui.QTreeWidgetItem(self.list, [
                f"{each.number}  {each.fabric}", tr("none") if each.along is None else _told(each.along),
                _told(each.straight)])
            item.setData(0, QtCore.Qt.UserRole, each.number)
        self.list.setCurrentItem(self.list.topLevelItem(0))
        for column in range(3):
            self.list.resizeColumnToContents(column)
        self.keep.setEnabled(name not in self._marks)

    def _show(self):
        item = self.list.currentItem()
        if item is None or self._place is None:
            return
        each = self.found[self.list.indexOfTopLevelItem(item)]
        way = each.way if each.way is not None else [tuple(self._place), tuple(each.place)]
        self._pick.show(self._place, self._name, [FreeCAD.Vector(*point) for point in way],
                        _told(each.along if each.along is not None else each.straight))

    def _keep(self):
        self.repair.Document.openTransaction(tr("Mark"))
        name = tables.new_mark(self.repair)
        self.repair.FurtherTables = tables.with_one(
            self.repair, tables.MARKS, {"name": name, "at": [round(x, 3) for x in self._place]})
        self.repair.Document.commitTransaction()
        self._marks[name] = self._place
        self.which.addItem(name, name)
        self.which.blockSignals(True)
        self.which.setCurrentIndex(self.which.count() - 1)
        self.which.blockSignals(False)
        self.keep.setEnabled(False)

    def reject(self):
        self._pick.close()
        return super().reject()


def open_panel(repair):
    return task.open_panel(MeasurePanel, repair)
