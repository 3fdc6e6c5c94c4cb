"""How a repair looks: which picture is shown of it, and its place in the tree."""
import FreeCADGui
from PySide import QtGui

from tearline_cad.document import repair as repairs
from tearline_cad.document.words import tr
from tearline_cad.view import editing, legend, redraw
from tearline_cad.view.icons import icon
from tearline_cad.view.views import Stateless

PICTURES = ["Plies", "Strain and shear", "Dish depth", "Lines only", "Grind guide", "Scan deviation"]

PROPERTIES = [
    ("Picture", "App::PropertyEnumeration", PICTURES, "What is shown on the hull"),
    ("ShownPly", "App::PropertyInteger", 0, "One ply, with those laid before it as lines; 0: all"),
    ("Labels", "App::PropertyBool", True, "Numbers of plies and names of templates"),
    ("SectionCards", "App::PropertyBool", False, "The cards that check the faired surface, where they stand"),
]


class RepairView(Stateless):
    refused = False

    def __init__(self, vobj):
        vobj.Proxy = self
        self._add(vobj)

    def _add(self, vobj):
        for name, kind, start, meaning in PROPERTIES:
            if not hasattr(vobj, name):
                vobj.addProperty(kind, name, "Tearline", meaning)
                setattr(vobj, name, start)
            elif name == "Picture" and vobj.getEnumerationsOfProperty(name) != start:
                shown = vobj.Picture  # of a file from before, which knows fewer
                vobj.Picture = start
                vobj.Picture = shown

    def attach(self, vobj):
        self._add(vobj)

    def updateData(self, repair, prop):
        if prop == "PlanState" and self.refused != repair.PlanState.startswith(repairs.REFUSED):
            self.refused = not self.refused
            repair.ViewObject.signalChangeIcon()
        if prop in ("PlanData", "PlanState", "Group", "Label", "FurtherTables"):
            redraw.redraw_soon(repair)

    def onChanged(self, vobj, prop):
        if prop in ("Picture", "ShownPly", "Labels", "SectionCards", "Visibility"):
            redraw.redraw_soon(vobj.Object)

    def onDelete(self, vobj, parts):
        """Asks as FreeCAD does of a group that is not empty; what the repair made goes with it."""
        repair = vobj.Object
        if repair.Group and QtGui.QMessageBox.question(
                FreeCADGui.getMainWindow(), tr("Delete repair?"),
                tr("Its plies and templates are deleted as well:") + f"\n{repair.Label}",
                QtGui.QMessageBox.Yes | QtGui.QMessageBox.No,
                QtGui.QMessageBox.Yes) != QtGui.QMessageBox.Yes:
            return False
        legend.show(repair, None)
        repairs.delete_children(repair)
        return True

    def setEdit(self, vobj, mode=0):
        return editing.edit(vobj.Object) if mode == 0 else None

    def unsetEdit(self, vobj, mode=0):
        editing.leave()
        return True

    def getIcon(self):
        return icon("repair-refused" if self.refused else "repair")

    def doubleClicked(self, vobj):
        vobj.Document.setEdit(vobj.Object.Name)
        return True

    def setupContextMenu(self, vobj, menu):
        action = menu.addAction(tr("Edit repair"))
        action.triggered.connect(lambda: self.doubleClicked(vobj))
