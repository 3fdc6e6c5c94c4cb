"""The program run by itself beside FreeCAD, for what it does not do while it serves."""
from PySide import QtCore

from tearline_cad.engine import find_program

running = []  # kept until the program ends


def run(words, on_end):
    """Starts `tearline` with words; `on_end(exit status, what it printed, what it complained of)`.

    @return  the process, to be ended by kill()
    ProgramMissing where there is none.
    """
    line = find_program.command_line(find_program.find_program(), *words)
    process = QtCore.QProcess()
    environment = QtCore.QProcessEnvironment()
    for name, value in find_program.clean_environment().items():
        environment.insert(name, value)
    process.setProcessEnvironment(environment)

    def ended(*_):
        if process in running:
            running.remove(process)
            on_end(process.exitCode(), _text(process.readAllStandardOutput()),
                   _text(process.readAllStandardError()))

    process.finished.connect(ended)
    process.errorOccurred.connect(ended)
    running.append(process)
    process.start(line[0], line[1:])
    return process


def _text(data):
    return bytes(data).decode(errors="replace").strip()
