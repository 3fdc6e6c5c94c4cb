"""Tells FreeCAD of the workbench. FreeCAD executes this file as text, so names used later are
imported where they are used."""
import FreeCADGui


class TearlineWorkbench(FreeCADGui.Workbench):
    """Glass plies and full-size templates for a hull repair."""

    MenuText = "Tearline"
    ToolTip = "Glass plies and full-size templates for a hull repair"

    def __init__(self):
        from tearline_cad.view.icons import icon

        self.__class__.Icon = icon("tearline")

    def Initialize(self):
        from tearline_cad import workbench

        workbench.begin(self)

    def GetClassName(self):
        return "Gui::PythonWorkbench"


def _prepare():
    from tearline_cad import workbench

    workbench.prepare()


_prepare()
FreeCADGui.addWorkbench(TearlineWorkbench())
