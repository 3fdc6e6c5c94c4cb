"""What the user means: the selected repair or hull."""
import FreeCAD
import FreeCADGui

from tearline_cad.document.repair import is_repair, repairs_of
from tearline_cad.document.take_hull import can_be_hull


def repair():
    """The selected repair, or that of the selected ply or template, or the only one there is; None where
    there are several and none is meant."""
    document = FreeCAD.ActiveDocument
    if document is None:
        return None
    for each in FreeCADGui.Selection.getSelection():
        for candidate in (each, *each.InListRecursive):
            if is_repair(candidate):
                return candidate
    found = repairs_of(document)
    return found[0] if len(found) == 1 else None


def repairs():
    """The selected repairs, none or several."""
    found = []
    for each in FreeCADGui.Selection.getSelection():
        found += [candidate for candidate in (each, *each.InListRecursive)
                  if is_repair(candidate) and candidate not in found]
    return found


def templates(repair):
    """The selected templates and guides of a repair, or all of them."""
    made = [each for folder in repair.Group for each in getattr(folder, "Group", [])]
    return [each for each in made if each in FreeCADGui.Selection.getSelection()] or made


def hull():
    """The selected shape or mesh, or the only one in the document, or None."""
    document = FreeCAD.ActiveDocument
    if document is None:
        return None
    for each in FreeCADGui.Selection.getSelection():
        if can_be_hull(each) and not hasattr(each, "Role"):
            return each
    found = [each for each in document.Objects
             if can_be_hull(each) and not hasattr(each, "Role")]
    return found[0] if len(found) == 1 else None
