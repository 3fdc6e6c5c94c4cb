"""How a repair looks: which picture is shown of it, and its place in the tree."""
from tearline_cad.view import editing, legend, redraw
from tearline_cad.view.icons import icon
from tearline_cad.view.views import Stateless

PICTURES = ["Plies", "Strain and shear", "Dish depth", "Lines only"]

PROPERTIES = [
    ("Picture", "App::PropertyEnumeration", PICTURES, "What is shown on the hull"),
    ("ShownPly", "App::PropertyInteger", 0, "One ply, with those laid before it as lines; 0: all"),
    ("Labels", "App::PropertyBool", True, "Numbers of plies and names of templates"),
]


class RepairView(Stateless):
    def __init__(self, vobj):
        vobj.Proxy = self
        self._add(vobj)

    def _add(self, vobj):
        for name, kind, start, meaning in PROPERTIES:
            if not hasattr(vobj, name):
                vobj.addProperty(kind, name, "Tearline", meaning)
                setattr(vobj, name, start)

    def attach(self, vobj):
        self._add(vobj)

    def updateData(self, repair, prop):
        if prop in ("PlanData", "Group", "Label"):
            redraw.redraw_soon(repair)

    def onChanged(self, vobj, prop):
        if prop in ("Picture", "ShownPly", "Labels", "Visibility"):
            redraw.redraw_soon(vobj.Object)

    def onDelete(self, vobj, parts):
        legend.show(vobj.Object, None)
        return True

    def getIcon(self):
        return icon("repair")

    def doubleClicked(self, vobj):
        editing.edit(vobj.Object)
        return True

    def setupContextMenu(self, vobj, menu):
        action = menu.addAction("Edit repair")
        action.triggered.connect(lambda: self.doubleClicked(vobj))
