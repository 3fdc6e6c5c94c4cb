"""A shape, a mesh or a file becomes the hull of a repair."""
import os

import FreeCAD
import Mesh
import Part
import Points

from tearline_cad.document import frames, looks, ply_file, point_file
from tearline_cad.document.hull_file import CLOUD_ENDINGS, MESH_ENDINGS
from tearline_cad.document.words import tr

SHAPE_ENDINGS = (".step", ".stp", ".iges", ".igs", ".brep")
MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
WAYS = {"+X": (1, 0, 0), "-X": (-1, 0, 0), "+Y": (0, 1, 0), "-Y": (0, -1, 0), "+Z": (0, 0, 1),
        "-Z": (0, 0, -1)}


def can_be_hull(thing):
    """Whether an object holds faces, triangles or points of a scan."""
    shape = getattr(thing, "Shape", None)
    if shape is not None and hasattr(shape, "Faces"):
        return bool(shape.Faces)
    if hasattr(thing, "Mesh"):
        return thing.Mesh.CountFacets > 0
    return frames.is_cloud(thing) and thing.Points.CountPoints > 0


def has_points_only(path):
    """Whether a file is of bare points: by its ending, or a PLY file whose head tells of no faces."""
    if path.lower().endswith(CLOUD_ENDINGS):
        return True
    if not path.lower().endswith(".ply"):
        return False
    with open(path, "rb") as file:
        head = file.read(65536).split(b"end_header")[0]
    told = [line.split() for line in head.splitlines() if line.startswith(b"element face")]
    return not told or told[0][2:] == [b"0"]


def read_points(path, factor):
    """Points of a file, times a factor."""
    if path.lower().endswith(".ply"):
        rows = ply_file.read(path)[0]
    else:
        rows = point_file.read(path)
    cloud = Points.Points()
    cloud.addPoints([FreeCAD.Vector(*row) for row in (rows.reshape(-1, 3) * factor).tolist()])
    return cloud


def _read_mesh(path):
    mesh = Mesh.Mesh(path)
    if mesh.CountFacets == 0 and path.lower().endswith(".ply"):
        copy = ply_file.as_freecad_reads_it(path)
        mesh = Mesh.Mesh(copy)
        os.remove(copy)
    return mesh


def _read_shape(path):
    shape = Part.Shape()
    shape.read(path)
    return shape


def _read(path, factor):
    """(type of object, its property, what the file holds)."""
    if has_points_only(path):
        return "Points::Feature", "Points", read_points(path, factor)
    if path.lower().endswith(MESH_ENDINGS):
        mesh = _read_mesh(path)
        if mesh.CountFacets == 0:
            raise ValueError(tr("it holds no facets"))
        if factor != 1.0:
            matrix = FreeCAD.Matrix()
            matrix.scale(factor, factor, factor)
            mesh.transform(matrix)
        return "Mesh::Feature", "Mesh", mesh
    if path.lower().endswith(SHAPE_ENDINGS):
        return "Part::Feature", "Shape", _read_shape(path)
    raise ValueError(tr("{} is no hull file: {}", os.path.basename(path),
                        " ".join(SHAPE_ENDINGS + MESH_ENDINGS + CLOUD_ENDINGS)))


def _said(error):
    """The words of an error; FreeCAD's own of 0.20 are one line of a table."""
    told = error.args[0] if error.args else ""
    return str(told.get("sErrMsg", error)) if isinstance(told, dict) else str(error)


def read_hull(document, path, unit="mm"):
    """Brings a file into the document; `unit` is that of a mesh file. ValueError says what is wrong with it; then
    nothing is in the document."""
    base = os.path.basename(path)
    try:
        kind, prop, surface = _read(path, MILLIMETRES[unit])
    except (ValueError, OSError, RuntimeError) as error:  # FreeCAD's own are of the last kind
        raise ValueError(_said(error) if base in _said(error) else f"{base}: {_said(error)}") from error
    name = os.path.splitext(base)[0]
    hull = document.addObject(kind, name)
    setattr(hull, prop, surface)
    hull.Label = name
    if frames.is_mesh(hull):
        looks.dress_new(hull)
    return hull


def likely_ways(hull):
    """(bow, up) to begin with: along the longest extent, and z unless that is the longest."""
    box = frames.box_of(hull)
    extents = {"+X": box.XLength, "+Y": box.YLength, "+Z": box.ZLength}
    bow = max(extents, key=extents.get)
    return bow, "+Y" if bow == "+Z" else "+Z"
