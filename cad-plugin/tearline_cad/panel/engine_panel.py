"""Where the program is; opens by itself when it is missing."""
from PySide import QtGui

from tearline_cad.document.words import tr
from tearline_cad.engine import client, find_program
from tearline_cad.panel import fields, task
from tearline_cad.panel.elided import Button


LONGEST = 1.5  # [s] that the window stands still for a program that says nothing


class EnginePanel(task.ClosePanel):
    def __init__(self, words=""):
        super().__init__()
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(tr("Engine"))
        layout = QtGui.QVBoxLayout(self.form)
        self.state = fields.said(layout, words)
        self.state.setObjectName("EngineState")
        fields.said(layout, tr("Place of the program 'tearline'; empty: search for it"))
        row = QtGui.QHBoxLayout()
        self.path = QtGui.QLineEdit(find_program.preferences().GetString("Program", ""))
        self.path.setObjectName("ProgramPath")
        browse = QtGui.QPushButton("...")
        browse.setFixedWidth(32)
        browse.clicked.connect(self._browse)
        row.addWidget(self.path, 1)
        row.addWidget(browse)
        layout.addLayout(row)
        self.test = Button(tr("Set and try"))
        self.test.setObjectName("TryProgram")
        self.test.clicked.connect(self._try)
        layout.addWidget(self.test)
        fields.said(
            layout, tr("It is built with cli/try-it in Tearline's own folder and then found there, or anywhere on the PATH. "
               "The repairs in open files stay as they are without it."))
        if not words:
            self._try()

    def _browse(self):
        path, _ = QtGui.QFileDialog.getOpenFileName(self.form, tr("The program tearline"))
        if path:
            self.path.setText(path)

    def _try(self):
        find_program.set_program(self.path.text().strip())
        client.engine().stop()
        self.state.setText(try_engine())


def try_engine():
    """What comes of starting the engine, in words."""
    try:
        engine = client.engine()
        engine.wait_for(engine.ask("ping"), at_most=LONGEST)
        return tr("Ready: version {} at {}", engine.version, find_program.find_program())
    except (find_program.ProgramMissing, client.Refused) as problem:
        return str(problem)


def open_panel(words=""):
    return task.open_panel(EnginePanel, words)


def at_hand():
    """Whether the program is found; opens the panel that says what to do when it is not."""
    try:
        find_program.find_program()
        return True
    except find_program.ProgramMissing as missing:
        open_panel(str(missing))
        return False
