"""Clicks that mark nothing of the repair: a place of the hull to measure from, or of a scan of the ground place."""
from PySide import QtCore

from tearline_cad.document import frames
from tearline_cad.marking.eye import Eye
from tearline_cad.marking.marker import STILL, views_of
from tearline_cad.view import colours, nodes


class PlacePick:
    """`on_place(point)`: a place of the thing that was clicked, in its own coordinates; `on_leave()`: Escape."""

    def __init__(self, thing, on_place, on_leave=None):
        self.thing, self._on_place, self._on_leave, self._pressed = thing, on_place, on_leave, None
        self._eyes = [Eye(view, thing, self._handle) for view in views_of(thing.Document)]

    def take_keys(self):
        """Escape is meant for the picking, not for the panel whose button was pressed."""
        for eye in self._eyes[:1]:
            eye.take_keys()

    def _handle(self, eye, event):
        if self._on_leave and event.type() in (QtCore.QEvent.KeyPress, QtCore.QEvent.KeyRelease) \
                and event.key() == QtCore.Qt.Key_Escape:
            if event.type() == QtCore.QEvent.KeyRelease:  # FreeCAD would end the editing at that
                self._on_leave()
            return True
        if event.type() == QtCore.QEvent.MouseMove and not event.buttons():
            eye.show_allowed(eye.picker.on_hull(eye.picker.pixel(event)) is not None)
        elif event.type() == QtCore.QEvent.MouseButtonPress and event.button() == QtCore.Qt.LeftButton:
            self._pressed = eye.picker.pixel(event)
        elif event.type() == QtCore.QEvent.MouseButtonRelease and self._pressed:
            self._released(eye, eye.picker.pixel(event))
        return False

    def _released(self, eye, pixel):
        pressed, self._pressed = self._pressed, None
        point = eye.picker.on_hull(pixel)
        if point is not None and max(abs(a - b) for a, b in zip(pressed, pixel)) <= STILL:
            self._on_place(frames.frame_of(self.thing).inverse().multVec(point))

    def show(self, place, words, way, told):
        """The place with its words, and a way from it with what it measures."""
        frame = frames.frame_of(self.thing)
        for eye in self._eyes:
            eye.clear()
            eye.add(nodes.dots(eye.lifted([frame.multVec(place)], 3), [colours.unit(colours.OVER_LIMIT)], 13))
            eye.add(nodes.words(eye.lifted([frame.multVec(place)], 4)[0], words, 12))
            if way is not None:
                placed = [frame.multVec(point) for point in way]
                eye.add(nodes.lines([eye.lifted(placed, 3)], colours.unit(colours.OVER_LIMIT), 3.0))
                eye.add(nodes.words(eye.lifted(placed, 4)[len(placed) // 2], told, 14))

    def show_named(self, places):
        """{name: place} as they are marked."""
        frame = frames.frame_of(self.thing)
        for eye in self._eyes:
            eye.clear()
            for name, place in places.items():
                at = frame.multVec(place)
                eye.add(nodes.dots(eye.lifted([at], 2), [colours.unit(colours.DAMAGE)], 9))
                eye.add(nodes.words(eye.lifted([at], 3)[0], name, 12))

    def close(self):
        for eye in self._eyes:
            eye.close()
