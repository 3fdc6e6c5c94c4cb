"""What is picked on the hull besides the damage: places that are properties, and tables each with its places."""
import re

from PySide import QtGui

from tearline_cad.document import keys, rims, survey, tables
from tearline_cad.document.words import tr
from tearline_cad.panel import fields
from tearline_cad.panel.elided import Button
from tearline_cad.panel.figure import Figure

NONE = -1.0  # no figure of these tables is below 0
NEAR = 80.0  # [mm] from the edge of an opening that a click may lie to mean it
ROUND = 30.0  # [mm] radius to begin with of an opening that the model does not have


def place_of(point):
    """A place as it stands in a job."""
    return [round(x, 3) for x in point]


def _unmarked(prop):
    """What the button of a property says that has no places."""
    return {"PressFirst": tr("the middle"), "SeenFrom": tr("from here")}.get(prop, tr("Mark..."))


class PlaceRow(QtGui.QWidget):
    """A property of places: a button to mark them, one to forget them."""

    def __init__(self, repair, prop, count, words, told, pick):
        super().__init__()
        self.repair, self.prop = repair, prop
        layout = QtGui.QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        self.button = Button()
        self.button.setObjectName("Pick " + prop)
        self.button.setToolTip(tr(words))
        self.button.clicked.connect(lambda: pick(tr(words), count, lambda points: told(prop, points)))
        self.none = QtGui.QToolButton()
        self.none.setText("–")
        self.none.clicked.connect(lambda: told(prop, []))
        layout.addWidget(self.button, 1)
        layout.addWidget(self.none)

    def follow(self):
        marked = len(getattr(self.repair, self.prop))
        self.button.setText(f"{marked} " + tr("marked") if marked else _unmarked(self.prop))
        self.none.setEnabled(marked > 0)


class PlacesForm(QtGui.QWidget):
    """The places that are properties, below each other."""

    def __init__(self, repair, props, told, pick):
        super().__init__()
        layout = QtGui.QFormLayout(self)
        layout.setContentsMargins(6, 0, 2, 4)
        self.rows = [PlaceRow(repair, prop, count, words, told, pick)
                     for prop, _, _, count, words in keys.PLACES if prop in props]
        fields.align([fields.add_row(layout, fields.words_of(row.prop), row, row.button.toolTip())
                      for row in self.rows])

    def follow(self):
        for row in self.rows:
            row.follow()


# Path: title, what to click, how many places (0: any number), which of its keys have fields.
KINDS = {
    survey.TAPE: ("Tapes", "Click where the tape begins and where it ends", 2, ["length", "laid"]),
    survey.CREASE: ("Chines", "Click along the chine in order, three places or more", 0, ["radius"]),
    survey.OPENING: ("Openings", "Click the edge of the opening, or the middle of a fitting", 1,
                     ["keep", "radius", "scarf_to", "clear", "slit"]),
    tables.GROUND_SCAN: ("Ground scan", "A scan of the place once it is ground out: its file", 0,
                         ["kind", "noise"]),
    tables.SCAN_AFTER: ("Scans between plies", "A scan of the cured work after a ply: its file", 0,
                        ["ply", "kind", "noise"]),
    tables.MARKS: ("Marks", "Click a place that can be found on the hull", 1, []),
}


_ENTRY = re.compile(r"(.+)\[(\d+)\]\.(\w+)")


def widget_of(path):
    """The name of what a refusal means that names a table, or a key of one: the field of it, or the button that makes
    one; "" where there is neither."""
    entry = _ENTRY.fullmatch(path)
    if entry and entry[1] in KINDS and entry[3] in KINDS[entry[1]][3]:
        return f"{KINDS[entry[1]][0]} {entry[2]} {entry[3]}"
    return f"Add {KINDS[path][0]}" if path in KINDS else ""


def _new(repair, path, points):
    """A table made of the places that were clicked."""
    if path == survey.TAPE:
        # What it reads is the person's to say: the scan's own distance would be a scale that nobody measured.
        return {"from": place_of(points[0]), "to": place_of(points[1])}
    if path == survey.CREASE:
        return {"points": [place_of(point) for point in points]}
    if path == tables.MARKS:
        return {"name": tables.new_mark(repair), "at": place_of(points[0])}
    found = rims.nearest_end(repair.Hull, points[0])
    if found and found[2] <= NEAR:
        return {"centre": place_of(rims.middle(found[0])), "keep": True}
    return {"centre": place_of(points[0]), "radius": ROUND, "keep": True}


class TableList(QtGui.QWidget):
    """Tables of one kind: a button that picks the places of one more, and fields of each."""

    def __init__(self, repair, path, told, pick):
        super().__init__()
        self.repair, self.path, self._told = repair, path, told
        title, words, count, self._names = KINDS[path]
        self.setObjectName("Tables " + title)
        self._title = title
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(6, 0, 2, 4)
        self.add = Button("+ " + tr(title))
        self.add.setObjectName("Add " + title)
        self.add.setToolTip(tr(words))
        self.add.clicked.connect(lambda *_: self._one_more())
        self._pick_one = lambda: pick(tr(words), count, self._picked)
        fields.begin_at_left(self.add)
        layout.addWidget(self.add)
        self._rows = QtGui.QVBoxLayout()
        layout.addLayout(self._rows)
        self._shown = None

    def _one_more(self):
        self._pick_one()

    def _remove(self, number):
        self._told("FurtherTables", tables.changed(self.repair, self.path, number, None))

    def _told_tables(self):
        """What the rows are made from."""
        return tables.all_of(self.repair, self.path)

    def _picked(self, points):
        if self.path == survey.CREASE and len(points) < 3:
            return
        self._told("FurtherTables", tables.with_one(self.repair, self.path, _new(self.repair, self.path, points)))

    def _change(self, number, name, value):
        told = tables.all_of(self.repair, self.path)[number]
        if value is None:
            told.pop(name, None)
        else:
            told[name] = value
        self._told("FurtherTables", tables.changed(self.repair, self.path, number, told))

    def _beside_fields(self, told):
        """Which keys of tables have no field."""
        return [sorted(set(each) - set(self._names)) for each in told]

    def follow(self):
        told = self._told_tables()
        if told == self._shown:
            return
        focused = self.findChildren(QtGui.QWidget) if self._shown is not None else []
        if any(each.hasFocus() for each in focused) and self._beside_fields(told) == self._beside_fields(self._shown):
            self._shown = told  # what is being written here needs no new fields
            return
        self._shown = told
        while self._rows.count():
            gone = self._rows.takeAt(0).widget()
            gone.setParent(None)
            gone.deleteLater()
        for number, each in enumerate(told):
            self._rows.addWidget(self._entry(number, each))

    def _entry(self, number, told):
        box = QtGui.QWidget()
        form = QtGui.QFormLayout(box)
        form.setContentsMargins(6, 2, 0, 2)
        form.setRowWrapPolicy(QtGui.QFormLayout.WrapLongRows)
        line = QtGui.QHBoxLayout()
        head = fields.said(line, self._head_of(number, told))
        line.setStretchFactor(head, 1)
        gone = QtGui.QToolButton()
        gone.setText("–")
        gone.setObjectName(f"Remove {self._title} {number + 1}")
        gone.clicked.connect(lambda *_: self._remove(number))
        line.addWidget(gone)
        form.addRow(line)
        labels = []
        for name in self._names:
            field = self._field(number, name, told.get(name))
            field.setObjectName(f"{self._title} {number + 1} {name}")
            fields.make_narrow(field)
            labels.append(fields.add_row(form, tr(name.replace("_", " ").capitalize()), field))
        fields.align(labels)
        return box

    def _head_of(self, number, told):
        return f"{tr(self._title)} {told.get('name', number + 1)}"

    def _field(self, number, name, value):
        key = keys.key("", "", f"{self.path}.{name}")

        def told(value):
            self._change(number, name, value)

        if key.kind == keys.WHOLE:
            box = Figure("", value or 1, told, whole=True)
        elif key.kind == keys.LENGTH:
            box = Figure(key.unit, fields.figure_in(value, key.unit, NONE),
                         lambda figure: told(None if figure == NONE else figure), NONE)
            if name == "length":
                box.setPlaceholderText(tr("not known"))
        elif key.kind == keys.BOOL:
            box = QtGui.QCheckBox()
            box.setChecked(bool(value))
            box.toggled.connect(lambda on: told(bool(on)))
        else:
            # Nobody but the person knows what a scan was made with, and the depth hangs on it.
            asked = [""] if name == "kind" and not value else []
            box = fields.choice([*asked, *key.start], value or (asked or key.start)[0], told)
        box.setToolTip(tr(key.meaning))
        return box


class Surveyed(QtGui.QWidget):
    """Fields of properties, places and tables that go together."""

    def __init__(self, name, parts):
        super().__init__()
        self.setObjectName(name)
        self.parts = parts
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for part in parts:
            layout.addWidget(part)

    def follow(self):
        for part in self.parts:
            part.follow()
