"""The panel of a repair: damage, layup, resin and shop, with the plan's totals kept live.

FreeCAD opens and closes it as it does any editing (`setEdit`, `unsetEdit` of the repair's view), so
that Escape, a double click elsewhere, closing the document and undoing the repair itself all end it.
Each change is a step to undo; Cancel takes back all that was done since the panel was opened, and is
a step itself.
"""
import FreeCAD
import FreeCADGui
from PySide import QtCore

from tearline_cad.document import drawn, ground_scans, keys, properties, survey, tables
from tearline_cad.document import repair as repairs
from tearline_cad.document.words import tr
from tearline_cad.marking.marker import Marker
from tearline_cad.marking.place_pick import PlacePick
from tearline_cad.panel import cloth_form, fields, frame, places_box, scan_tables, task
from tearline_cad.panel.damage_box import DamageBox
from tearline_cad.panel.layup_box import LayupBox
from tearline_cad.panel.live_plan import LivePlan
from tearline_cad.panel.result_box import ResultBox
from tearline_cad.panel.strip import Strip
from tearline_cad.view import look, redraw

LAP = {"LapOver", "EdgeTurn", "EdgeRadius"}
GEL = ["GelTemperature", "GelPercent", "GelMass"]
EPOXY, OTHERS = {"HardenerParts"}, {"HardenerPercent", "HardenerRange"}
# Steps that are not one with the same one before.
EACH_ITS_OWN = ("Mark a point", "Move a point", "Take a point away", "Press first")
PLAN_BUTTON, STOP_BUTTON, MOVE_BUTTON, PICKED_BUTTON = "plan", "stop", "move", "picked"
SCAN_PLACES = ("BowPoints", "UpPoints", "LevelPoints")


class RepairPanel(task.OkCancelPanel):
    def __init__(self, repair, marking, begun=False):
        FreeCADGui.Selection.clearSelection()  # its colour would cover the hull's
        self.repair, self._begun = repair, begun
        self.document = repair.Document
        self.name = self.document.Name
        self._step = None  # the step to undo that is under way
        self._closed = False
        self._button = ""
        self._had = {name: _copied(getattr(repair, name)) for name in _own_properties(repair)}
        self.marker = self._scan_pick = None
        self.plan = LivePlan(repair, self._planned, self._drafting)
        self.strip = Strip(self._pressed)
        self.damage = DamageBox(repair, self._told, self._mark, self._clear)
        self.result = ResultBox(repair, self._fly)
        self.layup = LayupBox(repair, self._told, self._pick_press_first)
        self._forms = self._make_forms()
        sections = [frame.Section(tr("Damage"), self.damage), frame.Section(tr("Plan"), self.result),
                    frame.Section(tr("Layup"), self.layup, folded=True)]
        sections += [frame.Section(title, form, folded=True) for title, form in self._forms]
        self.form = frame.Frame(task.title(tr("Repair"), repair), self.strip, sections)
        self.damage.mark.setEnabled(repair.Hull is not None)
        self._follow()
        self._tell_state()
        if marking and repair.Hull is not None:
            self.damage.mark.setChecked(True)
        if not repair.PlannedJob:
            self.plan.changed()

    def _make_forms(self):
        def form(name, names, shows=lambda each: True):
            return fields.Form(name, self.repair, names, self._told, shows)

        group = fields.names_of_group
        return [
            (tr("Own cloths"), cloth_form.ClothForm(self.repair, self._told)),
            (tr("Resin"), form("Resin", group("Resin") + GEL, self._shows_resin)),
            (tr("Topcoat"), form("Topcoat", group("Topcoat"))),
            (tr("Shop and sheets"), form("Shop", ["Title", *group("Shop"), "SafetyFactor", "BondShear",
                                                  "DisplayUnits"])),
            (tr("Hull"), form("Hull", ["Mirror", "Surface", "Skin", "Outward", "ExactMesh"])),
            (tr("Scan"), places_box.Surveyed("Scan", [
                form("ScanForm", group("Scan")), self._places(SCAN_PLACES), self._seen_from(),
                self._tables(survey.TAPE), self._tables(survey.CREASE)])),
            (tr("Scan of the ground"), places_box.Surveyed("GroundScans", [
                scan_tables.ScanTables(self.repair, path, self._told, self._do, self._pick_on)
                for path in ground_scans.PATHS])),
            (tr("Marks"), places_box.Surveyed("Marks", [self._tables(tables.MARKS)])),
            (tr("Openings"), places_box.Surveyed("Openings", [self._tables(survey.OPENING)])),
            (tr("End of the hull"), places_box.Surveyed("EndOfHull", [
                form("Ends", group("Ends"), self._shows_end), self._places(("Within",))])),
            (tr("Right through"), form("Through", group("Through") + group("Backing"),
                                       self._shows_through)),
            (tr("Core"), form("Core", group("Core"), self._shows_core)),
        ]

    def _places(self, props):
        return places_box.PlacesForm(self.repair, props, self._told, self._pick)

    def _tables(self, path):
        return places_box.TableList(self.repair, path, self._told, self._pick)

    def _seen_from(self):
        """Nobody can click a place that is off the hull: it is where the eye is now."""
        return places_box.PlacesForm(self.repair, ("SeenFrom",), self._told,
                                     lambda words, count, done: done([look.eye_place(self.repair)]))

    # -- which fields matter -------------------------------------------------------------------

    def _shows_resin(self, name):
        if name in GEL:
            return self.repair.GelMinutes > 0
        return name not in (OTHERS if self.repair.ResinKind == "epoxy" else EPOXY)

    def _shows_end(self, name):
        return name not in LAP or self.repair.AtEnd == "lap"

    def _cored(self):
        return self.repair.CoreThickness.Value > 0

    def _shows_through(self, name):
        return name == "Through" or self.repair.Through or \
            self._cored() and name.startswith("Backing")

    def _shows_core(self, name):
        return name == "CoreThickness" or self._cored()

    # -- changes -------------------------------------------------------------------------------

    def _begin(self, words):
        """A new step to undo; one field changed again and again is one step."""
        if words != self._step or words in EACH_ITS_OWN:
            self.document.openTransaction(tr(words))
        self._step = words

    def _told(self, name, value):
        """A field was changed."""
        self._begin(fields.words_of(name))
        setattr(self.repair, name, value)
        self._edited()

    def _do(self, words, act):
        """Several properties are changed in one step."""
        self._begin(words)
        act()
        self._edited()

    def _edited(self):
        self._follow()
        if self.marker:
            self.marker.refresh()
        self.plan.changed()

    def _follow(self):
        """Every field shows what its property is now."""
        for box in (self.damage, self.layup, *(form for _, form in self._forms)):
            box.follow()

    def _marked(self, changed):
        """A point was moved, or the outline has come."""
        self.damage.tell(self.marker.draft.words if self.marker else "")
        if changed:
            self.layup.follow()
            self.plan.changed()
        elif self.marker and self.marker.off:
            self._tell("refused", tr("Points no longer lie on the hull") +
                       f" ({len(self.marker.off)}). " + tr("Move them to the nearest place of it?"),
                       tr("Move"), MOVE_BUTTON)

    def _clear(self):
        self._begin(tr("Mark anew"))
        self.repair.Outline = []
        self.repair.Centred = False
        self._edited()

    def _mark(self, on):
        if on and self.marker is None:
            redraw.hushed.add((self.name, self.repair.Name))
            self.marker = Marker(self.repair, self._begin, self._take_back, self._marked,
                                 lambda: self.damage.mark.setChecked(False))
        elif not on:
            self._end_marking()
        self.damage.follow()
        redraw.redraw_soon(self.repair)

    def _end_marking(self):
        if self.marker is not None:
            self.marker.close()
            self.marker = None
        redraw.hushed.difference_update([key for key in redraw.hushed if key[0] == self.name])
        if not self._closed:
            self.damage.tell("")

    def _take_back(self):
        """The step under way never was."""
        self.document.abortTransaction()
        self._step = None
        self._edited()

    def _pick(self, words, count, on_picked):
        """Places of the hull are clicked; the strip says which."""
        self.damage.mark.setChecked(True)
        if self.marker is None:
            return

        def picked(points):
            if points:
                on_picked(points)
            self._tell_state()

        self.marker.pick(count, picked)
        self._tell("pick", words, "" if count else tr("Done"), PICKED_BUTTON)

    def _pick_on(self, thing, words, named, on_place):
        """A place of a scan is clicked; `named`: those that are marked on it already."""
        self.damage.mark.setChecked(False)
        self._end_scan_pick()

        def placed(point):
            self._end_scan_pick()
            on_place(point)

        thing.ViewObject.Visibility = True
        look.at_thing(self.repair, thing)
        self._tell("pick", words, tr("Done"), PICKED_BUTTON)
        self._scan_pick = PlacePick(thing, placed, self._end_scan_pick)
        self._scan_pick.show_named(named)
        self._scan_pick.take_keys()

    def _end_scan_pick(self):
        if self._scan_pick is not None:
            self._scan_pick.close()
            self._scan_pick = None
            self._tell_state()

    def _finish_pick(self):
        self._end_scan_pick()
        if self.marker and self.marker.picking:
            self.marker.finish_pick()

    def _pick_press_first(self):
        self.damage.mark.setChecked(True)
        if self.marker:
            self.marker.picks_press_first = True
            self.layup.press.setText(tr("Click on the hull"))

    def _put_on_hull(self):
        self._begin(tr("Move points onto the hull"))
        outline = list(self.repair.Outline)
        for number, place in self.marker.off:
            outline[number] = place
        self.repair.Outline = outline
        self._edited()

    # -- the plan ------------------------------------------------------------------------------

    def _drafting(self):
        """The outline that follows the mouse comes before the plan, which waits for its release."""
        return self.marker is not None and (self.marker.draft.busy or self.marker.dragging)

    def _planned(self, words, fraction, key="", fault=False):
        """What the live plan says: words on what is missing or going on."""
        if fraction is not None:
            self._tell("planning", words, tr("Stop"), STOP_BUTTON, fraction)
        elif words != repairs.PLANNED:
            with drawn.put_off():  # for the redraw that the new state begins
                repairs.not_planned(self.repair, words, fault, key)
            self._tell_state()
        else:
            self._tell_state()

    def _tell(self, kind, words="", button="", act="", fraction=None):
        if self._scan_pick or kind != "pick" and self.marker and self.marker.picking:
            return  # what is to be clicked stays in sight
        self._button = act
        self.strip.tell(kind, words, button, fraction)
        self.result.tell(kind != "planned" and bool(self.repair.PlannedJob))

    def _tell_state(self):
        """The strip says what the repair is; a field at fault is marked and brought into sight."""
        state = self.repair.PlanState
        at_fault = fields.mark(self.form, keys.property_of(self.repair.Fault))
        if state == repairs.PLANNED:
            self._tell("planned")
        elif state.startswith(repairs.REFUSED):
            self._tell("refused", state[len(repairs.REFUSED):])
            if at_fault is not None:
                self.form.reveal(at_fault)
        else:
            self._tell("missing", state)

    def _pressed(self):
        {PLAN_BUTTON: self._plan_now, STOP_BUTTON: self._stop, MOVE_BUTTON: self._put_on_hull,
         PICKED_BUTTON: self._finish_pick,
         "": lambda: None}[self._button]()

    def _plan_now(self):
        self._begin(tr("Plan"))
        self.plan.changed()

    def _stop(self):
        self.plan.stop()
        self._tell("stale", tr("Stopped; the plan from before is shown"), tr("Plan"), PLAN_BUTTON)

    def undone(self):
        """The document went a step back or forth."""
        self._step = None
        self.plan.stop()
        self._follow()
        if self.marker:
            self.marker.refresh()
        if self.plan.fits():
            self._tell_state()
        else:
            # A plan now would be a step of its own, and what was undone could not come again.
            self._tell("stale", tr("Changed by undoing; planned at the next change"), tr("Plan"),
                       PLAN_BUTTON)

    def is_own(self, prop):
        """Whether a person sets this property."""
        return prop in self._had

    def changed_elsewhere(self):
        """A property was set by something else than the panel: in FreeCAD's property editor, by a macro, or the hull
        was deleted. What it shows is then of an older plan."""
        if self._closed or self.plan.busy:
            return
        if self.repair.PlanState != repairs.PLANNED or not self.plan.fits():
            self._edited()

    def _fly(self, place):
        look.at_place(self.repair, place)

    # -- FreeCAD asks --------------------------------------------------------------------------

    def _end(self):
        """Nothing stays behind: no filter, no overlay, no dialog."""
        global _current
        if self._closed:
            return
        self.plan.close()
        self._closed = True
        _current = None
        self._end_marking()
        if self._scan_pick is not None:
            self._scan_pick.close()
        FreeCADGui.Control.closeDialog()

    def document_goes(self):
        """Nothing of the document may be touched any more."""
        self._end()

    def left(self):
        """FreeCAD ends the editing: what was done stays. The repair may be about to go, too, so that what
        is left to do waits until that is over."""
        if self._closed:
            return
        document, name = self.name, self.repair.Name
        self._end()
        QtCore.QTimer.singleShot(0, lambda: _finish(document, name))

    def accept(self):
        if self._step is None and self.repair.PlanState != repairs.PLANNED:
            self._begin("Plan")
        name = self.repair.Name
        self._end()
        FreeCADGui.getDocument(self.name).resetEdit()
        _finish(self.name, name)
        return True

    def reject(self):
        self._end()
        self._take_all_back()
        FreeCADGui.getDocument(self.name).resetEdit()
        return True

    def _take_all_back(self):
        changed = [name for name, value in self._had.items()
                   if not _same(getattr(self.repair, name), value)]
        if not changed and not self._begun:
            return
        self.document.openTransaction(tr("Cancel"))
        if self._begun:
            repairs.delete(self.repair)
        else:
            spare = [each for each in self.repair.Scans if each not in self._had["Scans"]]
            for name in changed:
                setattr(self.repair, name, self._had[name])
            for each in spare:
                self.document.removeObject(each.Name)
            self.repair.touch()
            with drawn.put_off():
                self.document.recompute()
            redraw.redraw_soon(self.repair)
        self.document.commitTransaction()


def _finish(document, name):
    """A repair that is no longer edited has its plan, and its last step to undo is whole."""
    if document not in FreeCAD.listDocuments():
        return
    document = FreeCAD.getDocument(document)
    repair = document.getObject(name)
    if repair is not None:
        repair.touch()
        with drawn.put_off():
            document.recompute()
        redraw.redraw_soon(repair)
    document.commitTransaction()


def _own_properties(repair):
    """Properties that a person sets."""
    return [name for name, *_ in properties.OWN] + [key.prop for key in keys.KEYS]


def _copied(value):
    """A value that does not follow its property."""
    if isinstance(value, FreeCAD.Vector):
        return FreeCAD.Vector(value)
    return list(value) if isinstance(value, (list, tuple)) else getattr(value, "Value", value)


def _same(value, had):
    return _copied(value) == had


class _Watcher:
    """A document may be closed while its panel is open; told while its views are still there."""

    def slotDeletedDocument(self, document):
        if _current is not None and _current.name == document.Document.Name:
            _current.document_goes()


class _UndoWatcher:
    """Undoing follows in the panel; what it removes altogether closes it (`unsetEdit`)."""

    def _moved(self, document):
        if _current is not None and _current.name == document.Name \
                and document.getObject(_current.repair.Name) is not None:
            _current.undone()

    slotUndoDocument = slotRedoDocument = _moved

    def slotChangedObject(self, changed, prop):
        panel = _current
        if panel is not None and changed.Document is not None and not changed.Document.Transacting \
                and changed.Document.Name == panel.name and changed.Name == panel.repair.Name \
                and panel.is_own(prop):
            QtCore.QTimer.singleShot(0, panel.changed_elsewhere)


_watcher, _undo_watcher = _Watcher(), _UndoWatcher()
FreeCADGui.addDocumentObserver(_watcher)
FreeCAD.addDocumentObserver(_undo_watcher)
_current = None
_wanted = {"marking": False, "begun": False}


def current():
    """The panel that is open, or None."""
    return _current


def open_panel(repair, marking=False, begun=False):
    """Opens the panel, unless another one is open; returns it.

    marking   whether it begins with the marking of the damage
    begun     whether the repair is being made: Cancel then takes it away altogether
    """
    _wanted.update(marking=marking, begun=begun)
    try:
        if FreeCADGui.Control.activeDialog() and _current is None:
            FreeCADGui.Control.showTaskView()
            return None
        FreeCADGui.getDocument(repair.Document.Name).setEdit(repair.Name)
    finally:
        _wanted.update(marking=False, begun=False)
    return _current


def edit(repair):
    """FreeCAD begins to edit a repair; whether it can."""
    global _current
    panel = task.open_panel(RepairPanel, repair, **_wanted)
    if panel is not None:
        _current = panel
    return panel is not None


def leave():
    """FreeCAD ends the editing."""
    if _current is not None:
        _current.left()
