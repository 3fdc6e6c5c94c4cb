"""What the colours mean: a card in the corner of the 3D view."""
import FreeCADGui
from PySide import QtCore, QtGui

from tearline_cad.document.words import tr
from tearline_cad.view import colours, sheet
from tearline_cad.window.shim import plain

NAME = "TearlineLegend"


def _number(value):
    return f"{value:.3g}"


def scale_rows(top, unit, kind="strain"):
    """(colour, words) of an even scale, the most first."""
    steps = colours.scale_steps(kind)
    width = top / len(steps)
    rows = []
    for index, colour in enumerate(steps):
        words = f"{_number(index * width)} {tr('to')} {_number((index + 1) * width)} {unit}"
        if index == len(steps) - 1:
            words = f"{tr('over')} {_number(index * width)} {unit}"
        rows.append((colour, words))
    return rows[::-1]


def limit_rows(picture, kind, unit):
    """The limit of each cloth of the plan that has one, in the colour of what is over it."""
    laid = {ply["fabric"] for ply in picture.plan["plies"]}
    of_limit = {}
    for fabric, limit in sorted(picture.limits[kind].items()):
        if fabric in laid:
            of_limit.setdefault(limit, []).append(fabric)
    return [(colours.OVER_LIMIT, f"{_number(limit)} {unit}: " + tr("limit of") + " "
             + ", ".join(fabrics)) for limit, fabrics in of_limit.items()]


def sections(picture):
    """[(title, rows)] for what is shown."""
    if picture.stale:
        return [(tr("OUT OF DATE"), [(colours.STALE, tr("of the plan from before"))])]
    if picture.kind == "Strain and shear":
        titles = {"strain": (tr("Mat: strain"), "%"), "shear": (tr("Cloth: shear"), tr("degrees"))}
        return [(titles[kind][0], limit_rows(picture, kind, titles[kind][1])
                 + scale_rows(top, titles[kind][1], kind))
                for kind, top in sorted(picture.tops.items())]
    if picture.kind == "Scan deviation":
        return [(tr("Scan off its fair surface"), _deviation_rows(picture))] if picture.deviation() else []
    if picture.kind == "Dish depth":
        return [(tr("Depth of the dish"), scale_rows(picture.dish_top(), "mm"))]
    if picture.kind in ("Lines only", "Grind guide"):
        return []
    return _ply_sections(picture)


def _deviation_rows(picture):
    steps, top = colours.deviation_steps(), picture.deviation().top
    width = 2 * top / len(steps)
    rows = [(colour, f"{_number(index * width - top)} {tr('to')} {_number((index + 1) * width - top)} mm")
            for index, colour in enumerate(steps)][::-1]
    return [*rows, (colours.BRIDGED, tr("bridged: not believed of the scan"))]


def _ply_sections(picture):
    """Plies in the order of laying, of each side or skin, and what fills the hole besides."""
    sides = picture.plan.get("sides") or []
    rows = {ply["number"]: (colour, f"{ply['number']}  {ply['fabric']}"
                            + ("  " + tr("cover") if ply["cover"] else ""))
            for ply, colour in zip(picture.plan["plies"], picture.ply_colours)}
    fillers = [(colours.FILLERS[role], tr({"core": "core plug", "backing": "backing"}[role]))
               for role in colours.FILLERS if (picture.plan.get(role) or {}).get("pieces")]
    if len(sides) < 2:
        return [(tr("Plies in the order of laying"), [*rows.values(), *fillers])]
    found = [(tr("Plies") + ": " + tr(side.get("name", side["side"])), [rows[number] for number in side["plies"]])
             for side in sides]
    return [*found, *([(tr("Between"), fillers)] if fillers else [])]


def lines_section():
    return (tr("Lines"), [(colours.DAMAGE, tr("damage, full depth")), (colours.SCARF, tr("edge of the scarf")),
                      (colours.FOOTPRINT, tr("all that is touched"))])


def _template_kinds(repair, picture):
    """The kinds of lines of a repair's templates, where templates are shown."""
    if not any(getattr(made, "Role", "") == "template" and made.Visibility for made in repair.OutListRecursive):
        return set()
    return set().union(*(sheet.kinds_of_piece(piece) for ply in picture.plan["plies"] for piece in ply["pieces"]))


def template_sections(kinds):
    """The lines of the templates that a person works by."""
    rows = [(sheet.STYLES[kind][0], tr(words)) for kind, words in sheet.NAMES.items() if kind in kinds]
    return [(tr("Templates"), rows)] if rows else []


class Legend(QtGui.QWidget):
    """Lets the mouse through."""

    ROW, SWATCH, EDGE = 19, 26, 9
    LEAST = 190  # [pixels] that a repair's name has; longer ones are shortened

    def __init__(self, parent):
        super().__init__(parent)
        self.setObjectName(NAME)
        self.setAttribute(QtCore.Qt.WA_TransparentForMouseEvents)
        self.rows, self.sections = [], []

    def tell(self, cards):
        """[(title, sections)], one of each repair that is shown."""
        self.rows, titles = [], []  # (colour or None, words, bold)
        for title, found in cards:
            if title:
                titles.append(len(self.rows))
                self.rows.append((None, title, True))
            for head, rows in found:
                self.rows.append((None, head, True))
                self.rows += [(colour, words, False) for colour, words in rows]
        self.sections = [section for _, found in cards for section in found]
        metrics = QtGui.QFontMetrics(self._font(True))
        width = max(self.LEAST if row in titles else metrics.boundingRect("MMM" * bool(colour) + words).width()
                    for row, (colour, words, _) in enumerate(self.rows))
        self.resize(width + 3 * self.EDGE, len(self.rows) * self.ROW + 2 * self.EDGE)
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
        for colour, words, bold in self.rows:
            if colour:
                painter.fillRect(self.EDGE, at + 2, self.SWATCH, self.ROW - 4,
                                 QtGui.QColor(*(int(level) for level in colour)))
            at = self._words(painter, at, words, bold, self.SWATCH + 7 if colour else 0)
        painter.end()

    def _words(self, painter, at, words, bold, indent=0):
        painter.setFont(self._font(bold))
        painter.setPen(QtGui.QColor(25, 30, 40))
        room = self.width() - 2 * self.EDGE - indent
        painter.drawText(self.EDGE + indent, at, self.width(), self.ROW, plain(QtCore.Qt.AlignVCenter),
                         painter.fontMetrics().elidedText(words, QtCore.Qt.ElideRight, room))
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


_cards = {}  # (document, repair) -> (title, sections, kinds of lines of its templates), what was drawn last at the end


def show(repair, picture):
    """The legend of what is drawn in a document, in every 3D view of it; of this repair what `picture`
    shows, nothing where it is None."""
    document = repair.Document
    _cards.pop((document.Name, repair.Name), None)
    if picture is not None and repair.ViewObject.Visibility:
        _cards[document.Name, repair.Name] = (repair.Label, sections(picture), _template_kinds(repair, picture))
    for key in [key for key in _cards if key[0] == document.Name
                and document.getObject(key[1]) is None]:
        del _cards[key]
    shown = [card for key, card in _cards.items() if key[0] == document.Name][::-1]
    for view in _views(document):
        card = _card(view)
        if shown:
            kinds = set().union(*(kinds for _, _, kinds in shown))
            card.tell([*((title, found) for title, found, _ in shown),
                       ("", [lines_section(), *template_sections(kinds)])])
        card.setVisible(bool(shown))
