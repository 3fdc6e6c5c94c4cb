"""Widgets for properties of a repair, one for each kind of key."""
import re

from PySide import QtCore, QtGui

from tearline_cad.document import figures, keys, properties
from tearline_cad.document.words import tr
from tearline_cad.panel.elided import Button, List
from tearline_cad.panel.figure import FAULT, Figure, Pair

# Words of a pair: what stands between its figures.
BETWEEN = {"HardenerParts": ":", "HardenerRange": "–", "TopcoatRange": "–"}
# Properties beside those of keys.KEYS: unit, and what stands for "not known".
OWN = {"Radius": ("mm", None), "Length": ("mm", None), "Height": ("mm", None),
       "GelTemperature": ("degrees Celsius", None), "GelPercent": ("%", None), "GelMass": ("g", None)}


class Choice(List):
    """A list that the wheel turns only when it is being worked on: else the panel scrolls."""

    def __init__(self):
        super().__init__()
        self.setFocusPolicy(QtCore.Qt.StrongFocus)
        self.setSizeAdjustPolicy(QtGui.QComboBox.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)

    def wheelEvent(self, event):
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


def choice(words, value, on_change):
    """A Choice of words; the job file's own, shown in FreeCAD's language."""
    box = Choice()
    for word in words:
        box.addItem(tr(word) if word else tr("not given"), word)
    box.setCurrentIndex(words.index(value))
    box.currentIndexChanged.connect(lambda index: on_change(words[index]))
    return box


def button(layout, words, action):
    """A button under its words, which are its name too."""
    made = Button(tr(words))
    made.setObjectName(words)
    made.clicked.connect(action)
    layout.addWidget(made)
    return made


def said(layout, text):
    """Words in as many lines as they need."""
    words = QtGui.QLabel(text)
    words.setWordWrap(True)
    make_narrow(words)
    layout.addWidget(words)
    return words


def state(layout, name):
    """Where a panel says how its work stands; what it says can be copied."""
    words = said(layout, "")
    words.setObjectName(name)
    words.setTextInteractionFlags(QtCore.Qt.TextSelectableByMouse)
    return words


def _truth(value, on_change):
    box = QtGui.QCheckBox()
    box.setChecked(value)
    box.toggled.connect(lambda checked: on_change(bool(checked)))
    return box


def line(value, on_change):
    """A line of text, told when it is left or Return is pressed."""
    box = QtGui.QLineEdit(value)
    box.editingFinished.connect(lambda: box.isModified() and (box.setModified(False),
                                                              on_change(box.text())))
    return box


def lines_box(value, on_change, rows=4):
    """One line of text for each word of a list."""
    box = QtGui.QPlainTextEdit("\n".join(value))
    box.setFixedHeight(box.fontMetrics().lineSpacing() * rows + 12)
    box.setTabChangesFocus(True)
    box.textChanged.connect(lambda: on_change(
        [line.strip() for line in box.toPlainText().splitlines() if line.strip()]))
    return box


def _key(name):
    return next((key for key in keys.KEYS if key.prop == name), None)


# What an empty figure means, where the meaning of its key says so behind "0:".
GREY = ["no core", "no kerfs", "no drops are shown", "not given", "not known", "not measured",
        "the usual", "the usual of its kind", "as its kind and noise ask"]


def _of_empty(key):
    told = re.search(r"[;.] 0: ([^,;.]+)", key.meaning) if key else None
    return tr(told[1] if told and told[1] in GREY else "not known")


def default_text(repair, name, default=None):
    """What counts where a figure is not known: the engine's default for this resin, or none."""
    key = _key(name)
    found = keys.defaults_of(key) if key else {}
    value = found.get(repair.ResinKind, found.get(""))
    if value is None:
        return _of_empty(key)
    if isinstance(value, list):
        return [figures.shown(each, key.unit) for each in value]
    if isinstance(value, str):
        return value
    return figures.shown(value, key.unit)


def figure_in(value, unit, none):
    """The figure of a value of the job, a number or a text with its unit; `none` where there is none."""
    if isinstance(value, (int, float)):
        return value
    try:
        return figures.read(value, unit) if value else none
    except figures.Unclear:
        return none


class Field:
    """A property's widget, that can follow it and says what counts where nothing is given."""

    def __init__(self, repair, name, kind, meaning, told):
        self.repair, self.name, self.kind = repair, name, kind
        self._told, self._quiet = told, False
        self.widget = self._made()
        self.widget.setObjectName(name)
        self.widget.setToolTip(tr(meaning))
        make_narrow(self.widget)
        self.follow()

    def _set(self, value):
        if not self._quiet:
            self._told(self.name, value)

    def _made(self):
        value, kind = getattr(self.repair, self.name), self.kind
        if kind in (keys.LENGTH, keys.FLOAT, keys.WHOLE):
            unit, unknown = self._unit()
            return Figure(unit, getattr(value, "Value", value), self._set, unknown,
                          kind == keys.WHOLE)
        if kind == keys.ENUM:
            return choice(self.repair.getEnumerationsOfProperty(self.name), value, self._set)
        if kind == keys.BOOL:
            return _truth(value, self._set)
        if kind == keys.NUMBERS:
            return Pair("parts" if self.name == "HardenerParts" else "%", list(value), self._set,
                        BETWEEN[self.name])
        if kind == keys.STRING:
            return line(value, self._set)
        if kind == keys.STRINGS:
            return lines_box(value, self._set)
        raise ValueError(f"no widget for {kind}")

    def _unit(self):
        if self.name in OWN:
            return OWN[self.name]
        key = _key(self.name)
        # 0 stands for "not told" where the engine's own default is another, or none.
        has_own = keys.start_value(key) == 0 and keys.defaults_of(key).get("", None) != 0
        return key.unit, (0 if has_own or key.prop == "Depth" else None)

    def follow(self):
        """Shows what the property is now."""
        self._quiet = True
        value, widget = getattr(self.repair, self.name), self.widget
        if isinstance(widget, Figure):
            plain = getattr(value, "Value", value)
            if not widget.being_written():
                widget.show_value(plain)
            widget.setPlaceholderText(str(default_text(self.repair, self.name)))
        elif isinstance(widget, Pair):
            if not any(box.being_written() for box in widget.boxes):
                widget.show_value(list(value))
            text = default_text(self.repair, self.name)
            widget.setPlaceholderText(text if isinstance(text, list) else [tr("none")] * 2)
        elif isinstance(widget, Choice):
            widget.setCurrentIndex(widget.findData(value))
        elif isinstance(widget, QtGui.QCheckBox):
            widget.setChecked(value)
        elif isinstance(widget, QtGui.QLineEdit) and not widget.hasFocus():
            widget.setText(value)
        elif isinstance(widget, QtGui.QPlainTextEdit) and not widget.hasFocus():
            text = "\n".join(value)
            if widget.toPlainText() != text:
                widget.setPlainText(text)
        self._quiet = False


def mark(box, name):
    """The field of a property looks at fault and no other does; "": none. The field, or None."""
    for widget in box.findChildren(QtGui.QWidget):
        if widget.styleSheet() == FAULT and not widget.property("fault"):
            widget.setStyleSheet(widget.property("faultless") or "")
    at_fault = box.findChild(QtGui.QWidget, name) if name else None
    if at_fault is not None:
        at_fault.setProperty("faultless", "" if at_fault.styleSheet() == FAULT else at_fault.styleSheet())
        at_fault.setStyleSheet(FAULT)
    return at_fault


def _least_of_content(widget):
    """[pixels] that the widgets in a widget need beside each other."""
    return widget.layout().minimumSize().width() if widget.layout() else 0


def make_narrow(widget):
    """A widget takes what width there is: task panels are narrow."""
    widget.setMinimumWidth(max(60, _least_of_content(widget)))
    widget.setSizePolicy(QtGui.QSizePolicy.Ignored, widget.sizePolicy().verticalPolicy())


def begin_at_left(button):
    """Words of buttons below each other begin below each other."""
    button.setStyleSheet("text-align: left; padding: 3px 6px")


def words_of(name):
    """HardenerPercent: hardener percent."""
    return tr("".join(" " + c.lower() if c.isupper() else c for c in name).strip().capitalize())


GAP = 6  # [pixels] between two rows of a form


def _row_of(widget):
    """A widget with the gap to the next row: a hidden row then leaves none, as a form's own spacing does."""
    row = QtGui.QWidget()
    layout = QtGui.QVBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, GAP)
    layout.addWidget(widget)
    row.setSizePolicy(widget.sizePolicy())
    return row


LEAST_LABEL, MOST_LABEL, LEAST_FIELD = 76, 92, 76  # [pixels]


def add_row(form, words, widget, tip=""):
    """A row of a narrow form, below its words where it needs more room than beside them; its label, for align()."""
    label = QtGui.QLabel(words)
    label.setWordWrap(True)
    label.setToolTip(tip)
    need = _least_of_content(widget)
    widget.setMinimumWidth(max(LEAST_FIELD, need))
    if need > LEAST_FIELD:
        form.addRow(label)
        form.addRow(widget)
    else:
        form.addRow(label, widget)
    return label


def align(labels):
    """One width for the labels of a form, in which their words have room, and the height that each then needs: left to
    itself a form cuts lines off. A label with a longer word is as wide as that: where a panel is narrow, its field
    stands below it."""
    longest = [max(map(label.fontMetrics().horizontalAdvance, label.text().split()), default=0) for label in labels]
    width = max([LEAST_LABEL, *(word for word in longest if word <= MOST_LABEL)])
    for label, word in zip(labels, longest):
        label.setFixedWidth(max(width, word))
        label.setMinimumHeight(label.heightForWidth(label.width()))


class Form(QtGui.QWidget):
    """Fields of properties below each other; `shows(name)` says which of them matter now."""

    def __init__(self, name, repair, names, told, shows=lambda name: True):
        super().__init__()
        self.setObjectName(name)
        self._shows = shows
        self.layout = QtGui.QFormLayout(self)
        self.layout.setContentsMargins(6, 4, 2, 6)
        self.layout.setVerticalSpacing(0)
        self.layout.setFieldGrowthPolicy(QtGui.QFormLayout.AllNonFixedFieldsGrow)
        self.layout.setRowWrapPolicy(QtGui.QFormLayout.WrapLongRows)
        self.fields, self._rows, self._labels = {}, {}, {}
        for each in names:
            kind, meaning = kind_of(each)
            field = Field(repair, each, kind, meaning, told)
            self._rows[each] = _row_of(field.widget)
            self._labels[each] = add_row(self.layout, words_of(each), self._rows[each], tr(meaning))
            self._labels[each].setContentsMargins(0, 0, 0, GAP)
            self.fields[each] = field
        align(self._labels.values())

    def follow(self):
        for name, field in self.fields.items():
            field.follow()
            shown = self._shows(name)
            self._rows[name].setVisible(shown)
            self._labels[name].setVisible(shown)


def kind_of(name):
    """(kind, meaning) of a property."""
    key = _key(name)
    if key:
        return key.kind, key.meaning
    return next((kind, meaning) for prop, kind, _, _, meaning in properties.OWN if prop == name)


def names_of_group(group):
    return [key.prop for key in keys.KEYS if key.group == group]
