"""Templates, grind guide, cutter files and job sheet written into a folder."""
import os

from PySide import QtCore, QtGui

from tearline_cad.document import files, repair as repairs
from tearline_cad.document.words import tr
from tearline_cad.engine import client, find_program
from tearline_cad.panel import fields, task

# What each format is for.
FORMATS = [("svg", "Templates, SVG", "One file a template and the grind guide, full size"),
           ("pdf", "Pages to print, PDF", "Full size, tiled where the paper is smaller"),
           ("dxf", "Cutter, DXF R12", "For cloth cutters"),
           ("dxf2000", "CAD, DXF 2000", "For other CAD programs"),
           ("hpgl", "Plotter, HPGL", "For plotters and knives"),
           ("page", "Page for a browser", "The plan layer by layer in one file, on a phone as well")]


# Papers of the PDF beside the usual one; rolls by their width.
PAPERS = ["", "A4", "A3", "Letter", "Tabloid", "roll 610", "roll 914", "roll 1067"]


def chosen_formats():
    """The formats of the preferences."""
    named = find_program.preferences().GetString("Formats", "svg,dxf").split(",")
    return [name for name, _, _ in FORMATS if name in named]


class FilesPanel(task.ClosePanel):
    def __init__(self, repair):
        super().__init__(repair)
        self.repair = repair
        self._closed = False
        self._question = None  # what is being written
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(task.title(tr("Files"), repair))
        layout = QtGui.QVBoxLayout(self.form)
        row = QtGui.QHBoxLayout()
        self.folder = QtGui.QLineEdit(self._likely_folder())
        self.folder.setObjectName("Folder")
        browse = QtGui.QPushButton("...")
        browse.setFixedWidth(32)
        browse.clicked.connect(self._browse)
        row.addWidget(self.folder, 1)
        row.addWidget(browse)
        fields.said(layout, tr("Folder, new or written before"))
        layout.addLayout(row)
        self.formats = {}
        for name, words, tip in FORMATS:
            self.formats[name] = QtGui.QCheckBox(tr(words))
            self.formats[name].setObjectName("Format " + name)
            self.formats[name].setToolTip(tr(tip))
            self.formats[name].setChecked(name in chosen_formats())
            layout.addWidget(self.formats[name])
        self.paper = fields.choice(PAPERS, "", lambda word: None)
        self.paper.setItemText(0, tr("PDF on the usual paper"))
        self.paper.setObjectName("Paper")
        self.paper.setToolTip(tr("A further PDF on this paper; rolls by their width in mm"))
        fields.make_narrow(self.paper)
        layout.addWidget(self.paper)
        self.mirror = QtGui.QCheckBox(tr("Mirrored"))
        self.mirror.setToolTip(tr("To mark the back of the cloth"))
        layout.addWidget(self.mirror)
        self.write = fields.button(layout, "Write", self._write)
        self.bar = QtGui.QProgressBar()
        self.bar.setObjectName("FilesBar")
        self.bar.setTextVisible(False)
        room = self.bar.sizePolicy()
        room.setRetainSizeWhenHidden(True)  # what lies below does not jump from under the mouse when the bar goes
        self.bar.setSizePolicy(room)
        self.bar.setVisible(False)
        layout.addWidget(self.bar)
        self.words = fields.state(layout, "FilesState")
        self.sheet = fields.button(layout, "Open job sheet", lambda: self._open("job-sheet.html"))
        self.show_folder = fields.button(layout, "Open folder", lambda: self._open(""))
        layout.addStretch(1)  # FreeCAD gives a panel that has shrunk its room back late: it is at the bottom until then
        self.sheet.setEnabled(False)
        self.show_folder.setEnabled(False)
        if repairs.is_stale(repair):
            self.words.setText(repair.PlanState)

    def _likely_folder(self):
        beside = os.path.dirname(self.repair.Document.FileName) or os.path.expanduser("~")
        return os.path.join(beside, self.repair.Label.replace(" ", "-").lower() + "-templates")

    def _browse(self):
        path = QtGui.QFileDialog.getExistingDirectory(self.form, tr("Folder"), self._path())
        if path:
            self.folder.setText(path)

    def _path(self):
        """The folder as a person means it: "~" is the home, and a name alone is in it."""
        path = os.path.expanduser(self.folder.text().strip())
        return os.path.join(os.path.expanduser("~"), path)

    def _write(self):
        if self._question is not None:
            client.engine().cancel(self._question)
            return
        formats = [name for name, box in self.formats.items() if box.isChecked()]
        paper = PAPERS[self.paper.currentIndex()]
        options = {"mirror": self.mirror.isChecked()}
        if paper:
            formats = [*formats, "pdf"] if "pdf" not in formats else formats
            options["papers"] = [paper]
        self._written_to = self._path()
        self.words.setText(tr("Writing"))
        self.bar.setRange(0, 0)  # on its way, nobody knows how far
        self.bar.setVisible(True)
        try:
            self._question = files.write_files(self.repair, self._written_to, formats, self._written,
                                               self._progress, **options)
            self.write.setText(tr("Stop"))
        except Exception as error:  # incomplete, no hull, no program: its words say which
            self._told(str(error), False)

    def _progress(self, question):
        if self._closed:
            return
        stage, fraction = question.progress
        self.words.setText(tr("Writing") + f": {stage}")
        # A plan that is made, and PDF by PDF after that; what is written in between tells no share.
        self.bar.setRange(0, 100 if fraction < 1 else 0)
        self.bar.setValue(int(100 * fraction))

    def _written(self, question):
        try:
            question.result()
        except client.Refused as refusal:
            self._told(str(refusal), False)
            return
        self._told(tr("Written to") + f" {self._written_to}", True)

    def _told(self, words, done):
        self._question = None
        if self._closed:
            return
        self.bar.setVisible(False)
        self.words.setText(words)
        self.write.setText(tr("Write"))
        self.sheet.setEnabled(done)
        self.show_folder.setEnabled(done)

    def _open(self, name):
        QtGui.QDesktopServices.openUrl(
            QtCore.QUrl.fromLocalFile(os.path.join(self._written_to, name)))

    def reject(self):
        self._closed = True
        return super().reject()


def open_panel(repair):
    return task.open_panel(FilesPanel, repair)
