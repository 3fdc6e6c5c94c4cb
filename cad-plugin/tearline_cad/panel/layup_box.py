"""What is laid up: stack and covers, one line of text a ply, with a list of cloths to pick from."""
from PySide import QtGui

from tearline_cad.document import keys
from tearline_cad.panel import fields

LISTS = [
    ("Stack", "Plies in the order of laying, such as \"roving 600 @ 45 free 20\": cloth, degrees "
              "of its axis, degrees it may turn. Empty: filled by the next list"),
    ("Fill", "Laid in turn until the depth is full, where there is no stack"),
    ("Cover", "Plies above the surface, sanded back afterwards"),
]
OWN_CLOTH = '[[fabric]]\nname = "my mat"\nkind = "mat"\nweight = "380 g/m2"'


class LayupBox(QtGui.QWidget):
    def __init__(self, repair, on_change):
        super().__init__()
        self.setWindowTitle("Layup")
        layout = QtGui.QVBoxLayout(self)
        form = QtGui.QFormLayout()
        self._boxes = {}
        for name, meaning in LISTS:
            self._boxes[name] = fields.field(repair, name, keys.STRINGS, meaning, on_change)
            form.addRow(name, self._boxes[name])
        layout.addWidget(self._adder())
        layout.addLayout(form)
        layout.addWidget(fields.form(
            repair, fields.rows_of("LayOrder", "CoverStep", "LeastStep", "Position", "Copies"),
            on_change))
        own = fields.field(repair, "FurtherTables", keys.STRINGS,
                           "Cloths of your own, as in a job file:\n" + OWN_CLOTH, on_change)
        own.setPlaceholderText(OWN_CLOTH)
        layout.addWidget(QtGui.QLabel("Own cloths"))
        layout.addWidget(own)

    def _adder(self):
        """A cloth is picked and put at the end of a list."""
        row = QtGui.QWidget()
        layout = QtGui.QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        cloth, where = QtGui.QComboBox(), QtGui.QComboBox()
        cloth.setObjectName("ClothToAdd")
        cloth.setEditable(True)
        cloth.addItems(keys.CLOTHS)
        where.addItems([name for name, _ in LISTS])
        add = QtGui.QPushButton("Add")
        add.setObjectName("AddCloth")
        add.clicked.connect(
            lambda: self._boxes[where.currentText()].appendPlainText(cloth.currentText()))
        for widget in (cloth, where, add):
            fields.make_narrow(widget)
            layout.addWidget(widget)
        return row
