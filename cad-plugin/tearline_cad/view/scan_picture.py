"""How far a scan lies off the fair surface that was fitted to it, in colour, and that surface over the damage."""
import numpy

from tearline_cad.document import frames, pieces
from tearline_cad.view import colours, meshes, nodes

BESIDE = 4.0  # [mm] sideways off the fair surface that a point of the scan may lie to be shown
OVER, BRIDGE = 2.0, 6.0  # [mm] that colours and the surface over the damage lie over the scan
UNDER = 0.5  # [mm] that the rims of points lie under their colours

_scans = {}  # (document, hull) -> (size, points, triangles)


def scan_arrays(hull):
    """(points, triangles) of a hull that is a mesh or bare points; None for triangles of the latter."""
    cloud = frames.is_cloud(hull)
    key = (hull.Document.Name, hull.Name)
    stamp = (hull.Points if cloud else hull.Mesh).CountPoints
    if key not in _scans or _scans[key][0] != stamp:
        surface = frames.surface_of(hull)
        told, triangles = (surface.Points, None) if cloud else surface.Topology
        points = numpy.array([tuple(point) for point in told]).reshape(-1, 3)
        _scans[key] = (stamp, points, None if cloud else numpy.array(triangles, dtype=int).reshape(-1, 3))
    return _scans[key][1:]


# [mm] about a place in which points of a scan are looked at: sideways, along the way; how many pairs of both at most.
ABOUT, ALONG, MOST = 15.0, 100.0, 1_000_000


def risen(hull, places, way):
    """Places taken along a unit vector until no point of the scan near them lies over them: a line straight from place
    to place runs under a hull that bulges between them."""
    points, _ = scan_arrays(hull)
    low, high = places.min(axis=0) - ALONG, places.max(axis=0) + ALONG
    near = points[((points > low) & (points < high)).all(axis=1)]
    near = near[::len(near) * len(places) // MOST + 1]
    off = near[None] - places[:, None]
    over = off @ way
    beside = numpy.sqrt(numpy.maximum((off ** 2).sum(axis=2) - over ** 2, 0))
    over[(beside > ABOUT) | (over > ALONG)] = 0
    return places + over.max(axis=1, initial=0)[:, None] * way


def can_show(repair, plan):
    hull = repair.Hull
    return bool(plan.get("scan")) and hull is not None and (frames.is_cloud(hull) or frames.is_mesh(hull))


class Deviation:
    """A scan over the place of a repair."""

    def __init__(self, repair, dish, scale):
        """dish   arrays of dish.bin, true mm"""
        self._base = pieces.rows(dish["base"]) / scale
        self._triangles = pieces.rows(dish["triangles"])
        self._depth = numpy.asarray(dish["depth"])
        normals = meshes.normals(self._base, self._triangles)
        points, self._faces = scan_arrays(repair.Hull)
        low, high = self._base.min(axis=0) - BESIDE, self._base.max(axis=0) + BESIDE
        margin = 0.1 * (high - low).max()
        near = ((points > low - margin) & (points < high + margin)).all(axis=1).nonzero()[0]
        heights, beside, ways = meshes.heights(self._base[self._triangles], normals[self._triangles], points[near])
        kept = beside < BESIDE
        self._numbers = near[kept]
        self.points, self.heights, self._ways = points[near][kept], heights[kept] * scale, ways[kept]

    @property
    def top(self):
        """[mm] the end of the scale, either way."""
        return colours.nice_top(float(numpy.abs(self.heights).max(initial=0.1)))

    def nodes(self):
        anchors = [colours.unit(colour) for colour in colours.deviation_steps()]
        steps = numpy.clip(((self.heights / self.top + 1) / 2 * len(anchors)).astype(int), 0, len(anchors) - 1)
        lifted = self.points + OVER * self._ways
        if self._faces is None:
            # What lies on the fair surface is nearly white: before a white background it is seen by its rim.
            yield nodes.dots(self.points + (OVER - UNDER) * self._ways, [colours.unit(colours.RIM)] * len(lifted), 7)
            yield nodes.dots(lifted, [anchors[step] for step in steps], 5)
        else:
            place = numpy.full(self._faces.max() + 1, -1)
            place[self._numbers] = numpy.arange(len(self._numbers))
            faces = place[self._faces]
            yield nodes.shaded(lifted, faces[(faces >= 0).all(axis=1)], anchors, steps)
        yield from self._bridged()

    def _bridged(self):
        """The fair surface over what is not believed of the scan: the floor of the dish."""
        floor = self._depth >= self._depth.max() - 1e-3
        inside = self._triangles[floor[self._triangles].all(axis=1)]
        if not len(inside):
            return
        lifted = self._base + BRIDGE * meshes.normals(self._base, self._triangles)
        yield nodes.surface(lifted, inside, [colours.unit(colours.BRIDGED)], lit=True, clear=0.65)
        edges = numpy.unique(numpy.sort(numpy.concatenate(
            [inside[:, [0, 1]], inside[:, [1, 2]], inside[:, [2, 0]]]), axis=1), axis=0)
        yield nodes.edges(lifted, edges, colours.unit(colours.RIM), 0.5)
