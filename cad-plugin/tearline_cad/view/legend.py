"""What the colours mean: a card in the corner of the 3D view."""
import FreeCADGui
from PySide import QtCore, QtGui

from tearline_cad.view import colours
from tearline_cad.window.shim import plain

NAME = "TearlineLegend"


def _number(value):
    return f"{value:.3g}"


def scale_rows(top, unit):
    """(colour, words) of an even scale, the most first."""
    steps = colours.scale_steps()
    width = top / len(steps)
    rows = []
    for index, colour in enumerate(steps):
        words = f"{_number(index * width)} to {_number((index + 1) * width)} {unit}"
        if index == len(steps) - 1:
            words = f"over {_number(index * width)} {unit}"
        rows.append((colour, words))
    return rows[::-1]


def sections(picture):
    """[(title, rows)] for what is shown."""
    if picture.kind == "Strain and shear":
        titles = {"strain": ("Mat: strain", "%"), "shear": ("Cloth: shear", "degrees")}
        return [(titles[kind][0], scale_rows(top, titles[kind][1]))
                for kind, top in sorted(picture.tops.items())]
    if picture.kind == "Dish depth":
        return [("Depth of the dish", scale_rows(picture.dish_top(), "mm"))]
    if picture.kind == "Lines only":
        return []
    return [("Plies in the order of laying",
             [(colour, f"{ply['number']}  {ply['fabric']}" + ("  cover" if ply["cover"] else ""))
              for ply, colour in zip(picture.plan["plies"], picture.ply_colours)])]


def lines_section():
    return ("Lines", [(colours.DAMAGE, "damage, full depth"), (colours.SCARF, "edge of the scarf"),
                      (colours.FOOTPRINT, "all that is touched")])


class Legend(QtGui.QWidget):
    """Lets the mouse through."""

    ROW, SWATCH, EDGE = 19, 26, 9

    def __init__(self, parent):
        super().__init__(parent)
        self.setObjectName(NAME)
        self.setAttribute(QtCore.Qt.WA_TransparentForMouseEvents)
        self.title, self.sections = "", []

    def tell(self, title, found):
        self.title, self.sections = title, found
        metrics = QtGui.QFontMetrics(self._font(True))
        words = [title] + [head for head, _ in found] + \
            ["MMM" + words for _, rows in found for _, words in rows]
        width = max(metrics.boundingRect(each).width() for each in words)
        count = 1 + sum(1 + len(rows) for _, rows in found)
        self.resize(width + 3 * self.EDGE, count * self.ROW + 2 * self.EDGE)
        self.update()

    @staticmethod
    def _font(bold):
        font = QtGui.QFont("DejaVu Sans")
        font.setPixelSize(12)
        font.setBold(bold)
        return font

    def paintEvent(self, event):
        painter = QtGui.QPainter(self)
        painter.fillRect(self.rect(), QtGui.QColor(255, 255, 255, 225))
        painter.setPen(QtGui.QColor(120, 126, 134))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        at = self.EDGE
        at = self._words(painter, at, self.title, True)
        for head, rows in self.sections:
            at = self._words(painter, at, head, True)
            for colour, words in rows:
                painter.fillRect(self.EDGE, at + 2, self.SWATCH, self.ROW - 4,
                                 QtGui.QColor(*(int(level) for level in colour)))
                at = self._words(painter, at, words, False, self.SWATCH + 7)
        painter.end()

    def _words(self, painter, at, words, bold, indent=0):
        painter.setFont(self._font(bold))
        painter.setPen(QtGui.QColor(25, 30, 40))
        painter.drawText(self.EDGE + indent, at, self.width(), self.ROW,
                         plain(QtCore.Qt.AlignVCenter), words)
        return at + self.ROW


def _views(document):
    gui = FreeCADGui.getDocument(document.Name)
    return gui.mdiViewsOfType("Gui::View3DInventor") if gui else []


def _card(view):
    port = view.graphicsView().viewport()
    card = port.findChild(QtGui.QWidget, NAME)
    if card is None:
        card = Legend(port)
        card.move(12, 12)
    return card


def covers(view):
    """[pixels] of the view's left side that lie behind the legend; 0 without one."""
    card = view.graphicsView().viewport().findChild(QtGui.QWidget, NAME)
    return card.geometry().right() + card.x() if card is not None and card.isVisible() else 0


def show(repair, picture):
    """The legend of this repair in every 3D view of its document; none when nothing is drawn."""
    visible = picture is not None and repair.ViewObject.Visibility
    found = sections(picture) + [lines_section()] if visible else []
    for view in _views(repair.Document):
        card = _card(view)
        if found:
            card.tell(repair.Label, found)
            card.setVisible(True)
        elif card.title == repair.Label:  # another repair's legend stays
            card.setVisible(False)
