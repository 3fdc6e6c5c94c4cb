"""Outlines of a plan as wires."""
import FreeCAD
import Part

Vector = FreeCAD.Vector


def wire(points, closed=True):
    """A wire through [x, y] or [x, y, z]; None when it has no length."""
    corners = [Vector(*point) if len(point) == 3 else Vector(point[0], point[1], 0)
               for point in points]
    if closed and corners:
        corners.append(corners[0])
    # makePolygon leaves out what lies where the point before lies.
    return Part.makePolygon(corners) if _has_length(corners) else None


def one_edge(points):
    """The same closed line as one edge, a spline of the first degree: hundreds of edges cost the window 0.1 s."""
    corners = [Vector(point[0], point[1], 0) for point in (*points, points[0])]
    corners = [corner for k, corner in enumerate(corners) if k == 0 or not corner.isEqual(corners[k - 1], 1e-7)]
    if len(corners) < 4:
        return wire(points)
    curve = Part.BSplineCurve()
    inner = len(corners) - 2
    curve.buildFromPolesMultsKnots(corners, [2] + [1] * inner + [2], list(range(inner + 2)), False, 1)
    return Part.Wire(curve.toShape())


def _has_length(corners):
    return any(not corner.isEqual(corners[0], 1e-7) for corner in corners[1:])


def crossed_out(line):
    """Two strokes right across a closed line, each from one of its corners to the one half way round."""
    corners = [vertex.Point for vertex in line.OrderedVertexes]
    count = len(corners)
    strokes = (wire([corners[k], corners[k + count // 2]], closed=False) for k in (0, count // 4))
    return [stroke for stroke in strokes if stroke is not None]


def compound(wires):
    return Part.makeCompound([each for each in wires if each is not None])


def region_wires(regions):
    """Wires of [{outer, holes}]."""
    for region in regions:
        yield wire(region["outer"])
        for hole in region["holes"]:
            yield wire(hole)


def piece_wires(piece):
    """Every line of a template: net line first, then tear or cut line, holes, cuts."""
    for name in ("net", "tear", "cut"):
        line = piece.get(f"{name}_line")
        if line:
            yield wire(line)
        for hole in piece.get(f"{name}_holes") or []:
            yield wire(hole)
    for cut in piece.get("relief_cuts", []):
        yield wire(cut["points"], closed=False)


def mark_wires(marks):
    """Marks that are lines; the words of a mark are shown beside them."""
    for mark in marks:
        points = mark["points"]
        if mark["kind"] == "datum" and len(points) == 4:
            yield wire(points[:2], closed=False)
            yield wire(points[2:], closed=False)
        elif len(points) > 1 and mark["kind"] not in ("label", "warning"):
            yield wire(points, closed=mark["kind"] == "next_edge")
