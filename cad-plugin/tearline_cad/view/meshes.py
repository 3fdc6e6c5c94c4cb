"""Triangle meshes as arrays: normals, rims, places on them; no drawing."""
import numpy


def array_of(numbers, columns):
    """Flat numbers as rows."""
    return numpy.asarray(numbers).reshape(-1, columns)


def _faces(points, triangles):
    """(unit normal, twice the area) of triangles."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    faces = numpy.cross(b - a, c - a)
    size = numpy.linalg.norm(faces, axis=1)
    return faces / numpy.where(size > 0, size, 1)[:, None], size


def _at_vertices(values, triangles, count):
    return sum(numpy.bincount(triangles[:, k], values, count) for k in range(3))


def normals(points, triangles):
    """Unit normals of vertices, weighted by area."""
    unit, size = _faces(points, triangles)
    sums = numpy.stack([_at_vertices(size * unit[:, k], triangles, len(points))
                        for k in range(3)], axis=1)
    length = numpy.linalg.norm(sums, axis=1)
    return sums / numpy.where(length > 0, length, 1)[:, None]


def _together(points, ends):
    """The first vertex of each one's place; only `ends` share places."""
    first_of, ends = numpy.arange(len(points)), numpy.asarray(ends, dtype=int)
    _, first, place_of = numpy.unique(numpy.round(points[ends], 6), axis=0, return_index=True, return_inverse=True)
    first_of[ends] = ends[first[place_of.reshape(-1)]]
    return first_of


def risers(points, triangles, ends):
    """How far each vertex goes for the surface to rise by 1: its normal, at creases longer.

    Least squares over the planes that meet at the vertex, so that a crease stays a crease. Vertices
    at one place, as where a ply opens over a crease, go together: all of these are among `ends`, those of the rim.
    """
    unit, size = _faces(points, triangles)
    place_of, count = _together(points, ends), len(points)
    triangles = place_of[triangles]
    matrix = numpy.empty((count, 3, 3))
    right = numpy.empty((count, 3))
    for row in range(3):
        right[:, row] = _at_vertices(size * unit[:, row], triangles, count)
        for column in range(row, 3):
            matrix[:, row, column] = matrix[:, column, row] = _at_vertices(
                size * unit[:, row] * unit[:, column], triangles, count)
    # Where one plane meets, only the way along its normal is determined.
    trace = numpy.maximum(numpy.trace(matrix, axis1=1, axis2=2), 1e-30)
    matrix += 1e-3 * trace[:, None, None] * numpy.eye(3)
    return numpy.linalg.solve(matrix, right[:, :, None])[place_of, :, 0]


def weights(corners, at):
    """Shares of the corners of triangles in the places nearest to a point in their planes.

    corners   (triangles, 3, 3) [mm]
    Outside a triangle the shares are those of a place on its rim, near the nearest one.
    """
    first, u, v = corners[:, 0], corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    w = at - first
    uu, uv, vv = (u * u).sum(axis=1), (u * v).sum(axis=1), (v * v).sum(axis=1)
    wu, wv = (w * u).sum(axis=1), (w * v).sum(axis=1)
    area = numpy.maximum(uu * vv - uv * uv, 1e-30)
    second, third = (vv * wu - uv * wv) / area, (uu * wv - uv * wu) / area
    shares = numpy.clip(numpy.stack([1 - second - third, second, third], axis=1), 0, None)
    return shares / shares.sum(axis=1)[:, None]


# How many triangles with the nearest middles a place is looked for in; how many places at once, which lie together
# where they are those of a line; how far about them triangles are looked at, times the longest edge.
NEAR, AT_ONCE, ABOUT = 4, 128, 2.0


def _nearest_middles(middles, places):
    """Numbers of the NEAR triangles whose middles lie nearest to each place."""
    # |p - m|^2 without |p|^2, which is the same for all triangles; single precision about the
    # middle of all is far finer than a triangle.
    origin = middles.mean(axis=0)
    middles = (middles - origin).astype(numpy.float32)
    places = (places - origin).astype(numpy.float32)
    apart = (middles ** 2).sum(axis=1)[None, :] - 2 * (places @ middles.T)
    rows = numpy.arange(len(places))
    found = []
    for _ in range(min(NEAR, len(middles))):
        found.append(apart.argmin(axis=1))
        apart[rows, found[-1]] = numpy.inf
    return numpy.stack(found, axis=1)


def risers_at(corners, corner_risers, places):
    """The riser at the place of a mesh nearest to each point, from the few triangles about it.

    corners, corner_risers   (triangles, 3, 3) [mm]
    places                   (points, 3) [mm]
    """
    return _at_feet(corners, corner_risers, places)[1]


def heights(corners, corner_normals, places):
    """(how far over a mesh each point lies, how far beside it, the unit normal there)."""
    feet, ways = _at_feet(corners, corner_normals, places)
    ways /= numpy.maximum(numpy.linalg.norm(ways, axis=1), 1e-30)[:, None]
    off = places - feet
    over = (off * ways).sum(axis=1)
    return over, numpy.linalg.norm(off - over[:, None] * ways, axis=1), ways


def _at_feet(corners, corner_values, places):
    """(foot, value there) of the place of a mesh nearest to each point."""
    middles = corners.mean(axis=1)
    nearest, found = numpy.empty((len(places), 3)), numpy.empty((len(places), 3))
    reach = ABOUT * numpy.linalg.norm(corners - numpy.roll(corners, 1, axis=1), axis=2).max()
    for start in range(0, len(places), AT_ONCE):
        at = places[start:start + AT_ONCE]
        about = ((middles > at.min(axis=0) - reach) & (middles < at.max(axis=0) + reach)).all(axis=1).nonzero()[0]
        if len(about) < NEAR:
            about = numpy.arange(len(middles))
        near = about[_nearest_middles(middles[about], at)]
        few = near.shape[1]
        shares = weights(corners[near.ravel()], numpy.repeat(at, few, axis=0))[:, :, None]
        feet = (shares * corners[near.ravel()]).sum(axis=1).reshape(-1, few, 3)
        best = ((feet - at[:, None]) ** 2).sum(axis=2).argmin(axis=1)
        rows = numpy.arange(len(at))
        chosen = shares.reshape(-1, few, 3, 1)[rows, best]
        nearest[start:start + AT_ONCE] = feet[rows, best]
        found[start:start + AT_ONCE] = (chosen * corner_values[near[rows, best]]).sum(axis=1)
    return nearest, found
