"""Cloths of one's own as a form: each is a [[fabric]] table among the further tables of the job."""
import re

from PySide import QtGui

from tearline_cad.document import figures, keys, tables, toml
from tearline_cad.document.words import tr
from tearline_cad.panel import fields
from tearline_cad.panel.figure import Figure

ROWS = ["weight", "glass_content", "thickness", "roll_width", "tear_margin", "lap", "strain_limit",
        "shear_limit", "least_radius"]
# What a kind of cloth has no use for.
NOT_OF = {"mat": {"lap", "shear_limit"}, "woven": {"tear_margin", "strain_limit"},
          "biaxial": {"tear_margin", "strain_limit"}}
HEAD = "[[fabric]]"
NONE = -1.0


def cloths_in(lines):
    """Names of the cloths in further tables."""
    return [tables.values(table).get("name", "") for table in tables.cut(lines) if table[0].strip() == HEAD]


class ClothForm(QtGui.QWidget):
    def __init__(self, repair, told):
        super().__init__()
        self.setObjectName("OwnCloths")
        self.repair, self._told = repair, told
        self._keys = {name: keys.key("", "", "fabric." + name) for name in ROWS}
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(6, 4, 2, 6)
        head = QtGui.QHBoxLayout()
        self.which = fields.Choice()
        self.which.setObjectName("OwnCloth")
        self.which.currentIndexChanged.connect(lambda *_: self._show())
        head.addWidget(self.which, 1)
        for text, tip, act in (("+", tr("A cloth of your own"), self._add),
                               ("–", tr("Take this cloth away"), self._remove)):
            button = QtGui.QToolButton()
            button.setText(text)
            button.setToolTip(tip)
            button.setObjectName("OwnCloth " + text)
            button.clicked.connect(act)
            head.addWidget(button)
        layout.addLayout(head)
        self.form = QtGui.QWidget()
        layout.addWidget(self.form)
        self._rows = QtGui.QFormLayout(self.form)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setRowWrapPolicy(QtGui.QFormLayout.WrapLongRows)
        self.name = fields.line("", lambda text: self._set("name", toml.text(text)))
        self.name.setObjectName("Cloth name")
        self.kind = fields.choice(["mat", "woven", "biaxial"], "mat",
                                  lambda kind: self._set("kind", toml.text(kind)))
        self.kind.setObjectName("Cloth kind")
        self._labels = []
        self._row(tr("Name"), self.name)
        self._row(tr("Kind"), self.kind)
        self.figures = {}
        for name, key in self._keys.items():
            box = Figure(key.unit, NONE, lambda value, name=name: self._figure(name, value), NONE)
            box.setObjectName("Cloth " + name)
            box.setToolTip(tr(key.meaning))
            self.figures[name] = box
            self._row(tr(name.replace("_", " ").capitalize()), box)
        fields.align(self._labels)
        self.follow()

    def _row(self, words, widget):
        fields.make_narrow(widget)
        self._labels.append(fields.add_row(self._rows, words, widget))

    # -- the lines -----------------------------------------------------------------------------

    def _split(self):
        """(tables of own cloths, the other tables)."""
        found = tables.cut(self.repair.FurtherTables)
        return ([table for table in found if table[0].strip() == HEAD],
                [table for table in found if table[0].strip() != HEAD])

    def _write(self, cloths, others):
        self._told("FurtherTables", [line for table in (*cloths, *others) for line in table])
        self.follow()

    def _add(self):
        cloths, others = self._split()
        taken = cloths_in(self.repair.FurtherTables)
        name = next(f"own mat {k}" for k in range(1, 1000) if f"own mat {k}" not in taken)
        self._write([*cloths, [HEAD, f"name = {toml.text(name)}", 'kind = "mat"',
                               'weight = "450 g/m2"']], others)
        self.which.setCurrentIndex(self.which.count() - 1)

    def _remove(self):
        cloths, others = self._split()
        if cloths:
            del cloths[self.which.currentIndex()]
            self._write(cloths, others)

    def _set(self, key, value):
        """Sets one key of the cloth that is shown; None takes it away."""
        cloths, others = self._split()
        if not cloths:
            return
        table = cloths[self.which.currentIndex()]
        lines = [line for line in table if not re.match(rf"\s*{key}\s*=", line)]
        table[:] = lines + ([f"{key} = {value}"] if value is not None else [])
        self._write(cloths, others)

    def _figure(self, name, value):
        written = self._keys[name].write(value)
        self._set(name, None if value == NONE else written)

    # -- the form ------------------------------------------------------------------------------

    def follow(self):
        """Shows what the property is now."""
        names = cloths_in(self.repair.FurtherTables)
        at = max(self.which.currentIndex(), 0)
        self.which.blockSignals(True)
        self.which.clear()
        self.which.addItems(names)
        self.which.setCurrentIndex(min(at, len(names) - 1))
        self.which.blockSignals(False)
        self._show()

    def _show(self):
        cloths, _ = self._split()
        self.form.setVisible(bool(cloths))
        if not cloths:
            return
        values = tables.values(cloths[self.which.currentIndex()])
        kind = values.get("kind", "mat")
        self.name.setText(str(values.get("name", "")))
        self.kind.blockSignals(True)
        self.kind.setCurrentIndex(self.kind.findData(kind))
        self.kind.blockSignals(False)
        for name, box in self.figures.items():
            if not (box.hasFocus() and box.isModified()):  # what is being written stays as it is
                box.show_value(fields.figure_in(values.get(name), self._keys[name].unit, NONE))
            box.setPlaceholderText(self._usual(name, kind))
            used = name not in NOT_OF.get(kind, ())
            box.setVisible(used)
            self._rows.labelForField(box).setVisible(used)

    def _usual(self, name, kind):
        key = self._keys[name]
        found = keys.defaults_of(key)
        value = found.get(kind, found.get(""))
        return tr("not known") if value is None else figures.shown(value, key.unit)
