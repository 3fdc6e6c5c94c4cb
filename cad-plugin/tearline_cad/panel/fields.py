"""Widgets for properties of a repair, one for each kind of key."""
import FreeCADGui
from PySide import QtGui

from tearline_cad.document import keys

FAULT = "background: #fbe4de; color: #1c2730"


def _length(value, on_change):
    """Shows the length in FreeCAD's own units."""
    box = FreeCADGui.UiLoader().createWidget("Gui::QuantitySpinBox")
    box.setProperty("unit", "mm")
    box.setProperty("minimum", 0.0)
    box.setProperty("rawValue", float(value.Value))
    box.valueChanged.connect(lambda *_: on_change(float(box.property("rawValue"))))
    return box


class _NumberBox(QtGui.QDoubleSpinBox):
    """12 and not 12.000."""

    def textFromValue(self, value):
        return self.locale().toString(float(f"{value:.6g}"), "g", 6)


def _number(value, on_change):
    box = _NumberBox()
    box.setDecimals(3)
    box.setRange(-1000, 1e6)
    box.setValue(value)
    box.setKeyboardTracking(False)
    box.valueChanged.connect(lambda *_: on_change(box.value()))
    return box


def _whole(value, on_change):
    box = QtGui.QSpinBox()
    box.setRange(1, 1000)
    box.setValue(value)
    box.valueChanged.connect(lambda *_: on_change(box.value()))
    return box


def _choice(words, value, on_change):
    box = QtGui.QComboBox()
    box.addItems([word or "not given" for word in words])
    box.setCurrentIndex(words.index(value))
    box.currentIndexChanged.connect(lambda index: on_change(words[index]))
    return box


def _truth(value, on_change):
    box = QtGui.QCheckBox()
    box.setChecked(value)
    box.toggled.connect(lambda checked: on_change(bool(checked)))
    return box


def _numbers(value, on_change):
    """Numbers with blanks or commas between them; told only when all of them are numbers."""
    line = QtGui.QLineEdit(", ".join(f"{number:g}" for number in value))

    def told():
        try:
            on_change([float(word) for word in line.text().replace(",", " ").split()])
        except ValueError:
            line.setText(", ".join(f"{number:g}" for number in value))

    line.editingFinished.connect(told)
    return line


def lines_box(value, on_change, rows=4):
    """One line of text for each word of a list."""
    box = QtGui.QPlainTextEdit("\n".join(value))
    box.setFixedHeight(box.fontMetrics().lineSpacing() * rows + 12)
    box.setTabChangesFocus(True)
    box.textChanged.connect(lambda: on_change(
        [line.strip() for line in box.toPlainText().splitlines() if line.strip()]))
    return box


def field(repair, name, kind, meaning, on_change):
    """A widget that shows a property and sets it; `on_change()` follows every change."""
    def told(value):
        setattr(repair, name, value)
        on_change()

    value = getattr(repair, name)
    if kind == keys.LENGTH:
        widget = _length(value, told)
    elif kind == keys.FLOAT:
        widget = _number(value, told)
    elif kind == keys.WHOLE:
        widget = _whole(value, told)
    elif kind == keys.ENUM:
        widget = _choice(repair.getEnumerationsOfProperty(name), value, told)
    elif kind == keys.BOOL:
        widget = _truth(value, told)
    elif kind == keys.NUMBERS:
        widget = _numbers(value, told)
    elif kind == keys.STRINGS:
        widget = lines_box(value, told)
    else:
        raise ValueError(f"no widget for {kind}")
    widget.setObjectName(name)
    widget.setToolTip(meaning)
    make_narrow(widget)
    return widget


def mark(boxes, name):
    """The field of a property looks at fault and no other does; "": none."""
    for box in boxes:
        for widget in box.findChildren(QtGui.QWidget):
            if widget.styleSheet() == FAULT:
                widget.setStyleSheet("")
        at_fault = box.findChild(QtGui.QWidget, name) if name else None
        if at_fault:
            at_fault.setStyleSheet(FAULT)


def make_narrow(widget):
    """A widget takes what width there is: task panels are narrow."""
    widget.setMinimumWidth(70)
    widget.setSizePolicy(QtGui.QSizePolicy.Ignored, widget.sizePolicy().verticalPolicy())


def words_of(name):
    """HardenerPercent: hardener percent."""
    return "".join(" " + c.lower() if c.isupper() else c for c in name).strip().capitalize()


def form(repair, rows, on_change):
    """A form of (name, kind, meaning)."""
    box = QtGui.QWidget()
    layout = QtGui.QFormLayout(box)
    layout.setContentsMargins(4, 4, 4, 4)
    layout.setFieldGrowthPolicy(QtGui.QFormLayout.AllNonFixedFieldsGrow)
    for name, kind, meaning in rows:
        layout.addRow(words_of(name), field(repair, name, kind, meaning, on_change))
    return box


def rows_of(*names):
    """Rows of keys.KEYS by their properties' names."""
    known = {key.prop: (key.prop, key.kind, key.meaning) for key in keys.KEYS}
    return [known[name] for name in names]


def rows_of_group(group):
    return [(key.prop, key.kind, key.meaning) for key in keys.KEYS if key.group == group]
