"""Marks the damage by mouse: click to add, drag to move, right click or Delete to take away. A click just beside
the hull means its end. Other places are picked in between, as many as are asked for.

Every 3D view of the document can be marked in. The repair keeps its points in the hull's own
coordinates; what is seen and clicked is in the document's.
"""
import time

import FreeCADGui
from PySide import QtCore

from tearline_cad.document import frames, on_hull, rims, survey
from tearline_cad.marking.draft import Draft
from tearline_cad.marking.eye import Eye
from tearline_cad.marking.handles import handles_of

REACH = 10  # [pixels] how near a handle or the curve counts as on it
STILL = 4  # [pixels] a press that moves less is a click
QUICK = 0.003  # [s] a look through a pixel that may be done a few dozen times
SPARSE = 0.05  # [s] between two looks at what is under a mouse that only moves about


def views_of(document):
    gui = FreeCADGui.getDocument(document.Name)
    return gui.mdiViewsOfType("Gui::View3DInventor") if gui else []


class Marker:
    """Marks from now until close().

    begin(words)   called before each change to the repair: a step to undo
    take_back()    undoes the step under way
    on_change(moved)   after every change to the repair (True), and whenever a new outline has come
                       (False)
    on_leave()     Escape, with nothing under way that it takes back
    """

    def __init__(self, repair, begin, take_back, on_change, on_leave):
        self.repair = repair
        self._begin, self._take_back = begin, take_back
        self._on_change, self._on_leave = on_change, on_leave
        self._wanted, self._picked, self._on_picked = 0, None, None  # places that are being picked
        self._deleted = False  # the right button that took a point away is still down
        self._held = None  # number of the handle that is being dragged
        self._dragged = False  # whether it has been moved
        self._went_back = False  # the Escape that took a drag back is still down
        self._pressed = None  # pixel where a click began
        self._last = None  # number of the handle touched last, for the Delete key
        self._looked = 0.0
        self._off = []  # (number, nearest place) of points that do not lie on the hull
        self.draft = Draft(repair, self._drafted)
        self._eyes = [Eye(view, repair.Hull, self._handle) for view in views_of(repair.Document)]
        self.refresh()

    @property
    def dragging(self):
        return self._held is not None

    @property
    def off(self):
        """Points that do not lie on the hull any more, each with the place of it that is nearest."""
        return self._off

    # -- other places --------------------------------------------------------------------------

    @property
    def picking(self):
        return self._picked is not None

    def pick(self, count, on_picked):
        """The next clicks on the hull are places, told when there are `count` of them; 0: by finish_pick()."""
        self._wanted, self._picked, self._on_picked = count, [], on_picked
        for eye in self._eyes[:1]:
            eye.take_keys()  # Escape is meant for the picking, not for the panel whose button was pressed
        self._draw()

    def finish_pick(self, kept=True):
        """Ends the picking; `kept`: what was picked is told."""
        picked, self._picked = self._picked, None
        if kept and picked:
            self._on_picked(picked)
        else:
            self._on_picked(None)
        self._draw()

    def _pick(self, point):
        self._picked.append(point)
        if len(self._picked) == self._wanted:
            self.finish_pick()
        else:
            self._draw()

    # -- mouse and keys ------------------------------------------------------------------------

    def _handle(self, eye, event):
        # A second press soon after a first one is a press, too: a point just marked is dragged at once.
        act = {QtCore.QEvent.MouseButtonPress: self._press, QtCore.QEvent.MouseButtonDblClick: self._press,
               QtCore.QEvent.MouseMove: self._move,
               QtCore.QEvent.MouseButtonRelease: self._release,
               QtCore.QEvent.KeyPress: self._key,
               QtCore.QEvent.KeyRelease: self._key_up}.get(event.type())
        return act(eye, event) if act else False

    def _key(self, eye, event):
        if event.key() == QtCore.Qt.Key_Escape:
            if self.picking:
                self._went_back = True
                self.finish_pick(False)
            elif self._held is not None:
                self._held_back()
            return True
        if self.picking:
            if event.key() in (QtCore.Qt.Key_Return, QtCore.Qt.Key_Enter):
                self.finish_pick()
            elif event.key() in (QtCore.Qt.Key_Delete, QtCore.Qt.Key_Backspace) and self._picked:
                self._picked.pop()
                self._draw()
            return True
        if event.key() in (QtCore.Qt.Key_Delete, QtCore.Qt.Key_Backspace):
            return self._delete(self._last)
        return False

    def _key_up(self, eye, event):
        """Escape ends the marking when it is let go: FreeCAD would end the editing at that, too."""
        if event.key() != QtCore.Qt.Key_Escape:
            return False
        if self._went_back:
            self._went_back = False
        else:
            self._on_leave()
        return True

    def _held_back(self):
        """A drag goes back where it began."""
        self._held, self._went_back = None, True
        if self._dragged:
            self._take_back()

    def _press(self, eye, event):
        pixel = eye.picker.pixel(event)
        handle = eye.picker.nearest(pixel, self.handles(), REACH)
        if event.button() == QtCore.Qt.RightButton:
            self._deleted = not self.picking and self._delete(handle)
            return self._deleted
        if event.button() != QtCore.Qt.LeftButton or event.modifiers():
            return False
        if handle is None or self.picking:
            self._pressed = pixel
            return False  # the view may turn by this button
        self._held = self._last = handle
        self._dragged = False
        return True

    def _place(self, eye, pixel):
        """The place of the hull under a pixel, or of its end just beside it, in the hull's own coordinates;
        or None."""
        back = frames.frame_of(self.repair.Hull).inverse()
        point = eye.picker.on_hull(pixel)
        if point is not None:
            return back.multVec(point)
        point = eye.picker.beside_hull(pixel, REACH)
        end = point and rims.nearest_end(self.repair.Hull, back.multVec(point))
        near = end and eye.picker.distance(pixel, frames.frame_of(self.repair.Hull).multVec(end[1])) <= 2 * REACH
        return end[1] if near else None

    def _move(self, eye, event):
        if self._held is None:
            self._look(eye, event)
            return False
        point = self._place(eye, eye.picker.pixel(event))
        eye.show_allowed(point is not None)
        if point is not None:
            if not self._dragged:
                self._dragged = True
                self._begin("Move a point")
            handles_of(self.repair).drag(self._held, point)
            self._changed()
        return True

    def _look(self, eye, event):
        """The cursor says whether a click here marks."""
        now = time.monotonic()
        if event.buttons() or now - self._looked < SPARSE:
            return
        self._looked = now
        pixel = eye.picker.pixel(event)
        eye.show_allowed(eye.picker.nearest(pixel, self.handles(), REACH) is not None
                         or self._can_mark(eye, pixel))

    def _can_mark(self, eye, pixel):
        begun = time.monotonic()
        if eye.picker.on_hull(pixel) is not None:
            return True
        # Of a scan with millions of facets the looks beside it would make the mouse stand still.
        return time.monotonic() - begun < QUICK and self._place(eye, pixel) is not None

    def _release(self, eye, event):
        if self._deleted and event.button() == QtCore.Qt.RightButton:
            self._deleted = False
            return True  # no menu
        if event.button() != QtCore.Qt.LeftButton:
            return False
        if self._held is not None:
            self._held = None
            return True
        pressed, self._pressed = self._pressed, None
        pixel = eye.picker.pixel(event)
        if pressed is None or max(abs(a - b) for a, b in zip(pressed, pixel)) > STILL:
            return False
        point = self._place(eye, pixel)
        if point is not None:
            self._click(eye, pixel, point)
        return False

    def _click(self, eye, pixel, point):
        if self.picking:
            self._pick(point)
            return
        self._begin("Mark a point")
        beside = eye.picker.nearest(pixel, self._placed(self.draft.outline), REACH) is not None
        handles_of(self.repair).click(point, self.draft, beside)
        self._last = None
        self._changed()

    def _delete(self, handle):
        if handle is None or handle >= len(self.handles()):
            return False
        self._begin("Take a point away")
        handles_of(self.repair).delete(handle)
        self._last = None
        self._changed()
        return True

    # -- drawing -------------------------------------------------------------------------------

    def _placed(self, points):
        frame = frames.frame_of(self.repair.Hull)
        return [frame.multVec(point) for point in points]

    def handles(self):
        """In the document's coordinates."""
        return self._placed(handles_of(self.repair).handles(self.draft))

    def _changed(self):
        self._off = []
        self._draw()
        self.draft.update()
        self._on_change(True)

    def refresh(self):
        """The repair was changed elsewhere."""
        self._held = self._last = None
        self._off = []
        self._draw()
        self.draft.update()

    def _drafted(self):
        points = self.repair.Outline if self.repair.DamageShape == "points" else []
        # Only a refused outline is looked at: measuring to a large hull takes its time.
        self._off = on_hull.off_hull(self.repair.Hull, points) if self.draft.words and points else []
        self._draw()
        self._on_change(False)

    def _draw(self):
        handles = self.handles()
        off = [(handles[number], self._placed([place])[0]) for number, place in self._off]
        fault = self.draft.fault and self._placed([self.draft.fault])[0]
        pressed = self._placed(self.repair.PressFirst)
        surveyed = [each._replace(points=self._placed(each.points)) for each in survey.surveyed(self.repair)]
        if self._picked:
            surveyed.append(survey.Surveyed("mark", self._placed(self._picked), False, str(len(self._picked))))
        for eye in self._eyes:
            eye.draw(self._placed(self.draft.outline),
                     [self._placed(loop) for loop in self.draft.scarf], handles, off,
                     None if off else fault, pressed, surveyed)

    def close(self):
        self.draft.close()
        for eye in self._eyes:
            eye.close()
