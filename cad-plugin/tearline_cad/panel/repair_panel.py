"""The panel of a repair: damage, layup, resin and shop, with the plan's totals kept live.

Each change is a step to undo; Cancel takes back all that was done since the panel was opened, and is
a step itself. Which panel is open stands in open_repair.py.
"""
import FreeCADGui
from PySide import QtCore

from tearline_cad.document import drawn
from tearline_cad.document import repair as repairs
from tearline_cad.document.words import tr
from tearline_cad.panel import fields, frame, places_box, task
from tearline_cad.panel.clicks import Clicks
from tearline_cad.panel.damage_box import DamageBox
from tearline_cad.panel.layup_box import LayupBox
from tearline_cad.panel.live_plan import LivePlan
from tearline_cad.panel.result_box import ResultBox
from tearline_cad.panel.sections import sections_of
from tearline_cad.panel.steps import Steps, finish
from tearline_cad.panel.strip import Strip
from tearline_cad.view import look, redraw

PLAN_BUTTON, STOP_BUTTON, MOVE_BUTTON, PICKED_BUTTON = "plan", "stop", "move", "picked"


class RepairPanel(task.OkCancelPanel):
    """`on_end()`: it is open no more; `marking`, `begun` as in open_repair.open_panel()."""

    def __init__(self, repair, on_end, marking, begun=False):
        FreeCADGui.Selection.clearSelection()  # its colour would cover the hull's
        self.repair, self._on_end = repair, on_end
        self.name, self._repairs_name = repair.Document.Name, repair.Name
        self.steps = Steps(repair, begun)
        self._closed = False
        self._button = ""
        # The outline that follows the mouse comes before the plan, which waits for its release.
        self.plan = LivePlan(repair, self._planned, lambda: self.clicks.drafting)
        self.strip = Strip(self._pressed)
        self.damage = DamageBox(repair, self._told, self._mark, self._clear)
        self.result = ResultBox(repair, self._fly)
        self.layup = LayupBox(repair, self._told, self._pick)
        self.clicks = Clicks(repair, self.damage.mark, self.steps, self._edited, self._marked,
                             self._tell_pick, self._tell_state)
        redraw.begin_editing(repair)
        self._forms = sections_of(repair, self._told, self._do, self._pick, self.clicks.pick_on)
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

    @property
    def marker(self):
        """What marks the damage, or None."""
        return self.clicks.marker

    # -- changes -------------------------------------------------------------------------------

    def _told(self, name, value):
        """A field was changed."""
        self._do(fields.words_of(name), lambda: setattr(self.repair, name, value))

    def _do(self, words, act):
        """Several properties are changed in one step."""
        self.steps.begin(words)
        act()
        self._edited()

    def _edited(self):
        self._follow()
        self.clicks.refresh()
        self.plan.changed()

    def _follow(self):
        """Every field shows what its property is now."""
        for box in (self.damage, self.layup, *(form for _, form in self._forms)):
            box.follow()

    # -- the damage ----------------------------------------------------------------------------

    def _mark(self, on):
        self.clicks.mark(on)
        if on:
            self.damage.follow()
        else:
            self.damage.tell("")
        redraw.redraw_soon(self.repair)

    def _marked(self, changed):
        """A point was moved, or the outline has come."""
        self.damage.tell(self.clicks.draft_words)
        if changed:
            self.layup.follow()
            self.plan.changed()
        elif self.clicks.off:
            self._tell("refused", tr("Points no longer lie on the hull") +
                       f" ({len(self.clicks.off)}). " + tr("Move them to the nearest place of it?"),
                       tr("Move"), MOVE_BUTTON)

    def _clear(self):
        def clear():
            self.repair.Outline = []
            self.repair.Centred = False

        self._do(tr("Mark anew"), clear)

    def _put_on_hull(self):
        outline = list(self.repair.Outline)
        for number, place in self.clicks.off:
            outline[number] = place
        self._do(tr("Move points onto the hull"), lambda: setattr(self.repair, "Outline", outline))

    def _pick(self, words, count, on_picked):
        self.clicks.pick(words, count, on_picked)

    # -- what the strip says -------------------------------------------------------------------

    def _tell(self, kind, words="", button="", act="", fraction=None):
        if self.clicks.picking_on_scan or kind != "pick" and self.clicks.picking_on_hull:
            return  # what is to be clicked stays in sight
        self._button = act
        self.strip.tell(kind, words, button, fraction)
        self.result.tell(kind != "planned" and bool(self.repair.PlannedJob))

    def _tell_pick(self, words, ends):
        self._tell("pick", words, tr("Done") if ends else "", PICKED_BUTTON)

    def _tell_state(self):
        """The strip says what the repair is; a field at fault is marked and brought into sight."""
        state = self.repair.PlanState
        at_fault = fields.mark(self.form, repairs.asked(self.repair) or places_box.widget_of(self.repair.Fault))
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
         PICKED_BUTTON: self.clicks.finish_pick,
         "": lambda: None}[self._button]()

    # -- the plan ------------------------------------------------------------------------------

    def _planned(self, words, fraction, key="", fault=False):
        """What the live plan says: words on what is missing or going on."""
        if fraction is not None:
            self._tell("planning", words, tr("Stop"), STOP_BUTTON, fraction)
            return
        if words != repairs.PLANNED:
            with drawn.put_off():  # for the redraw that the new state begins
                repairs.not_planned(self.repair, words, fault, key)
        self._tell_state()

    def _plan_now(self):
        self.steps.begin(tr("Plan"))
        self.plan.changed()

    def _stop(self):
        self.plan.stop()
        self._tell("stale", tr("Stopped; the plan from before is shown"), tr("Plan"), PLAN_BUTTON)

    def undone(self):
        """The document went a step back or forth."""
        self.steps.under_way = None
        self.plan.stop()
        self._follow()
        self.clicks.refresh()
        if self.plan.fits():
            self._tell_state()
        else:
            # A plan now would be a step of its own, and what was undone could not come again.
            self._tell("stale", tr("Changed by undoing; planned at the next change"), tr("Plan"),
                       PLAN_BUTTON)

    def is_own(self, prop):
        """Whether a person sets this property."""
        return self.steps.is_own(prop)

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
        if self._closed:
            return
        self.plan.close()
        self._closed = True
        redraw.end_editing(self.name, self._repairs_name)
        self._on_end()
        self.clicks.close()
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
        QtCore.QTimer.singleShot(0, lambda: finish(document, name))

    def accept(self):
        if self.steps.under_way is None and self.repair.PlanState != repairs.PLANNED:
            self.steps.begin("Plan")
        name = self.repair.Name
        self._end()
        FreeCADGui.getDocument(self.name).resetEdit()
        finish(self.name, name)
        return True

    def reject(self):
        self._end()
        self.steps.take_all_back()
        FreeCADGui.getDocument(self.name).resetEdit()
        return True
