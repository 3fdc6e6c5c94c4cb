"""What is clicked in the 3D views while a repair's panel is open: the damage, other places of the hull, of a scan."""
from tearline_cad.marking.marker import Marker
from tearline_cad.marking.place_pick import PlacePick
from tearline_cad.view import look, redraw


class Clicks:
    """Marks while `switch`, a button, is down: who hears of its toggling calls mark(). Picks places in between.

    steps              those to undo; `on_abort()` after one was taken back by Escape
    on_change(moved)   as Marker's
    ask(words, ends)   what is to be clicked; `ends`: whether the person says when that is enough
    on_end()           nothing is to be picked any more
    """

    def __init__(self, repair, switch, steps, on_abort, on_change, ask, on_end):
        self.repair, self._switch, self._steps = repair, switch, steps
        self._on_abort, self._on_change, self._ask, self._on_end = on_abort, on_change, ask, on_end
        self._document = repair.Document.Name
        self.marker = self._scan_pick = None

    # -- the damage ----------------------------------------------------------------------------

    def mark(self, on):
        """Marking begins or ends."""
        if on and self.marker is None:
            redraw.hushed.add((self._document, self.repair.Name))
            self.marker = Marker(self.repair, self._steps.begin, self._take_back, self._on_change,
                                 lambda: self._switch.setChecked(False))
        elif not on:
            self._end_marking()

    def _end_marking(self):
        if self.marker is not None:
            self.marker.close()
            self.marker = None
        redraw.hushed.difference_update([key for key in redraw.hushed if key[0] == self._document])

    def _take_back(self):
        self._steps.abort()
        self._on_abort()

    def refresh(self):
        """The repair was changed elsewhere."""
        if self.marker:
            self.marker.refresh()

    @property
    def draft_words(self):
        """What the engine says to the outline."""
        return self.marker.draft.words if self.marker else ""

    @property
    def off(self):
        """Points that do not lie on the hull any more, each with the place of it that is nearest."""
        return self.marker.off if self.marker else []

    @property
    def drafting(self):
        """Whether the outline follows the mouse."""
        return self.marker is not None and (self.marker.draft.busy or self.marker.dragging)

    # -- other places --------------------------------------------------------------------------

    @property
    def picking_on_hull(self):
        return self.marker is not None and self.marker.picking

    @property
    def picking_on_scan(self):
        return self._scan_pick is not None

    def pick(self, words, count, on_picked):
        """Places of the hull are clicked: `count` of them, 0: as many as the person likes."""
        self._switch.setChecked(True)
        if self.marker is None:
            return

        def picked(points):
            if points:
                on_picked(points)
            self._on_end()

        self.marker.pick(count, picked)
        self._ask(words, not count)

    def pick_on(self, thing, words, named, on_place):
        """A place of a scan is clicked; `named`: those that are marked on it already."""
        self._switch.setChecked(False)
        self._end_scan_pick()

        def placed(point):
            self._end_scan_pick()
            on_place(point)

        thing.ViewObject.Visibility = True
        look.at_thing(self.repair, thing)
        self._ask(words, True)
        self._scan_pick = PlacePick(thing, placed, self._end_scan_pick)
        self._scan_pick.show_named(named)
        self._scan_pick.take_keys()

    def _end_scan_pick(self):
        if self._scan_pick is not None:
            self._scan_pick.close()
            self._scan_pick = None
            self._on_end()

    def finish_pick(self):
        """What was picked is enough."""
        self._end_scan_pick()
        if self.picking_on_hull:
            self.marker.finish_pick()

    def close(self):
        """Nothing stays behind, and nobody is told."""
        self._end_marking()
        if self._scan_pick is not None:
            self._scan_pick.close()
