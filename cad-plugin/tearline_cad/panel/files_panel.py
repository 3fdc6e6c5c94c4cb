"""Templates, grind guide, cutter files and job sheet written into a folder."""
import os
import tempfile

import FreeCADGui
from PySide import QtCore, QtGui

from tearline_cad.document import files
from tearline_cad.engine import client, find_program
from tearline_cad.panel import fields
from tearline_cad.window.shim import plain

# What each format is for.
FORMATS = [("svg", "Templates, SVG", "One file a template and the grind guide, full size"),
           ("pdf", "Pages to print, PDF", "Full size, tiled where the paper is smaller"),
           ("dxf", "Cutter, DXF R12", "For cloth cutters"),
           ("dxf2000", "CAD, DXF 2000", "For other CAD programs"),
           ("hpgl", "Plotter, HPGL", "For plotters and knives")]


def chosen_formats():
    """The formats of the preferences."""
    named = find_program.preferences().GetString("Formats", "svg,dxf").split(",")
    return [name for name, _, _ in FORMATS if name in named]


class FilesPanel:
    def __init__(self, repair):
        self.repair = repair
        self._question = None
        self.form = QtGui.QWidget()
        self.form.setWindowTitle("Templates and files")
        layout = QtGui.QVBoxLayout(self.form)
        row = QtGui.QHBoxLayout()
        self.folder = QtGui.QLineEdit(self._likely_folder())
        self.folder.setObjectName("Folder")
        browse = QtGui.QPushButton("...")
        browse.setFixedWidth(32)
        browse.clicked.connect(self._browse)
        row.addWidget(self.folder, 1)
        row.addWidget(browse)
        layout.addWidget(QtGui.QLabel("Folder, new or written before"))
        layout.addLayout(row)
        self.formats = {}
        for name, words, tip in FORMATS:
            self.formats[name] = QtGui.QCheckBox(words)
            self.formats[name].setObjectName("Format " + name)
            self.formats[name].setToolTip(tip)
            self.formats[name].setChecked(name in chosen_formats())
            layout.addWidget(self.formats[name])
        self.mirror = QtGui.QCheckBox("Mirrored")
        self.mirror.setToolTip("To mark the back of the cloth")
        layout.addWidget(self.mirror)
        self.write = self._button(layout, "Write", self._write)
        self.words = QtGui.QLabel()
        self.words.setObjectName("FilesState")
        self.words.setWordWrap(True)
        fields.make_narrow(self.words)
        layout.addWidget(self.words)
        self.sheet = self._button(layout, "Open job sheet", lambda: self._open("job-sheet.html"))
        self.show_folder = self._button(layout, "Open folder", lambda: self._open(""))
        self.sheet.setEnabled(False)
        self.show_folder.setEnabled(False)

    def _button(self, layout, words, action):
        button = QtGui.QPushButton(words)
        button.setObjectName(words)
        button.clicked.connect(action)
        layout.addWidget(button)
        return button

    def _likely_folder(self):
        beside = os.path.dirname(self.repair.Document.FileName) or os.path.expanduser("~")
        return os.path.join(beside, self.repair.Label.replace(" ", "-").lower() + "-templates")

    def _browse(self):
        path = QtGui.QFileDialog.getExistingDirectory(self.form, "Folder", self.folder.text())
        if path:
            self.folder.setText(path)

    def _write(self):
        formats = [name for name, box in self.formats.items() if box.isChecked()]
        self.words.setText("Writing")
        self.write.setEnabled(False)
        try:
            self._question = files.write_files(self.repair, self.folder.text(), formats,
                                               self._written, mirror=self.mirror.isChecked())
        except Exception as error:  # incomplete, no hull, no program: its words say which
            self._told(str(error), False)

    def _written(self, question):
        try:
            question.result()
        except client.Refused as refusal:
            self._told(str(refusal), False)
            return
        self._told("Written", True)

    def _told(self, words, done):
        if self._question == "closed":
            return
        self.words.setText(words)
        self.write.setEnabled(True)
        self.sheet.setEnabled(done)
        self.show_folder.setEnabled(done)

    def _open(self, name):
        QtGui.QDesktopServices.openUrl(
            QtCore.QUrl.fromLocalFile(os.path.join(self.folder.text(), name)))

    def getStandardButtons(self):
        button = QtGui.QDialogButtonBox.Close
        return plain(button)

    def reject(self):
        self._question = "closed"
        FreeCADGui.Control.closeDialog()
        return True


def open_panel(repair):
    if FreeCADGui.Control.activeDialog():
        FreeCADGui.Control.showTaskView()
        return None
    panel = FilesPanel(repair)
    FreeCADGui.Control.showDialog(panel)
    return panel


_printing = []  # processes and their folders, kept until the program ends


def print_window(repair, on_problem):
    """Opens the engine's own print window on the repair's templates."""
    folder = tempfile.TemporaryDirectory(prefix="tearline-print-")
    out = os.path.join(folder.name, "plan")

    def start(question):
        try:
            question.result()
        except client.Refused as refusal:
            on_problem(str(refusal))
            return
        words = find_program.command_line(find_program.find_program(), "print", out)
        process = QtCore.QProcess()
        environment = QtCore.QProcessEnvironment()
        for name, value in find_program.clean_environment().items():
            environment.insert(name, value)
        process.setProcessEnvironment(environment)
        process.finished.connect(lambda *_: _printed(process, on_problem))
        _printing.append((process, folder))
        process.start(words[0], words[1:])

    files.write_files(repair, out, ["svg"], start)


def _printed(process, on_problem):
    _printing[:] = [entry for entry in _printing if entry[0] is not process]
    if process.exitCode() != 0:
        on_problem(bytes(process.readAllStandardError()).decode(errors="replace").strip())
