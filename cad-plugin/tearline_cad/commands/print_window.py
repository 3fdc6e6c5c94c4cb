"""The program's own print window, a process beside FreeCAD."""
import os
import tempfile

from tearline_cad.document import files
from tearline_cad.engine import client
from tearline_cad.window import program

folders = []  # kept until their window is closed


def open_window(repair, on_problem):
    """Opens it on the repair's templates; `on_problem(words)` when it cannot."""
    folder = tempfile.TemporaryDirectory(prefix="tearline-print-")
    out = os.path.join(folder.name, "plan")

    def ended(status, _, complaint):
        folders.remove(folder)
        if status != 0:
            on_problem(complaint)

    def start(question):
        try:
            question.result()
        except client.Refused as refusal:
            on_problem(str(refusal))
            return
        folders.append(folder)
        program.run(["print", out], ended)

    files.write_files(repair, out, ["svg"], start)
