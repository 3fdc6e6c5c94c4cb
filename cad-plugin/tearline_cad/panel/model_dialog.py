"""Asks for the file of a hull or of a scan, and tells where it cannot be read."""
import FreeCAD
import FreeCADGui
from PySide import QtGui

from tearline_cad.document import take_hull
from tearline_cad.document.words import tr

MEASURED = take_hull.MESH_ENDINGS + take_hull.CLOUD_ENDINGS  # of meshes and points, which say no unit


def ask(title, endings):
    """(path, unit) of a file that the user chooses; ("", "") for none."""
    window = FreeCADGui.getMainWindow()
    path, _ = QtGui.QFileDialog.getOpenFileName(window, tr(title), "",
                                                f"{tr(title)} ({' '.join('*' + each for each in endings)})")
    if not path or not path.lower().endswith(MEASURED):
        return path, "mm"
    unit, told = QtGui.QInputDialog.getItem(
        window, tr("Unit of the mesh"), tr("A mesh file does not say its unit:"),
        list(take_hull.MILLIMETRES), 0, False)
    return (path, unit) if told else ("", "")


def taken(read):
    """What read() makes of a file; None where it cannot be read, which is told."""
    try:
        return read()
    except ValueError as error:
        FreeCAD.Console.PrintError(f"Tearline: {error}\n")
        QtGui.QMessageBox.warning(FreeCADGui.getMainWindow(), "Tearline", str(error))
        return None
