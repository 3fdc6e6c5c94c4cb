"""Draws repairs anew, from the plans stored with them, once what changes them has ended."""
import FreeCAD
from PySide import QtCore

from tearline_cad.document import plan_store
from tearline_cad.view import legend, nodes
from tearline_cad.view.picture import Picture

_waiting = set()
hushed = set()  # (document, repair) not drawn for now, while its damage is being marked


def redraw_soon(repair):
    """Redraws once whatever is going on has ended."""
    key = (repair.Document.Name, repair.Name)
    if key not in _waiting:
        _waiting.add(key)
        QtCore.QTimer.singleShot(0, lambda: _redraw_now(key))


def waiting():
    """Whether something is still to be redrawn."""
    return bool(_waiting)


def _redraw_now(key):
    _waiting.discard(key)
    if key[0] in FreeCAD.listDocuments():
        repair = FreeCAD.getDocument(key[0]).getObject(key[1])
        if repair is not None and repair.ViewObject is not None:
            redraw(repair)


def _template_words(made, labels):
    if not labels:
        return
    box = made.Shape.BoundBox
    # Clear of the datum in the middle, and of the rings of the guide.
    below = FreeCAD.Vector(0, (0.25 if made.Piece else 0.12) * box.YLength, 0)
    at = made.Placement.inverse().multVec(box.Center - below)
    text = made.Piece if made.Piece else "grind guide"
    yield nodes.words(at, f"{text}  {made.Fabric}".strip())


def redraw(repair):
    """Draws everything of a repair anew, and the legend."""
    key = (repair.Document.Name, repair.Name)
    children = [each for each in repair.Group if hasattr(each, "Role")]
    shown = plan_store.parts(repair) and key not in hushed
    picture = Picture(repair) if shown else None
    numbered = {ply["number"]: ply for ply in picture.plan["plies"]} if shown else {}
    for made in children:
        view = made.ViewObject.Proxy
        if made.Role == "outlines":
            view.show(picture.outlines() if shown else [])
        elif made.Role == "ply":
            view.show(picture.ply(numbered[made.Number]) if made.Number in numbered else [])
    for folder in repair.Group:
        for made in getattr(folder, "Group", []):
            made.ViewObject.Proxy.show(_template_words(made, repair.ViewObject.Labels))
    legend.show(repair, picture)
