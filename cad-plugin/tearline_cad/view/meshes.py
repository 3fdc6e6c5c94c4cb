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


def risers(points, triangles):
    """How far each vertex goes for the surface to rise by 1: its normal, at creases longer.

    Least squares over the planes that meet at the vertex, so that a crease stays a crease. Vertices
    at one place, as where a ply opens over a crease, go together.
    """
    unit, size = _faces(points, triangles)
    places, place_of = numpy.unique(numpy.round(points, 6), axis=0, return_inverse=True)
    place_of = place_of.reshape(-1)
    triangles, count = place_of[triangles], len(places)
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


def rim(triangles):
    """Edges that belong to one triangle only, as pairs of vertices."""
    edges = numpy.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    names = edges.min(axis=1).astype(numpy.int64) * (int(triangles.max()) + 1) + edges.max(axis=1)
    order = numpy.argsort(names)
    sorted_names = names[order]
    twice = sorted_names[1:] == sorted_names[:-1]
    alone = ~(numpy.append(twice, False) | numpy.insert(twice, 0, False))
    return edges[order[alone]]


def riser_at(corners, middles, corner_risers, at):
    """The riser at the place nearest to a point, from the few triangles about it.

    corners, corner_risers   (triangles, 3, 3) [mm]
    middles                  (triangles, 3) [mm]
    """
    few = min(12, len(middles))
    near = numpy.argpartition(((middles - at) ** 2).sum(axis=1), few - 1)[:few]
    shares = weights(corners[near], at)[:, :, None]
    feet = (shares * corners[near]).sum(axis=1)
    nearest = int(numpy.argmin(((feet - at) ** 2).sum(axis=1)))
    return (shares[nearest] * corner_risers[near[nearest]]).sum(axis=0)
