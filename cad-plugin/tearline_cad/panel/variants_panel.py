"""Every combination of a few values side by side, one of which can be taken over."""
import csv
import os
import re
import tempfile

from PySide import QtCore, QtGui

from tearline_cad.document import files, hull_file, job_file, job_text, keys
from tearline_cad.document.words import tr
from tearline_cad.engine import find_program
from tearline_cad.panel import fields, task
from tearline_cad.window import program

# Columns of the engine's table beside those of the keys: what they are called, how they are told.
COLUMNS = [("ground_area_m2", "Ground, m²", "{:.4f}"), ("glass_g", "Glass, g", "{:.0f}"),
           ("resin_g", "Resin, g", "{:.0f}"), ("hours", "Work, h", "{:.1f}"), ("strain_max", "Strain, %", "{:.2f}")]
PERCENT = {"strain_max"}


def _paths():
    """{path: key} of what can be varied: figures, choices and lists of cloth."""
    return {f"{key.table}.{key.key}": key for key in keys.KEYS
            if key.table and key.kind in (keys.LENGTH, keys.FLOAT, keys.WHOLE, keys.ENUM, keys.STRINGS)}


class VariantsPanel(task.ClosePanel):
    def __init__(self, repair):
        super().__init__(repair)
        self.repair = repair
        self._process, self._closed, self._folder, self._varied, self.told = None, False, None, [], []
        self._paths = _paths()
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(task.title(tr("Variants"), repair))
        layout = QtGui.QVBoxLayout(self.form)
        fields.said(layout, tr("Values with commas between; every combination is planned"))
        self.choices = []
        for start, values in (("scarf.ratio", "10, 12, 15"), ("", ""), ("", "")):
            row = QtGui.QHBoxLayout()
            which = fields.choice(["", *self._paths], start, lambda path: None)
            which.setItemText(0, tr("nothing"))
            for number, (path, key) in enumerate(self._paths.items(), 1):
                which.setItemText(number, fields.words_of(key.prop))
                which.setItemData(number, path, QtCore.Qt.ToolTipRole)
            written = QtGui.QLineEdit(values)
            which.setObjectName(f"Varied {len(self.choices)}")
            written.setObjectName(f"Values {len(self.choices)}")
            for widget in (which, written):
                fields.make_narrow(widget)
                row.addWidget(widget, 1)
            self.choices.append((which, written))
            layout.addLayout(row)
        self.go = fields.button(layout, "Compare", self._go)
        self.words = fields.state(layout, "VariantsState")
        self.table = QtGui.QTableWidget()
        self.table.setObjectName("Variants")
        self.table.setSelectionBehavior(QtGui.QAbstractItemView.SelectRows)
        self.table.setSelectionMode(QtGui.QAbstractItemView.SingleSelection)
        self.table.setEditTriggers(QtGui.QAbstractItemView.NoEditTriggers)
        self.table.setMinimumHeight(240)
        self.table.itemSelectionChanged.connect(self._selected)
        layout.addWidget(self.table, 1)
        self.take = fields.button(layout, "Take over", self._take)
        self.take.setEnabled(False)
        # The engine's own word for it (core/variants).
        fields.said(layout, tr("A comparison to choose by, no work sheet: plan the one you choose and work by "
                                  "its job sheet. A scarf below 12, a patch weaker than the old laminate, and "
                                  "whatever the hull depends on are for a surveyor, designer or class to decide."))

    def _go(self):
        if self._process is not None:
            self._process.kill()
            return
        wanted = [(which.itemData(which.currentIndex()), written.text().strip())
                  for which, written in self.choices]
        wanted = [(path, values) for path, values in wanted if path and values]
        if not wanted:
            self.words.setText(tr("Choose a key and write its values"))
            return
        # "12,5" may be one value or two.
        unclear = next((values for _, values in wanted if re.search(r"\d,\d", values)), None)
        if unclear:
            self.words.setText(tr("{}: write decimals with a point, and a blank between two values", unclear))
            return
        self._varied = [path for path, _ in wanted]
        self._folder = tempfile.TemporaryDirectory(prefix="tearline-variants-")
        job, out = os.path.join(self._folder.name, "repair.toml"), os.path.join(self._folder.name, "out")
        line = ["plan", job, "-o", out]
        for path, values in wanted:
            line += ["--vary", f"{path}=" + ",".join(each.strip() for each in values.split(","))]
        try:
            files.save_job(self.repair, job)
            self._process = program.run(line, self._ended)
        except (job_text.Incomplete, hull_file.NoHull, find_program.ProgramMissing) as error:
            self.words.setText(str(error))
            return
        self.words.setText(tr("Planning"))
        self.go.setText(tr("Stop"))

    def _ended(self, status, _, complaint):
        self._process = None
        if self._closed:
            return
        self.go.setText(tr("Compare"))
        path = os.path.join(self._folder.name, "out", "variants.csv")
        if not os.path.isfile(path):
            self.words.setText(complaint.replace(self._folder.name + "/", "") or tr("Stopped"))
            return
        with open(path, encoding="utf-8", newline="") as file:
            self.told = list(csv.DictReader(file))
        self.words.setText(f"{len(self.told)} " + tr("variants; the best of a column is bold"))
        self._show()

    def _show(self):
        columns = [*self._varied, *(name for name, _, _ in COLUMNS), "warnings", "message"]
        varied = [fields.words_of(self._paths[path].prop) for path in self._varied]
        heads = [*varied, *(tr(words) for _, words, _ in COLUMNS), tr("stop / do / know"), tr("what is said")]
        self.table.setColumnCount(len(columns))
        self.table.setHorizontalHeaderLabels(heads)
        self.table.setRowCount(len(self.told))
        for row, told in enumerate(self.told):
            best = told["best_in"].split()
            for column, name in enumerate(columns):
                item = QtGui.QTableWidgetItem(self._text(told, name))
                if name in best:
                    font = item.font()
                    font.setBold(True)
                    item.setFont(font)
                if told["stop"] not in ("", "0") or told["status"] != "0":
                    item.setBackground(QtGui.QColor("#fbe4de"))
                    item.setForeground(QtGui.QColor("#1c2730"))
                self.table.setItem(row, column, item)
        self.table.resizeColumnsToContents()
        self.take.setEnabled(False)

    @staticmethod
    def _text(told, name):
        if name == "warnings":
            return " / ".join(told[rank] for rank in ("stop", "do", "know"))
        if name == "message":
            return told["message"] or told["not_marked_because"]
        form = next((form for key, _, form in COLUMNS if key == name), None)
        if form is None or not told[name]:
            return told[name]
        return form.format(float(told[name]) * (100 if name in PERCENT else 1))

    def _chosen(self):
        rows = {index.row() for index in self.table.selectedIndexes()}
        return self.told[rows.pop()] if len(rows) == 1 else None

    def _selected(self):
        chosen = self._chosen()
        # What was refused is nothing to go on with.
        self.take.setEnabled(chosen is not None and chosen["status"] == "0")

    def _take(self):
        chosen = self._chosen()
        document = self.repair.Document
        document.openTransaction(tr("Take a variant over"))
        for path in self._varied:
            if not job_file.take_value(self.repair, self._paths[path], job_file.value_of(chosen[path])):
                document.abortTransaction()
                self.words.setText(f"{path}: {chosen[path]} " + tr("cannot be taken over"))
                return
        self.repair.touch()
        document.recompute()
        document.commitTransaction()
        self.words.setText(tr("Taken over") + ": " + self.repair.PlanState)

    def reject(self):
        self._closed = True
        if self._process is not None:
            self._process.kill()
        return super().reject()


def open_panel(repair):
    return task.open_panel(VariantsPanel, repair)
