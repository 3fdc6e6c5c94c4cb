"""The panel of a repair: damage, layup, resin and shop, with the plan's totals kept live."""
import FreeCAD
import FreeCADGui
from PySide import QtGui

from tearline_cad.document import keys
from tearline_cad.marking.marker import Marker
from tearline_cad.panel import fields, task
from tearline_cad.panel.damage_box import DamageBox
from tearline_cad.panel.layup_box import LayupBox
from tearline_cad.panel.live_plan import LivePlan
from tearline_cad.panel.result_box import ResultBox
from tearline_cad.view import redraw


def _hull_box(repair, on_change):
    rows = [("Mirror", keys.ENUM, "Whether the model is half a hull"),
            *fields.rows_of("Surface", "Skin", "Outward")]
    box = fields.form(repair, rows, on_change)
    box.setWindowTitle("Hull")
    return box


def _resin_box(repair, on_change):
    tabs = QtGui.QTabWidget()
    tabs.setWindowTitle("Resin and shop")
    gel = [(name, keys.FLOAT, "What the gel time was measured at")
           for name in ("GelTemperature", "GelPercent", "GelMass")]
    pages = (("Resin", fields.rows_of_group("Resin") + gel),
             ("Topcoat", fields.rows_of_group("Topcoat")),
             ("Shop", fields.rows_of_group("Shop") + fields.rows_of("SafetyFactor", "BondShear",
                                                                   "DisplayUnits")))
    for name, rows in pages:
        tabs.addTab(fields.form(repair, rows, on_change), name)
    return tabs


class RepairPanel(task.OkCancelPanel):
    """One undo step from opening to OK; Cancel takes everything back."""

    def __init__(self, repair, marking, begun=False):
        FreeCADGui.Selection.clearSelection()  # its colour would cover the hull's
        self.repair = repair
        self.document = repair.Document
        self.name = self.document.Name
        if not begun:
            self.document.openTransaction(f"Edit {repair.Label}")
        self.marker = None
        self.plan = LivePlan(repair, self._planned, self._drafting)
        self.damage = DamageBox(repair, self._edited, self._mark)
        self.result = ResultBox(repair, self._stop)
        self.form = [self.damage, self.result, LayupBox(repair, self._edited),
                     _resin_box(repair, self._edited), _hull_box(repair, self._edited)]
        self.damage.mark.setEnabled(repair.Hull is not None)
        self.result.tell(repair.PlanState, None)
        self.damage.follow("")
        if marking and repair.Hull is not None:
            self.damage.mark.setChecked(True)
        if not repair.PlannedJob:
            self.plan.changed()

    # -- changes -------------------------------------------------------------------------------

    def _edited(self):
        """A field was changed."""
        if self.marker:
            self.marker.refresh()
        self.plan.changed()

    def _marked(self, changed):
        """A point was moved, or the outline has come."""
        self.damage.follow(self.marker.draft.words if self.marker else "")
        if changed:
            self.plan.changed()

    def _mark(self, on):
        key = (self.name, self.repair.Name)
        if on and self.marker is None:
            redraw.hushed.add(key)
            view = FreeCADGui.getDocument(self.document.Name).activeView()
            self.marker = Marker(self.repair, view, self._marked)
        elif not on and self.marker is not None:
            self.marker.close()
            self.marker = None
            redraw.hushed.discard(key)
            self.damage.follow("")
        if self.name in FreeCAD.listDocuments():
            redraw.redraw_soon(self.repair)

    def _drafting(self):
        """The outline that follows the mouse comes before the plan, which waits for its release."""
        return self.marker is not None and (self.marker.draft.busy or self.marker.dragging)

    def _planned(self, words, fraction, key=""):
        self.result.tell(words, fraction)
        fields.mark(self.form, keys.property_of(key))

    def _stop(self):
        self.plan.stop()
        self.result.tell("Stopped; the plan from before is shown", None)

    # -- FreeCAD asks --------------------------------------------------------------------------

    def _close(self):
        global _current
        _current = None
        self._mark(False)
        self.plan.close()
        FreeCADGui.Control.closeDialog()

    def document_goes(self):
        """Nothing of the document may be touched any more."""
        self._close()

    def accept(self):
        self._close()
        self.repair.touch()
        self.document.recompute()
        self.document.commitTransaction()
        return True

    def reject(self):
        self._close()
        self.document.abortTransaction()
        self.document.recompute()
        return True


class _Watcher:
    """A document may be closed while its panel is open; told while its views are still there."""

    def slotDeletedDocument(self, document):
        if _current is not None and _current.name == document.Document.Name:
            _current.document_goes()


_watcher = _Watcher()
FreeCADGui.addDocumentObserver(_watcher)
_current = None


def current():
    """The panel that is open, or None."""
    return _current


def open_panel(repair, marking=False, begun=False):
    """Opens the panel, unless another one is open; returns it.

    begun   whether the undo step has been opened already, by the making of the repair
    """
    global _current
    panel = task.open_panel(RepairPanel, repair, marking, begun)
    if panel is not None:
        _current = panel
    return panel
