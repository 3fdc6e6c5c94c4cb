"""The hull's own coordinates. The points of a repair are kept in them, and the engine sees the hull in
them, so that a hull that is moved carries its repair along and nothing is planned anew.

A hull may be a shape, a mesh, bare points of a scan or a link to one, by itself or inside parts and assemblies.
Where a scan is taken times a scale, its own coordinates are those before it.
"""
import FreeCAD
import Part

PLACEMENT = 3  # retType of getSubObject


def _own_place(thing):
    return thing.getSubObject("", retType=PLACEMENT) or FreeCAD.Placement()


def outer_place(thing):
    """Where the coordinates that an object's own placement is told in stand in the document."""
    if not thing.Parents:
        return FreeCAD.Placement()
    top, path = thing.Parents[0]
    return top.getSubObject(path, retType=PLACEMENT) * _own_place(thing).inverse()


def is_mesh(hull):
    return hasattr(hull, "Mesh")


def is_cloud(hull):
    """Whether it is bare points."""
    return hasattr(hull, "Points") and not is_mesh(hull)


def shape_of(hull):
    """The shape of a hull where its own placement puts it."""
    return Part.getShape(hull)


def frame_of(hull):
    """Where a hull's own coordinates stand in the document; None, of a file: as they are."""
    if hull is None:
        return FreeCAD.Placement()
    if not is_mesh(hull) and not is_cloud(hull):
        return outer_place(hull) * shape_of(hull).Placement
    place, linked = _own_place(hull), hull.getLinkedObject(True)
    if linked is not hull and hull.LinkTransform:
        place = place * linked.Placement
    return outer_place(hull) * place


def surface_of(hull):
    """A hull's shape, mesh or points in its own coordinates."""
    if is_cloud(hull):
        surface = hull.Points.copy()
    else:
        surface = hull.Mesh.copy() if is_mesh(hull) else Part.Shape(shape_of(hull))
    surface.Placement = FreeCAD.Placement()
    return surface


def box_of(hull):
    """The box about a hull where it stands in the document; an invalid one about a hull that holds nothing."""
    box = surface_of(hull).BoundBox
    return box.transformed(frame_of(hull).toMatrix()) if box.isValid() else box


def _same(one, other):
    return all(abs(a - b) < 1e-9 * max(abs(a), 1)
               for a, b in zip(one.toMatrix().A, other.toMatrix().A))


def place(made, frame):
    """Puts an object whose shape is told in a hull's own coordinates onto that hull."""
    wanted = outer_place(made).inverse() * frame
    if not _same(made.Placement, wanted):
        made.Placement = wanted
