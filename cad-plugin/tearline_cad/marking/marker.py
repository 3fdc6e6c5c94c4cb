"""Marks the damage by mouse: click to add, drag to move, right click or Delete to take away."""
import FreeCAD
import FreeCADGui
from pivy import coin
from PySide import QtCore

from tearline_cad.marking.draft import Draft
from tearline_cad.marking.handles import handles_of
from tearline_cad.marking.picking import Picker
from tearline_cad.view import colours, nodes

REACH = 10  # [pixels] how near a handle or the curve counts as on it
STILL = 4  # [pixels] a press that moves less is a click
LIFT = 7.0  # [mm] lines over the hull, towards the eye


class _NoSelection:
    """While marking, clicks select nothing."""

    def allow(self, document, thing, part):
        return False


class Marker(QtCore.QObject):
    """Installed on one 3D view until close(); `on_change(moved)` after every change to the repair
    (True) and whenever a new outline has come (False)."""

    def __init__(self, repair, view, on_change):
        super().__init__()
        self.repair, self.view = repair, view
        self.picker = Picker(view, repair.Hull)
        self._on_change = on_change
        self._deleted = False  # the right button that took a point away is still down
        self._held = None  # number of the handle that is being dragged
        self._pressed = None  # pixel where a click began
        self._last = None  # number of the handle touched last, for the Delete key
        self.draft = Draft(repair, self._drafted)
        self._root = coin.SoSeparator()
        view.getSceneGraph().addChild(self._root)
        FreeCADGui.Selection.addSelectionGate(_NoSelection())
        self._watched = view.graphicsView().viewport()
        self._watched.installEventFilter(self)
        view.graphicsView().installEventFilter(self)
        self.refresh()

    @property
    def dragging(self):
        return self._held is not None

    # -- mouse ---------------------------------------------------------------------------------

    def eventFilter(self, watched, event):
        try:
            return self._handle(event)
        except Exception as error:  # an exception here would end FreeCAD
            FreeCAD.Console.PrintError(f"Tearline: {error}\n")
            return False

    def _handle(self, event):
        kind = event.type()
        if kind == QtCore.QEvent.MouseButtonPress:
            return self._press(event)
        if kind == QtCore.QEvent.MouseMove:
            return self._move(event)
        if kind == QtCore.QEvent.MouseButtonRelease:
            return self._release(event)
        if kind == QtCore.QEvent.KeyPress and event.key() in (QtCore.Qt.Key_Delete,
                                                              QtCore.Qt.Key_Backspace):
            return self._delete(self._last)
        return False

    def _press(self, event):
        pixel = self.picker.pixel(event)
        handle = self.picker.nearest(pixel, self.handles(), REACH)
        if event.button() == QtCore.Qt.RightButton:
            self._deleted = self._delete(handle)
            return self._deleted
        if event.button() != QtCore.Qt.LeftButton or event.modifiers():
            return False
        if handle is None:
            self._pressed = pixel
            return False  # the view may turn by this button
        self._held = self._last = handle
        return True

    def _move(self, event):
        if self._held is None:
            return False
        point = self.picker.on_hull(self.picker.pixel(event))
        if point is not None:
            handles_of(self.repair).drag(self._held, point)
            self._changed()
        return True

    def _release(self, event):
        if self._deleted and event.button() == QtCore.Qt.RightButton:
            self._deleted = False
            return True  # no menu
        if event.button() != QtCore.Qt.LeftButton:
            return False
        if self._held is not None:
            self._held = None
            return True
        pressed, self._pressed = self._pressed, None
        pixel = self.picker.pixel(event)
        if pressed is None or max(abs(a - b) for a, b in zip(pressed, pixel)) > STILL:
            return False
        point = self.picker.on_hull(pixel)
        if point is not None:
            beside = self.picker.nearest(pixel, self.draft.outline, REACH) is not None
            handles_of(self.repair).click(point, self.draft, beside)
            self._last = None
            self._changed()
        return False

    def _delete(self, handle):
        if handle is None or handle >= len(self.handles()):
            return False
        handles_of(self.repair).delete(handle)
        self._last = None
        self._changed()
        return True

    # -- drawing -------------------------------------------------------------------------------

    def handles(self):
        return handles_of(self.repair).handles(self.draft)

    def _changed(self):
        self._draw()
        self.draft.update()
        self._on_change(True)

    def refresh(self):
        """The repair was changed elsewhere."""
        self._draw()
        self.draft.update()

    def _drafted(self):
        self._draw()
        self._on_change(False)

    def _lifted(self, points):
        towards = self.view.getViewDirection() * -LIFT
        return [tuple(point + towards) for point in points]

    def _draw(self):
        self._root.removeAllChildren()
        for loop, colour, width in [(self.draft.outline, colours.DAMAGE, 3.0),
                                    *((s, colours.SCARF, 1.5) for s in self.draft.scarf)]:
            if loop:
                self._root.addChild(nodes.lines([self._lifted(loop + loop[:1])],
                                                colours.unit(colour), width))
        handles = self._lifted(self.handles())
        if handles:
            self._root.addChild(nodes.dots(handles, [colours.unit((255, 255, 255))] * len(handles),
                                           13))
            fill = [colours.unit(colours.DAMAGE)] * len(handles)
            towards = self.view.getViewDirection() * -2 * LIFT
            self._root.addChild(nodes.dots([tuple(h + towards) for h in self.handles()], fill, 9))

    def close(self):
        self.draft.close()
        self._watched.removeEventFilter(self)
        self.view.graphicsView().removeEventFilter(self)
        FreeCADGui.Selection.removeSelectionGate()
        self.view.getSceneGraph().removeChild(self._root)
