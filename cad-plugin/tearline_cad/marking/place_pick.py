"""Clicks on the hull that mark nothing of the repair: a place to measure from."""
from PySide import QtCore

from tearline_cad.document import frames
from tearline_cad.marking.eye import Eye
from tearline_cad.marking.marker import STILL, views_of
from tearline_cad.view import colours, nodes


class PlacePick:
    """`on_place(point)`: a place of the hull that was clicked, in its own coordinates."""

    def __init__(self, repair, on_place):
        self.repair, self._on_place, self._pressed = repair, on_place, None
        self._eyes = [Eye(view, repair.Hull, self._handle) for view in views_of(repair.Document)]

    def _handle(self, eye, event):
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
            self._on_place(frames.frame_of(self.repair.Hull).inverse().multVec(point))

    def show(self, place, words, way, told):
        """The place with its words, and a way from it with what it measures."""
        frame = frames.frame_of(self.repair.Hull)
        for eye in self._eyes:
            eye.clear()
            eye.add(nodes.dots(eye.lifted([frame.multVec(place)], 3), [colours.unit(colours.OVER_LIMIT)], 13))
            eye.add(nodes.words(eye.lifted([frame.multVec(place)], 4)[0], words, 12))
            if way is not None:
                placed = [frame.multVec(point) for point in way]
                eye.add(nodes.lines([eye.lifted(placed, 3)], colours.unit(colours.OVER_LIMIT), 3.0))
                eye.add(nodes.words(eye.lifted(placed, 4)[len(placed) // 2], told, 14))

    def close(self):
        for eye in self._eyes:
            eye.close()
