"""Several repairs of one boat planned together: one nest on the rolls, one shopping list."""
import json
import os

from PySide import QtCore, QtGui

from tearline_cad.document import boat_job, hull_file, job_text, nest
from tearline_cad.document.repair import repairs_of
from tearline_cad.document.warning_headings import with_heading
from tearline_cad.document.words import tr
from tearline_cad.engine import find_program
from tearline_cad.panel import fields, files_panel, task
from tearline_cad.window import program


def _amount(item):
    """How much of a thing is to be bought, as the list tells it."""
    value, unit = item["amount"], item["unit"]
    if unit == "g" and value >= 1000:
        return f"{value / 1000:.2f} kg"
    return f"{value:.2f} {unit}" if unit == "m" else f"{value:.0f} {unit}"


class BoatPanel(task.ClosePanel):
    def __init__(self, document, chosen):
        super().__init__(document)
        self.document = document
        self._process, self._closed, self._folder, self._first = None, False, "", ""
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(tr("Boat"))
        layout = QtGui.QVBoxLayout(self.form)
        self.title = QtGui.QLineEdit(document.Label)
        self.title.setObjectName("BoatTitle")
        self.places = QtGui.QListWidget()
        self.places.setObjectName("Places")
        self.places.setFixedHeight(110)
        for repair in repairs_of(document):
            item = QtGui.QListWidgetItem(repair.Label)
            item.setData(QtCore.Qt.UserRole, repair.Name)
            item.setCheckState(QtCore.Qt.Checked if not chosen or repair in chosen else QtCore.Qt.Unchecked)
            self.places.addItem(item)
        self.folder = QtGui.QLineEdit(self._likely_folder())
        self.folder.setObjectName("BoatFolder")
        browse = QtGui.QPushButton("...")
        browse.setFixedWidth(32)
        browse.clicked.connect(self._browse)
        row = QtGui.QHBoxLayout()
        row.addWidget(self.folder, 1)
        row.addWidget(browse)
        for words, widget in ((tr("Title"), self.title), (tr("Places to be mended together"), self.places)):
            fields.said(layout, words)
            layout.addWidget(widget)
        fields.said(layout, tr("Folder, new or written before"))
        layout.addLayout(row)
        self.go = fields.button(layout, "Plan the boat", self._go)
        self.bar = QtGui.QProgressBar()
        self.bar.setRange(0, 0)
        self.bar.setTextVisible(False)
        self.bar.setVisible(False)
        layout.addWidget(self.bar)
        self.words = fields.state(layout, "BoatState")
        self.list = QtGui.QTreeWidget()
        self.list.setObjectName("BoatList")
        self.list.setHeaderLabels([tr("What"), tr("How much")])
        self.list.setMinimumHeight(260)
        # The names give way, the amounts are always in sight.
        self.list.header().setStretchLastSection(False)
        for column, mode in ((0, QtGui.QHeaderView.Stretch), (1, QtGui.QHeaderView.ResizeToContents)):
            self.list.header().setSectionResizeMode(column, mode)
        layout.addWidget(self.list, 1)
        self.sheet = fields.button(layout, "Open job sheet", lambda: self._open("job-sheet.html"))
        self.show_folder = fields.button(layout, "Open folder", lambda: self._open(""))
        for button in (self.sheet, self.show_folder):
            button.setEnabled(False)

    def _likely_folder(self):
        beside = os.path.dirname(self.document.FileName) or os.path.expanduser("~")
        return os.path.join(beside, self.document.Label.replace(" ", "-").lower() + "-boat")

    def _browse(self):
        path = QtGui.QFileDialog.getExistingDirectory(self.form, tr("Folder"), self.folder.text())
        if path:
            self.folder.setText(path)

    def _open(self, name):
        QtGui.QDesktopServices.openUrl(QtCore.QUrl.fromLocalFile(os.path.join(self._folder, name)))

    def chosen(self):
        """The repairs that are ticked."""
        items = [self.places.item(k) for k in range(self.places.count())]
        return [self.document.getObject(item.data(QtCore.Qt.UserRole)) for item in items
                if item.checkState() == QtCore.Qt.Checked]

    def _go(self):
        if self._process is not None:
            self._process.kill()
            return
        folder = os.path.join(os.path.expanduser("~"), os.path.expanduser(self.folder.text().strip()))
        job = folder.rstrip("/") + ".toml"
        repairs = self.chosen()
        try:
            if not repairs:
                raise boat_job.Differ(tr("Tick the places to be mended"))
            os.makedirs(os.path.dirname(job), exist_ok=True)
            boat_job.save(repairs, self.title.text(), job)
            formats = ",".join(files_panel.chosen_formats()) or "svg"
            self._process = program.run(["plan", job, "-o", folder, "--format", formats], self._ended)
        except (boat_job.Differ, job_text.Incomplete, hull_file.NoHull, find_program.ProgramMissing,
                OSError) as error:
            self.words.setText(str(error))
            return
        self._folder = folder
        # What is ticked may be another repair by the time that the plan is there, or none.
        self._first = repairs[0].Name
        self.list.clear()
        self.words.setText(tr("Planning"))
        self.bar.setVisible(True)
        self.go.setText(tr("Stop"))

    def _ended(self, status, _, complaint):
        self._process = None
        if self._closed:
            return
        self.bar.setVisible(False)
        self.go.setText(tr("Plan the boat"))
        # 4: some place has no safe answer, and the others are written.
        written = status in (0, 4) and os.path.isfile(os.path.join(self._folder, "plan.json"))
        for button in (self.sheet, self.show_folder):
            button.setEnabled(written)
        if not written:
            self.words.setText(complaint or tr("Stopped"))
            return
        with open(os.path.join(self._folder, "plan.json"), encoding="utf-8") as file:
            boat = json.load(file)
        self.words.setText(tr("Written to") + f" {self._folder}")
        self._tell(boat)
        self._nest(boat)

    def _tell(self, boat):
        def branch(words):
            item = QtGui.QTreeWidgetItem(self.list, [words, ""])
            item.setExpanded(True)
            return item

        places = branch(tr("Places"))
        for each in boat["repairs"]:
            refused = each["status"] != "planned"
            item = QtGui.QTreeWidgetItem(places, [each["name"], tr("refused") if refused else tr("planned")])
            if refused:
                item.setToolTip(0, str(each["refusal"]))
                item.setForeground(1, QtGui.QColor("#a01c14"))
        shopping = branch(tr("To buy"))
        for item in boat["shopping"]["items"]:
            QtGui.QTreeWidgetItem(shopping, [item["name"], _amount(item)]).setToolTip(0, item["name"])
        rolls = branch(tr("Rolls"))
        for roll in boat["rolls"]:
            QtGui.QTreeWidgetItem(rolls, [roll["fabric"], f"{roll['length_mm'] / 1000:.2f} m, "
                                          f"{100 * roll['used_fraction']:.0f} % {tr('used')}"])
        heed = branch(tr("Warnings"))
        for warning in boat["warnings"]:
            words = with_heading(warning["code"], warning["plain"])
            item = QtGui.QTreeWidgetItem(heed, [words, ""])
            item.setToolTip(0, "\n".join([*warning["repairs"], words]))

    def _nest(self, boat):
        """The rolls beside the hull, with the pieces where they lie."""
        plans = {}
        for each in boat["repairs"]:
            if each["status"] == "planned":
                with open(os.path.join(self._folder, each["plan"]), encoding="utf-8") as file:
                    plans[each["name"]] = json.load(file)
        self.document.openTransaction(tr("Rolls of the boat"))
        first = self.document.getObject(self._first)
        nest.show(self.document, boat, plans, first.Hull if first is not None else None)
        self.document.commitTransaction()

    def reject(self):
        self._closed = True
        if self._process is not None:
            self._process.kill()
        return super().reject()


def open_panel(document, chosen):
    return task.open_panel(BoatPanel, document, chosen)
