"""The program's own print window, a process beside FreeCAD."""
import os
import tempfile

from PySide import QtCore

from tearline_cad.document import files
from tearline_cad.engine import client, find_program

running = []  # processes and their folders, kept until the program ends


def _process():
    process = QtCore.QProcess()
    environment = QtCore.QProcessEnvironment()
    for name, value in find_program.clean_environment().items():
        environment.insert(name, value)
    process.setProcessEnvironment(environment)
    return process


def open_window(repair, on_problem):
    """Opens it on the repair's templates; `on_problem(words)` when it cannot."""
    folder = tempfile.TemporaryDirectory(prefix="tearline-print-")
    out = os.path.join(folder.name, "plan")

    def start(question):
        try:
            question.result()
        except client.Refused as refusal:
            on_problem(str(refusal))
            return
        words = find_program.command_line(find_program.find_program(), "print", out)
        process = _process()
        process.finished.connect(lambda *_: _ended(process, on_problem))
        running.append((process, folder))
        process.start(words[0], words[1:])

    files.write_files(repair, out, ["svg"], start)


def _ended(process, on_problem):
    running[:] = [entry for entry in running if entry[0] is not process]
    if process.exitCode() != 0:
        on_problem(bytes(process.readAllStandardError()).decode(errors="replace").strip())
