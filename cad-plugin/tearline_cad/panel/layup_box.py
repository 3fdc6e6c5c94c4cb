"""What is laid up: stack, fill and covers as tables, where cloth is pressed first, cloths of one's own."""
from PySide import QtGui

from tearline_cad.document import keys
from tearline_cad.panel import cloth_form, fields, places_box
from tearline_cad.panel.stack_table import StackTable

LISTS = [
    ("Stack", "Plies in the order of laying: cloth, degrees of its axis, degrees it may turn. "
              "Double-click to change, drag to order. Empty: filled by the next table"),
    ("Fill", "Laid in turn until the depth is full, where there is no stack"),
    ("Cover", "Plies above the surface, sanded back afterwards"),
]
ROWS = ["FillTo", "LayOrder", "CoverStep", "LeastStep", "Position", "Copies"]


class LayupBox(QtGui.QWidget):
    """`told(name, value)` after a change; `pick(words, count, on_picked)` when a place is to be clicked."""

    def __init__(self, repair, told, pick):
        super().__init__()
        self.setObjectName("Layup")
        self.repair = repair
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(0, 2, 0, 4)

        def cloths():
            return [*keys.CLOTHS, *cloth_form.cloths_in(repair.FurtherTables)]

        self.tables = [StackTable(repair, name, meaning, told, cloths) for name, meaning in LISTS]
        for table in self.tables:
            layout.addWidget(table)
        self.form = fields.Form("LayupForm", repair, ROWS, told)
        layout.addWidget(self.form)
        self.places = places_box.PlacesForm(repair, ("PressFirst",), told, pick)
        layout.addWidget(self.places)

    def follow(self):
        for table in self.tables:
            table.follow()
        self.form.follow()
        self.places.follow()
