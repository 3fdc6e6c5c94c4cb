"""Where a surface ends: the loops round it and round its openings."""
import FreeCAD
import numpy

from tearline_cad.document import frames

FINE = 0.5  # [mm] between a shape and the triangles that its ends are found on
SAME = 4  # decimals of a mm to which two corners are one

_kept = {}  # (document, object) -> (what of the hull it was found on, loops)


def rim(triangles):
    """Edges that belong to one triangle only, as pairs of vertices in the triangle's order."""
    edges = numpy.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    names = edges.min(axis=1).astype(numpy.int64) * (int(triangles.max()) + 1) + edges.max(axis=1)
    order = numpy.argsort(names)
    sorted_names = names[order]
    twice = sorted_names[1:] == sorted_names[:-1]
    alone = ~(numpy.append(twice, False) | numpy.insert(twice, 0, False))
    return edges[order[alone]]


def loops(triangles):
    """Closed ways along the rim, as lists of vertices."""
    after = {}
    for start, end in rim(triangles).tolist():
        after.setdefault(start, []).append(end)
    found = []
    while after:
        start = at = next(iter(after))
        loop = []
        while at in after:
            loop.append(at)
            ends = after[at]
            step = ends.pop()
            if not ends:
                del after[at]
            at = step
            if at == start:
                break
        if len(loop) > 2:
            found.append(loop)
    return found


def _triangles(hull):
    surface = frames.surface_of(hull)
    points, triangles = surface.Topology if frames.is_mesh(hull) else surface.tessellate(FINE)
    points = numpy.array([tuple(point) for point in points]).reshape(-1, 3)
    _, first, place = numpy.unique(numpy.round(points, SAME), axis=0, return_index=True,
                                   return_inverse=True)
    triangles = place.reshape(-1)[numpy.array(triangles, dtype=int).reshape(-1, 3)]
    whole = (triangles != numpy.roll(triangles, 1, axis=1)).all(axis=1)
    return points[first], triangles[whole]


def _stamp(hull):
    if frames.is_mesh(hull):
        return hull.Mesh.CountPoints, tuple(hull.Mesh.BoundBox.Center), hull.Mesh.Area
    return frames.shape_of(hull).hashCode()


def loops_of(hull):
    """The ends of a hull as arrays of points, in its own coordinates; none of bare points."""
    if frames.is_cloud(hull):
        return []
    key = (hull.Document.Name, hull.Name)
    if key not in _kept or _kept[key][0] != _stamp(hull):
        points, triangles = _triangles(hull)
        _kept[key] = (_stamp(hull), [points[loop] for loop in loops(triangles)] if len(triangles) else [])
    return _kept[key][1]


def _foot(loop, point):
    """The place of a closed line nearest to a point, and how far off it is."""
    along = numpy.roll(loop, -1, axis=0) - loop
    length = numpy.maximum((along ** 2).sum(axis=1), 1e-30)
    share = numpy.clip(((point - loop) * along).sum(axis=1) / length, 0, 1)
    feet = loop + share[:, None] * along
    apart = numpy.linalg.norm(feet - point, axis=1)
    nearest = apart.argmin()
    return feet[nearest], apart[nearest]


def nearest_end(hull, point):
    """(loop, place on it, how far off) of the end nearest to a point, or None."""
    point = numpy.array(tuple(point))
    found = [(loop, *_foot(loop, point)) for loop in loops_of(hull)]
    if not found:
        return None
    loop, place, apart = min(found, key=lambda each: each[2])
    return loop, FreeCAD.Vector(*place), float(apart)


def middle(loop):
    """The centroid of a closed line."""
    after = numpy.roll(loop, -1, axis=0)
    length = numpy.linalg.norm(after - loop, axis=1)
    return FreeCAD.Vector(*((length[:, None] * (loop + after) / 2).sum(axis=0) / length.sum()))


def girth(loop):
    """[mm] the length of a closed line."""
    return float(numpy.linalg.norm(numpy.roll(loop, -1, axis=0) - loop, axis=1).sum())
