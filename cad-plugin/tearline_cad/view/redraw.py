"""Draws repairs anew, from the plans stored with them, once what changes them has ended."""
import json

import FreeCAD
from PySide import QtCore

from tearline_cad.document import plan_store
from tearline_cad.document.repair import is_stale
from tearline_cad.view import legend, nodes, sheet
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


def _template_words(made, stale):
    box = made.Shape.BoundBox
    # Clear of the datum in the middle, and of the rings of the guide.
    below = FreeCAD.Vector(0, (0.25 if made.Piece else 0.12) * box.YLength, 0)
    at = made.Placement.inverse().multVec(box.Center - below)
    text = f"{made.Piece or 'grind guide'}  {made.Fabric}".strip()
    return nodes.words(at, f"{text}  OUT OF DATE" if stale else text)


def _draw_template(repair, made, pieces, guide, stale):
    piece = pieces.get(made.Piece) if made.Piece else guide
    labels = repair.ViewObject.Labels
    if piece is None:
        made.ViewObject.Proxy.show("nothing", list)
        return

    def drawn():
        lines = sheet.lines_of_piece(piece) if made.Piece else sheet.lines_of_guide(piece)
        found = list(sheet.drawn(lines, stale))
        return found + [_template_words(made, stale)] if labels or stale else found

    made.ViewObject.Proxy.show((getattr(made, "Drawn", json.dumps(piece)), labels, stale), drawn)


def _draw_templates(repair):
    plan = plan_store.plan(repair)
    pieces = {piece["id"]: piece for ply in plan["plies"] for piece in ply["pieces"]} if plan else {}
    stale = is_stale(repair)
    for folder in repair.Group:
        for made in getattr(folder, "Group", []):
            _draw_template(repair, made, pieces, plan and plan["grind_guide"], stale)


def redraw(repair):
    """Draws everything of a repair anew, and the legend."""
    key = (repair.Document.Name, repair.Name)
    children = [each for each in repair.Group if hasattr(each, "Role")]
    shown = plan_store.parts(repair) and key not in hushed
    picture = Picture(repair) if shown else None
    numbered = {ply["number"]: ply for ply in picture.plan["plies"]} if shown else {}
    for made in children:
        view = made.ViewObject.Proxy
        if made.Role == "outlines" and shown:
            view.show(picture.source_of_outlines(), picture.outlines)
        elif made.Role == "ply" and made.Number in numbered:
            ply = numbered[made.Number]
            view.show(picture.source_of(ply), lambda ply=ply: picture.ply(ply))
        else:
            view.show("nothing", list)
    _draw_templates(repair)
    legend.show(repair, picture)
