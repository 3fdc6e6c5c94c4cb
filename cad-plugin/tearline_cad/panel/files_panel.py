"""Templates, grind guide, cutter files and job sheet written into a folder."""
import os

from PySide import QtCore, QtGui

from tearline_cad.document import files
from tearline_cad.engine import client, find_program
from tearline_cad.panel import fields, task

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


class FilesPanel(task.ClosePanel):
    def __init__(self, repair):
        self.repair = repair
        self._closed = False
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
            files.write_files(self.repair, self.folder.text(), formats, self._written,
                              mirror=self.mirror.isChecked())
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
        if self._closed:
            return
        self.words.setText(words)
        self.write.setEnabled(True)
        self.sheet.setEnabled(done)
        self.show_folder.setEnabled(done)

    def _open(self, name):
        QtGui.QDesktopServices.openUrl(
            QtCore.QUrl.fromLocalFile(os.path.join(self.folder.text(), name)))

    def reject(self):
        self._closed = True
        return super().reject()


def open_panel(repair):
    return task.open_panel(FilesPanel, repair)
