"""A flat template turned into objects of FreeCAD's own that can be changed: Draft wires, or a sketch."""
import Draft
import FreeCAD
import Part

from tearline_cad.document import plan_store, templates
from tearline_cad.document.words import tr
from tearline_cad.view import sheet

# What the lines of each kind are called.
NAMES = {"net": "net line", "tear": "tear line", "cut": "cut line", "relief": "slit", "fold": "fold",
         "kerf": "kerf", "next": "next edge", "ring": "ring", "mark": "mark"}


def _lines(repair, made):
    """[(kind, points)] of a template or a grind guide, in its own plane."""
    for _, piece, whose, _, source in templates.sheets(plan_store.plan(repair)):
        if piece == made.Piece and (piece or whose == made.Fabric):
            lines = sheet.lines_of_piece(source) if piece else sheet.lines_of_guide(source)
            return [(kind, points) for kind, points in lines if len(points) > 1]
    return []


def _is_closed(points):
    return len(points) > 3 and points[0] == points[-1]


def to_draft(repair, made):
    """A group of one Draft wire for each line."""
    group = made.Document.addObject("App::DocumentObjectGroup", "DraftTemplate")
    group.Label = made.Label + ", Draft"
    for kind, points in _lines(repair, made):
        closed = _is_closed(points)
        corners = [made.Placement.multVec(FreeCAD.Vector(x, y, 0)) for x, y in (points[:-1] if closed else points)]
        wire = Draft.make_wire(corners, closed=closed, face=False)
        wire.Label = f"{made.Label}, {tr(NAMES[kind])}"
        group.addObject(wire)
    return group


def _polyline(points):
    """A line through points as one curve of first degree: hundreds of lines make a sketch slow."""
    corners = [FreeCAD.Vector(x, y, 0) for x, y in points]
    corners = [corner for k, corner in enumerate(corners) if k == 0 or not corner.isEqual(corners[k - 1], 1e-6)]
    if len(corners) == 2:
        return Part.LineSegment(*corners)
    curve = Part.BSplineCurve()
    curve.buildFromPolesMultsKnots(corners, [2] + [1] * (len(corners) - 2) + [2], list(range(len(corners))), False, 1)
    return curve


def to_sketch(repair, made):
    """A sketch of the same lines, where the template lies."""
    drawn = made.Document.addObject("Sketcher::SketchObject", "SketchTemplate")
    drawn.Label = made.Label + ", " + tr("sketch")
    drawn.Placement = made.Placement
    for kind, points in _lines(repair, made):
        # Marks and the next edge are to look at, no contour to work on.
        drawn.addGeometry(_polyline(points), kind not in ("net", "tear", "cut", "relief"))
    return drawn
