"""A shape, a mesh or a file becomes the hull of a repair."""
import os

import FreeCAD
import Mesh
import Part

from tearline_cad.document import frames
from tearline_cad.document.hull_file import MESH_ENDINGS

SHAPE_ENDINGS = (".step", ".stp", ".iges", ".igs", ".brep")
MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
WAYS = {"+X": (1, 0, 0), "-X": (-1, 0, 0), "+Y": (0, 1, 0), "-Y": (0, -1, 0), "+Z": (0, 0, 1),
        "-Z": (0, 0, -1)}


def can_be_hull(thing):
    """Whether an object holds faces or triangles."""
    shape = getattr(thing, "Shape", None)
    if shape is not None and hasattr(shape, "Faces"):
        return bool(shape.Faces)
    return hasattr(thing, "Mesh") and thing.Mesh.CountFacets > 0


def read_hull(document, path, unit="mm"):
    """Brings a file into the document; `unit` is that of a mesh file."""
    name = os.path.splitext(os.path.basename(path))[0]
    if path.lower().endswith(MESH_ENDINGS):
        mesh = Mesh.Mesh(path)
        if MILLIMETRES[unit] != 1.0:
            matrix = FreeCAD.Matrix()
            matrix.scale(*[MILLIMETRES[unit]] * 3)
            mesh.transform(matrix)
        hull = document.addObject("Mesh::Feature", name)
        hull.Mesh = mesh
    elif path.lower().endswith(SHAPE_ENDINGS):
        shape = Part.Shape()
        shape.read(path)
        hull = document.addObject("Part::Feature", name)
        hull.Shape = shape
    else:
        raise ValueError(f"{os.path.basename(path)} is no hull file: "
                         + " ".join(SHAPE_ENDINGS + MESH_ENDINGS))
    hull.Label = name
    return hull


def likely_ways(hull):
    """(bow, up) to begin with: along the longest extent, and z unless that is the longest."""
    box = frames.box_of(hull)
    extents = {"+X": box.XLength, "+Y": box.YLength, "+Z": box.ZLength}
    bow = max(extents, key=extents.get)
    return bow, "+Y" if bow == "+Z" else "+Z"
