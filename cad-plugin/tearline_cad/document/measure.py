"""How far the edges of plies lie from a place on the hull: straight, and as a tape lies on the hull."""
import collections

import FreeCAD
import numpy

from tearline_cad.document import frames, plan_store

# number and cloth of the ply; the place of its edge that is nearest; true mm straight and along the hull (None
# where the hull ends in between); the way of the tape in the hull's coordinates
Measured = collections.namedtuple("Measured", "number fabric place straight along way")

STEP = 2.0  # [mm] between places of a tape's way
NEAR = 1.0  # [mm] that a way may miss the places it joins by, and a share of their distance


def _foot(loop, point):
    """The place of a closed line nearest to a point."""
    loop = numpy.asarray(loop, dtype=float)
    along = numpy.roll(loop, -1, axis=0) - loop
    length = numpy.maximum((along ** 2).sum(axis=1), 1e-30)
    share = numpy.clip(((point - loop) * along).sum(axis=1) / length, 0, 1)
    feet = loop + share[:, None] * along
    apart = numpy.linalg.norm(feet - point, axis=1)
    return feet[apart.argmin()], apart.min()


def _cuts(hull, at, normal):
    """Lines that a plane cuts out of a hull, as arrays of points."""
    surface = frames.surface_of(hull)
    if frames.is_cloud(hull):
        return []
    if frames.is_mesh(hull):
        lines = surface.crossSections([(at, normal)])[0]
        return [numpy.array([tuple(point) for point in line]) for line in lines if len(line) > 1]
    found = []
    for wire in surface.slice(normal, at.dot(normal)):
        points = wire.discretize(Distance=STEP)
        found.append(numpy.array([tuple(point) for point in points]))
    return found


def _between(line, start, end):
    """The part of a line from one place to another, the shorter way where it is closed; None where it misses one
    of them."""
    first = numpy.linalg.norm(line - start, axis=1).argmin()
    last = numpy.linalg.norm(line - end, axis=1).argmin()
    reach = NEAR + STEP + 0.02 * numpy.linalg.norm(end - start)
    if numpy.linalg.norm(line[first] - start) > reach or numpy.linalg.norm(line[last] - end) > reach:
        return None
    low, high = min(first, last), max(first, last)
    parts = [line[low:high + 1]]
    if numpy.linalg.norm(line[0] - line[-1]) < STEP:
        parts.append(numpy.concatenate([line[high:], line[:low + 1]]))
    inner = min(parts, key=_length)
    inner = inner if first <= last and inner is parts[0] or first > last and inner is not parts[0] else inner[::-1]
    return numpy.concatenate([[start], inner[1:-1], [end]])


def _length(line):
    return float(numpy.linalg.norm(numpy.diff(line, axis=0), axis=1).sum())


def along_hull(hull, start, end, way_out):
    """The way of a tape pulled straight over the hull between two places: in the plane of both and of the way out
    of the hull. None where the hull has no such way."""
    normal = numpy.cross(end - start, way_out)
    size = numpy.linalg.norm(normal)
    if size < 1e-9:
        return None
    plane = FreeCAD.Vector(*(normal / size))
    ways = [_between(line, start, end) for line in _cuts(hull, FreeCAD.Vector(*start), plane)]
    return min((way for way in ways if way is not None), key=_length, default=None)


def measured(repair, place):
    """[Measured] of every ply from a place, in the hull's own coordinates."""
    plan = plan_store.plan(repair)
    scale, start = plan_store.scale_of(plan), numpy.array(tuple(place))
    way_out = numpy.array(plan["frame"]["normal"])
    found = []
    for ply in plan["plies"]:
        loops = [numpy.array(loop) / scale for region in ply["outlines_3d"]
                 for loop in (region["outer"], *region["holes"])]
        end, straight = min((_foot(loop, start) for loop in loops), key=lambda each: each[1])
        way = along_hull(repair.Hull, start, end, way_out) if repair.Hull is not None else None
        found.append(Measured(ply["number"], ply["fabric"], end, straight * scale,
                              None if way is None else _length(way) * scale, way))
    return found
