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


def dress(made):
    """A repair, or a child that one has just made."""
    vobj = made.ViewObject
    if is_repair(made):
        RepairView(vobj)
    elif made.Name.startswith("Template"):
        _as_template(vobj)
    else:
        _as_cloth(vobj)
