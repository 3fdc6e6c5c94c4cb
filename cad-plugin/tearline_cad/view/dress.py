"""Gives new objects their looks: view providers and how lines are drawn."""
from tearline_cad.document.repair import is_repair
from tearline_cad.view.repair_view import RepairView
from tearline_cad.view.views import ClothView, TemplateView


def _as_template(vobj):
    TemplateView(vobj)
    vobj.DisplayMode = "Sheet"
    vobj.PointSize = 1.0


def _as_cloth(vobj):
    ClothView(vobj)
    vobj.DisplayMode = "Cloth"
    vobj.PointSize = 1.0


# FreeCAD's own colour of a mesh is Coin's default too. FreeCAD 0.20 then never tells it to the screen, and what is drawn
# before anything of another colour is black.
NEVER_TOLD, TOLD = (0.8, 0.8, 0.8), (0.82, 0.84, 0.86)


def _as_hull(vobj):
    """A mesh: a shell is seen from within as well."""
    if all(abs(has - told) < 1e-3 for has, told in zip(vobj.ShapeColor, NEVER_TOLD)):
        vobj.ShapeColor = TOLD
    vobj.Lighting = "Two side"


def dress(made):
    """A hull that is a mesh, a repair, or a child that one has just made."""
    vobj = made.ViewObject
    if hasattr(made, "Mesh"):
        _as_hull(vobj)
    elif is_repair(made):
        RepairView(vobj)
    elif made.Name.startswith("Template"):
        _as_template(vobj)
    else:
        _as_cloth(vobj)
