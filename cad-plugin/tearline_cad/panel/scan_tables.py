"""Scans of the ground place and of work half done: a file each, what it was made with, its marks by clicks on it."""
import FreeCAD
from tearline_cad.document import ground_scans, tables
from tearline_cad.document.words import tr
from tearline_cad.panel import fields, model_dialog
from tearline_cad.panel.elided import Button
from tearline_cad.panel.places_box import TableList, place_of

LEAST = 3  # marks that lay a scan on the hull


class ScanTables(TableList):
    """`do(words, act)`: one step to undo; `pick_on(thing, words, named, on_place)`: a place of a scan is clicked."""

    def __init__(self, repair, path, told, do, pick_on):
        super().__init__(repair, path, told, None)
        self._do, self._pick_on = do, pick_on

    def _one_more(self):
        path, unit = model_dialog.ask("Scan", model_dialog.MEASURED)
        if path:
            model_dialog.taken(lambda: self._do("Scan", lambda: ground_scans.add(
                self.repair, self.path, ground_scans.read(self.repair, path, unit))))

    def _remove(self, number):
        self._do("Take a scan away", lambda: ground_scans.remove(self.repair, self.path, number))

    def follow(self):
        super().follow()
        self.add.setEnabled(self.path not in tables.ONE or not tables.all_of(self.repair, self.path))

    def _told_tables(self):
        # The marks of the hull are what a scan's marks can be.
        return [{**told, "of": self._names_on_hull()} for told in super()._told_tables()]

    def _names_on_hull(self):
        return [mark["name"] for mark in tables.all_of(self.repair, tables.MARKS)]

    def _entry(self, number, told):
        box = super()._entry(number, told)
        names, marked = self._names_on_hull(), told.get("marks") or {}
        button = Button(tr("Marks") + ": " + (", ".join(marked) or tr("click on the scan")))
        button.setObjectName(f"{self._title} {number + 1} marks")
        button.setToolTip(tr("Click each mark of the hull on the scan; three or more lay it on the hull, without them "
                             "it lies as it is"))
        button.setEnabled(len(names) >= LEAST and ground_scans.thing_of(self.repair, told) is not None)
        button.clicked.connect(lambda *_: self._next_mark(
            number, [name for name in names if name not in marked] or names))
        fields.begin_at_left(button)
        box.layout().addRow(button)
        return box

    def _head_of(self, number, told):
        thing = ground_scans.thing_of(self.repair, told)
        return thing.Label if thing else str(told.get("model", ""))

    def _next_mark(self, number, names):
        """The first of these marks is clicked on the scan, then the next one."""
        told = tables.all_of(self.repair, self.path)[number]
        thing = ground_scans.thing_of(self.repair, told)
        if not names or thing is None:
            return
        marked = told.get("marks") or {}

        def placed(point):
            self._change(number, "marks", {**marked, names[0]: place_of(point)})
            self._next_mark(number, names[1:])

        self._pick_on(thing, f"{tr('Click on the scan: mark')} {names[0]}",
                      {name: FreeCAD.Vector(*at) for name, at in marked.items()}, placed)
