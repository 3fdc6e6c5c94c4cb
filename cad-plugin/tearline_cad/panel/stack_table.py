"""Plies as a table: cloth, degrees of its axis, degrees it may turn; rows are dragged into order."""
from PySide import QtCore, QtGui

from tearline_cad.document import figures
from tearline_cad.document.words import tr
from tearline_cad.panel import fields

CLOTH, AXIS, FREE = range(3)
ROW = 22  # [pixels]


def parts_of(line):
    """A line such as "roving 600 @ 45 free 20": cloth, axis, freedom, "" where it is not told."""
    cloth, _, turned = line.partition("@")
    axis, _, free = turned.partition("free")
    return cloth.strip(), axis.strip(), free.strip()


def line_of(cloth, axis, free):
    if not axis and not free:
        return cloth
    return f"{cloth} @ {axis or 0}" + (f" free {free}" if free else "")


class _Editors(QtGui.QStyledItemDelegate):
    """A list of cloths in the first column, figures in the others."""

    def __init__(self, cloths):
        super().__init__()
        self._cloths = cloths

    def createEditor(self, parent, option, index):
        if index.column() != CLOTH:
            return super().createEditor(parent, option, index)
        box = QtGui.QComboBox(parent)
        box.setEditable(True)
        box.addItems(self._cloths())
        box.activated.connect(lambda *_: (self.commitData.emit(box), self.closeEditor.emit(box)))
        return box

    def setEditorData(self, editor, index):
        if isinstance(editor, QtGui.QComboBox):
            editor.setCurrentText(index.data())
        else:
            super().setEditorData(editor, index)

    def setModelData(self, editor, model, index):
        if isinstance(editor, QtGui.QComboBox):
            model.setData(index, editor.currentText().strip())
            return
        text = editor.text().strip().rstrip("°")
        try:
            model.setData(index, f"{figures.read(text, 'degrees'):g}" if text else "")
        except figures.Unclear as unclear:
            QtGui.QToolTip.showText(QtGui.QCursor.pos(), str(unclear))


class StackTable(QtGui.QWidget):
    """One list of plies of a repair; `told(name, lines)` after every change."""

    def __init__(self, repair, name, meaning, told, cloths):
        super().__init__()
        self.repair, self.name, self._told = repair, name, told
        self._cloths, self._quiet = cloths, False
        self.setObjectName(name)
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(6, 2, 2, 4)
        layout.setSpacing(2)
        head = QtGui.QHBoxLayout()
        title = QtGui.QLabel(fields.words_of(name))
        title.setToolTip(tr(meaning))
        head.addWidget(title, 1)
        for text, tip, act in (("+", tr("One more ply"), self._add),
                               ("–", tr("Take the chosen ply away"), self._remove)):
            button = QtGui.QToolButton()
            button.setText(text)
            button.setToolTip(tip)
            button.setObjectName(f"{name} {text}")
            button.clicked.connect(act)
            head.addWidget(button)
        layout.addLayout(head)
        self.table = QtGui.QTreeWidget()
        self.table.setObjectName(name + " table")
        self.table.setHeaderLabels([tr("Cloth"), tr("Axis °"), tr("May turn °")])
        self.table.setToolTip(tr(meaning))
        self.table.setRootIsDecorated(False)
        self.table.setUniformRowHeights(True)
        self.table.setDragDropMode(QtGui.QAbstractItemView.InternalMove)
        self.table.setEditTriggers(QtGui.QAbstractItemView.DoubleClicked
                                   | QtGui.QAbstractItemView.EditKeyPressed
                                   | QtGui.QAbstractItemView.SelectedClicked)
        self._editors = _Editors(cloths)
        self.table.setItemDelegate(self._editors)
        self.table.header().setStretchLastSection(False)
        self.table.header().setSectionResizeMode(CLOTH, QtGui.QHeaderView.Stretch)
        for column in (AXIS, FREE):
            self.table.header().setSectionResizeMode(column, QtGui.QHeaderView.ResizeToContents)
        fields.make_narrow(self.table)
        layout.addWidget(self.table)
        model = self.table.model()
        model.dataChanged.connect(lambda *_: self._changed())
        # A dragged row is put in first and taken out of its old place next.
        model.rowsRemoved.connect(lambda *_: QtCore.QTimer.singleShot(0, self._changed))
        self.follow()

    def _item(self, line):
        item = QtGui.QTreeWidgetItem(list(parts_of(line)))
        item.setFlags(QtCore.Qt.ItemIsSelectable | QtCore.Qt.ItemIsEnabled | QtCore.Qt.ItemIsEditable
                      | QtCore.Qt.ItemIsDragEnabled)
        return item

    def lines(self):
        return [line_of(*(item.text(column) for column in range(3)))
                for item in map(self.table.topLevelItem, range(self.table.topLevelItemCount()))]

    def _changed(self):
        try:
            lines = self.lines()
        except RuntimeError:
            return  # FreeCAD has taken the panel away meanwhile
        self._fit()
        if not self._quiet and lines != list(getattr(self.repair, self.name)):
            self._told(self.name, lines)

    def _add(self):
        chosen = self.table.currentItem()
        at = self.table.indexOfTopLevelItem(chosen) + 1 if chosen else self.table.topLevelItemCount()
        item = self._item(chosen.text(CLOTH) if chosen else self._cloths()[2])
        self.table.insertTopLevelItem(at, item)
        self.table.setCurrentItem(item)
        self._changed()

    def _remove(self):
        count = self.table.topLevelItemCount()
        chosen = self.table.currentItem() or (self.table.topLevelItem(count - 1) if count else None)
        if chosen is not None:
            self.table.takeTopLevelItem(self.table.indexOfTopLevelItem(chosen))

    def _fit(self):
        rows = min(max(self.table.topLevelItemCount(), 1), 8)
        self.table.setFixedHeight(ROW * rows + self.table.header().sizeHint().height() + 8)

    def follow(self):
        """Shows what the property is now."""
        self._quiet = True
        wanted = list(getattr(self.repair, self.name))
        if self.lines() != wanted:
            self.table.clear()
            self.table.addTopLevelItems([self._item(line) for line in wanted])
        self._fit()
        self._quiet = False
