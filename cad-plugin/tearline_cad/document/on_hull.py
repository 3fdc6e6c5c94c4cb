"""Places of a hull nearest to points, to tell those that no longer lie on it."""
import FreeCAD
import numpy
import Part

from tearline_cad.document import frames

# [mm] from the hull that a point may lie for the engine (core/DEFINITIONS.md, Outline).
REACH = 20.0


def _on_shape(shape, point):
    _, pairs, _ = shape.distToShape(Part.Vertex(point))
    return FreeCAD.Vector(pairs[0][0])


def _on_mesh(corners, point):
    """The nearest corner of a mesh: near enough to be put right by the engine."""
    found = corners[((corners - numpy.array(point)) ** 2).sum(axis=1).argmin()]
    return FreeCAD.Vector(*(float(x) for x in found))


def nearest_places(hull, points):
    """The place of a hull nearest to each point, in the hull's own coordinates."""
    surface = frames.surface_of(hull)
    if frames.is_mesh(hull) or frames.is_cloud(hull):
        corners = numpy.array([(p.x, p.y, p.z) for p in surface.Points])
        return [_on_mesh(corners, point) for point in points]
    return [_on_shape(surface, point) for point in points]


def off_hull(hull, points):
    """(number, nearest place) of the points that lie too far off to be taken for marked."""
    return [(number, place) for number, (point, place)
            in enumerate(zip(points, nearest_places(hull, points)))
            if point.distanceToPoint(place) > REACH]
