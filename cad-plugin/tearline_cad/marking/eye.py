"""One 3D view that is marked in: its mouse, its cursor, the lines and handles drawn into it."""
import FreeCAD
from pivy import coin
from PySide import QtCore

from tearline_cad.document.words import tr
from tearline_cad.marking.picking import Picker
from tearline_cad.view import colours, laid, nodes

LIFT = 7.0  # [mm] lines over the hull, towards the eye
WHITE = (255, 255, 255)


def _field(view, name):
    return view.getSceneGraph().getField(name)


class Eye(QtCore.QObject):
    """Hands events of its view to `on_event(eye, event)`, which says whether they end there."""

    # FreeCAD's own picking in a view, and what these are set to while it is marked in.
    OFF = {"selectionMode": 2, "highlightMode": 2}  # 2: "OFF" of SoFCUnifiedSelection

    def __init__(self, view, hull, on_event):
        super().__init__()
        self.view, self.picker = view, Picker(view, hull)
        self._on_event = on_event
        self._port = view.graphicsView().viewport()
        self._root = coin.SoSeparator()
        view.getSceneGraph().addChild(self._root)
        self._had = {}
        for name, value in self.OFF.items():
            field = _field(view, name)
            if field is not None:
                self._had[name] = field.getValue()
                field.setValue(value)
        self._port.installEventFilter(self)
        view.graphicsView().installEventFilter(self)

    def eventFilter(self, watched, event):
        try:
            return bool(self._on_event(self, event))
        except Exception as error:  # an exception here would end FreeCAD
            FreeCAD.Console.PrintError(f"Tearline: {error}\n")
            return False

    def take_keys(self):
        """Keys are from now on those of this view."""
        self.view.graphicsView().setFocus()

    def show_allowed(self, allowed):
        """A cross where a click marks, forbidden beside it."""
        self._port.setCursor(QtCore.Qt.CrossCursor if allowed else QtCore.Qt.ForbiddenCursor)

    # -- drawing of one's own ----------------------------------------------------------------

    def clear(self):
        self._root.removeAllChildren()

    def add(self, node):
        self._root.addChild(node)

    def lifted(self, points, times=1):
        """Points towards the eye, over what is drawn on the hull."""
        return self._lifted(points, times)

    # -- drawing -------------------------------------------------------------------------------

    def _lifted(self, points, times=1):
        towards = self.view.getViewDirection() * -LIFT * times
        return [tuple(point + towards) for point in points]

    def _line(self, loop, colour, width, pattern=0xFFFF):
        self._root.addChild(nodes.lines([self._lifted([*loop, loop[0]])], colours.unit(colour), width,
                                        pattern))

    def _dots(self, points, colour, size, times):
        if points:
            self._root.addChild(nodes.dots(self._lifted(points, times),
                                           [colours.unit(colour)] * len(points), size))

    def _beside(self, off):
        """Points that do not lie on the hull, and the way to it: seen through the hull where they lie within it."""
        if not off:
            return
        seen = coin.SoSeparator()
        seen.addChild(nodes.through_all())
        colour = colours.unit(colours.OVER_LIMIT)
        seen.addChild(nodes.lines([self._lifted(each) for each in off], colour, 2.0))
        seen.addChild(nodes.dots(self._lifted([point for point, _ in off], 3), [colour] * len(off), 13))
        self._root.addChild(seen)

    def _survey(self, surveyed):
        for each in surveyed:
            colour = laid.SURVEYED[each.kind]
            if len(each.points) > 1:
                loop = self._lifted([*each.points, each.points[0]] if each.closed else each.points)
                self._root.addChild(nodes.lines([loop], colours.unit(colour), 2.0, 0x0FFF))
            self._dots(each.points, WHITE, 12, 1)
            self._dots(each.points, colour, 8, 2)
            self._root.addChild(nodes.words(self._lifted(each.points, 3)[len(each.points) // 2], each.words, 12))

    def draw(self, outline, scarf, handles, off, fault, pressed, surveyed=()):
        """Everything anew, all in the document's coordinates.

        off     handles that do not lie on the hull, each with the place of it that is nearest
        fault   where the outline is at fault, or None
        pressed the place that cloth is pressed down on first, or nothing
        surveyed  what else is marked on the hull (document/survey.py)
        """
        self._root.removeAllChildren()
        if outline:
            self._line(outline, colours.DAMAGE, 3.0)
        elif len(handles) > 2:
            # No outline yet, or one that cannot be: straight from point to point.
            self._line(handles, colours.DAMAGE, 1.5, 0x3333)
        for loop in scarf:
            self._line(loop, colours.SCARF, 1.5)
        self._dots(handles, WHITE, 13, 1)
        self._dots(handles, colours.DAMAGE, 9, 2)
        self._beside(off)
        self._survey(surveyed)
        for point in pressed:
            self._root.addChild(nodes.words(self._lifted([point], 2)[0], tr("press first"), 12))
        if fault is not None:
            self._dots([fault], WHITE, 21, 3)
            self._dots([fault], colours.OVER_LIMIT, 17, 4)
            self._root.addChild(nodes.words(self._lifted([fault], 5)[0], tr("here"), 13))

    def close(self):
        self._port.removeEventFilter(self)
        self.view.graphicsView().removeEventFilter(self)
        self._port.unsetCursor()
        for name, value in self._had.items():
            _field(self.view, name).setValue(value)
        self.view.getSceneGraph().removeChild(self._root)
