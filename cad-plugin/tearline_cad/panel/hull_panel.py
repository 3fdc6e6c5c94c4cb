"""Takes a shape, a mesh or a file as the hull, with its bow and up directions."""
import FreeCAD
import FreeCADGui
from pivy import coin
from PySide import QtCore, QtGui

from tearline_cad.document import frames, looks, take_hull
from tearline_cad.document.repair import make_repair
from tearline_cad.document.words import tr
from tearline_cad.panel import model_dialog, open_repair, task
from tearline_cad.view import colours, nodes


class _Arrows:
    """Bow and up as lines with words in the 3D view, while they are chosen."""

    def __init__(self, hull):
        self.hull = hull
        self.view = FreeCADGui.getDocument(hull.Document.Name).activeView()
        self.root = coin.SoSeparator()
        self.view.getSceneGraph().addChild(self.root)

    def show(self, ways):
        self.root.removeAllChildren()
        box = frames.box_of(self.hull)
        extents = {"X": box.XLength, "Y": box.YLength, "Z": box.ZLength}
        for words, way in ways.items():
            reach = 0.5 * extents[way[1]] + 0.1 * box.DiagonalLength
            end = box.Center + FreeCAD.Vector(*take_hull.WAYS[way]) * reach
            self.root.addChild(nodes.lines([[tuple(box.Center), tuple(end)]],
                                           colours.unit(colours.DAMAGE), 3.0))
            self.root.addChild(nodes.words(tuple(end), tr(words), 16))

    def close(self):
        self.view.getSceneGraph().removeChild(self.root)


class HullPanel(task.OkCancelPanel):
    def __init__(self, hull):
        FreeCADGui.Selection.clearSelection()  # its colour would cover the hull's
        self.hull = hull
        if hull.isDerivedFrom("Mesh::Feature"):
            looks.dress_new(hull)
        self.form = QtGui.QWidget()
        self.form.setWindowTitle(tr("Hull"))
        layout = QtGui.QFormLayout(self.form)
        box = frames.box_of(hull)
        size = "\nx ".join(FreeCAD.Units.Quantity(length, FreeCAD.Units.Length).UserString
                          for length in (box.XLength, box.YLength, box.ZLength))
        words = QtGui.QLabel(f"{hull.Label}:\n{size}")
        words.setObjectName("HullWords")
        layout.addRow(words)
        bow, up = take_hull.likely_ways(hull)
        self.ways = {}
        for name, words, start in (("Bow", tr("Bow points to"), bow), ("Up", tr("Up points to"), up)):
            self.ways[name] = QtGui.QComboBox()
            self.ways[name].setObjectName(name)
            self.ways[name].addItems(list(take_hull.WAYS))
            self.ways[name].setCurrentText(start)
            self.ways[name].currentIndexChanged.connect(self._show)
            layout.addRow(words, self.ways[name])
        self.complaint = QtGui.QLabel()
        self.complaint.setWordWrap(True)
        layout.addRow(self.complaint)
        self.arrows = _Arrows(hull)
        self._show()

    def _chosen(self):
        return {name: box.currentText() for name, box in self.ways.items()}

    def _show(self, *_):
        self.arrows.show(self._chosen())

    def accept(self):
        ways = self._chosen()
        if ways["Bow"][1] == ways["Up"][1]:
            self.complaint.setText(tr("Bow and up must point different ways"))
            return False
        self.arrows.close()
        FreeCADGui.Control.closeDialog()
        document = self.hull.Document
        document.openTransaction(tr("New repair"))
        repair = make_repair(document, self.hull)
        back = frames.frame_of(self.hull).Rotation.inverted()
        for name, way in ways.items():
            setattr(repair, name, back.multVec(FreeCAD.Vector(*take_hull.WAYS[way])))
        # The next panel opens when this one is gone.
        QtCore.QTimer.singleShot(
            0, lambda: open_repair.open_panel(repair, marking=True, begun=True))
        return True

    def reject(self):
        self.arrows.close()
        FreeCADGui.Control.closeDialog()
        return True


def ask_for_file(document):
    """A hull read from a file that the user chooses, or None."""
    path, unit = model_dialog.ask("Hull", take_hull.SHAPE_ENDINGS + model_dialog.MEASURED)
    if not path:
        return None
    hull = model_dialog.taken(lambda: take_hull.read_hull(document, path, unit))
    if hull is None:
        return None
    document.recompute()
    FreeCADGui.SendMsgToActiveView("ViewFit")
    return hull


def open_panel(hull):
    return task.open_panel(HullPanel, hull)
