"""The shape of a long panel: a head that stays in sight, and sections below it that scroll and fold."""
from PySide import QtCore, QtGui

from tearline_cad.window.shim import plain

LEAST = 260  # [pixels] of height that the sections have at least
BELOW = 44  # [pixels] between the panel and the lower edge of what FreeCAD gives it


class Section(QtGui.QWidget):
    """Fields under a head that folds them away."""

    def __init__(self, title, content, folded=False):
        super().__init__()
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        self.head = QtGui.QToolButton()
        self.head.setText(title)
        self.head.setObjectName("Section " + content.objectName())
        self.head.setToolButtonStyle(QtCore.Qt.ToolButtonTextBesideIcon)
        self.head.setCheckable(True)
        self.head.setSizePolicy(QtGui.QSizePolicy.Ignored, QtGui.QSizePolicy.Fixed)
        self.head.setStyleSheet("QToolButton {font-weight: bold; padding: 3px; border: none; "
                                "border-bottom: 1px solid palette(mid); text-align: left}")
        self.content = content
        self.head.toggled.connect(self._fold)
        layout.addWidget(self.head)
        layout.addWidget(content)
        self.head.setChecked(not folded)
        self._fold(not folded)

    def _fold(self, open_):
        self.head.setArrowType(QtCore.Qt.DownArrow if open_ else QtCore.Qt.RightArrow)
        self.content.setVisible(open_)

    def unfold(self):
        self.head.setChecked(True)


class Frame(QtGui.QWidget):
    """Fills the height that FreeCAD's task view has, so that its own scrolling has nothing to do."""

    def __init__(self, title, head, sections):
        super().__init__()
        self.setWindowTitle(title)
        self.setMinimumWidth(200)
        layout = QtGui.QVBoxLayout(self)
        layout.setContentsMargins(2, 2, 2, 2)
        layout.addWidget(head)
        inner = QtGui.QWidget()
        self._rows = QtGui.QVBoxLayout(inner)
        self._rows.setContentsMargins(0, 0, 4, 0)
        for section in sections:
            self._rows.addWidget(section)
        self._rows.addStretch(1)
        self.area = QtGui.QScrollArea()
        self.area.setObjectName("Sections")
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QtGui.QFrame.NoFrame)
        self.area.setHorizontalScrollBarPolicy(QtCore.Qt.ScrollBarAlwaysOff)
        self.area.setWidget(inner)
        layout.addWidget(self.area, 1)
        self._around = None
        self._head = head
        head.installEventFilter(self)

    def showEvent(self, event):
        super().showEvent(event)
        if self._around is None:
            parent = self.parentWidget()
            while parent is not None and not isinstance(parent, QtGui.QAbstractScrollArea):
                parent = parent.parentWidget()
            if parent is not None:
                self._around = parent
                parent.installEventFilter(self)
        # Once FreeCAD has unfolded its box, too.
        for wait in (0, 400):
            QtCore.QTimer.singleShot(wait, self._fit)

    def eventFilter(self, watched, event):
        if event.type() != QtCore.QEvent.Resize:
            return False
        if watched is self._head:
            # What is below stays where it is on the screen: a click that is on its way must not miss.
            grown = event.size().height() - event.oldSize().height()
            if event.oldSize().height() > 0 and grown:
                QtCore.QTimer.singleShot(0, lambda: self._scroll_by(grown))
        else:
            QtCore.QTimer.singleShot(0, self._fit)
        return False

    def _scroll_by(self, pixels):
        try:
            bar = self.area.verticalScrollBar()
            if bar.value() > 0:  # at the very top its head is what is looked at
                bar.setValue(bar.value() + pixels)
        except RuntimeError:
            pass  # FreeCAD has taken the panel away meanwhile

    def _fit(self):
        try:
            if self._around is None or not self.isVisible():
                return
            above = self.mapTo(self._around, QtCore.QPoint(0, 0)).y() \
                + self._around.verticalScrollBar().value()
            self.setFixedHeight(max(self._around.viewport().height() - above - BELOW, LEAST))
        except RuntimeError:
            pass  # FreeCAD has taken the panel away meanwhile

    def reveal(self, widget):
        """Unfolds and scrolls to a field."""
        parent = widget
        while parent is not None and parent is not self:
            if isinstance(parent, Section):
                parent.unfold()
            parent = parent.parentWidget()
        # What was just unfolded has no place yet.
        QtGui.QApplication.sendPostedEvents(None, plain(QtCore.QEvent.LayoutRequest))
        self.area.ensureWidgetVisible(widget, 10, 40)
