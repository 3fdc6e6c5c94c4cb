"""The hull of a repair as a file that the engine reads.

A shape goes out as BREP, a mesh as PLY, both in mm and in the place they have in the document,
named after object and content: the same hull has the same name in every session, and the sheets
tell which one it was.
"""
import atexit
import hashlib
import os
import re
import shutil
import tempfile

import FreeCAD

MESH_ENDINGS = (".stl", ".obj", ".ply")

# A saved document keeps 17 decimals; 1e-12 mm is far below what any number of a plan shows.
DECIMALS = 12

_folder = None
_known = {}  # (document, object) -> (what it looked like, file name)
_changes = {}  # (document, object) -> how often its surface changed in this session


class NoHull(Exception):
    """The hull is missing or holds no surface."""


def folder():
    """A folder of this session's own, gone when FreeCAD ends."""
    global _folder
    if _folder is None or not os.path.isdir(_folder):
        _folder = tempfile.mkdtemp(prefix="tearline-")
        atexit.register(shutil.rmtree, _folder, ignore_errors=True)
    return _folder


class _Watcher:
    """Counts changes, so that an unchanged hull of a million triangles is not written again."""

    def slotChangedObject(self, changed, prop):
        if prop in ("Shape", "Mesh", "Placement"):
            key = (changed.Document.Name, changed.Name)
            _changes[key] = _changes.get(key, 0) + 1

    def slotDeletedDocument(self, document):
        for known in (_changes, _known):
            for key in [key for key in known if key[0] == document.Name]:
                del known[key]


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)


def _placed(hull, surface):
    """The surface where it stands in the document, whatever parts it is nested in."""
    outer = hull.getGlobalPlacement() * hull.Placement.inverse()
    if not outer.isIdentity():
        surface = surface.copy()
        matrix = outer.toMatrix()
        if hasattr(surface, "transformShape"):
            surface.transformShape(matrix)
        else:
            surface.transform(matrix)
    return surface


_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")


def _rounded(match):
    value = round(float(match.group()), DECIMALS)
    return str(int(value)) if value == int(value) else repr(value)


def _round_brep(path):
    """Takes away the digits that a shape loses when its document is saved and opened again."""
    with open(path, encoding="ascii") as file:
        text = file.read()
    with open(path, "w", encoding="ascii") as file:
        file.write(_NUMBER.sub(_rounded, text))


def _write(hull, path):
    if hasattr(hull, "Shape"):
        shape = hull.Shape
        if shape.isNull() or not shape.Faces:
            raise NoHull(f"{hull.Label} holds no surface: take a shape with faces, or a mesh")
        _placed(hull, shape).exportBrep(path)
        _round_brep(path)
    elif hasattr(hull, "Mesh"):
        if hull.Mesh.CountFacets == 0:
            raise NoHull(f"{hull.Label} is an empty mesh")
        _placed(hull, hull.Mesh).write(path, "PLY")
    else:
        raise NoHull(f"{hull.Label} is neither a shape nor a mesh")


def _outer_place(hull):
    return str(hull.getGlobalPlacement().toMatrix())


def _exported(hull):
    key = (hull.Document.Name, hull.Name)
    look = (_changes.get(key, 0), _outer_place(hull))
    if key in _known and _known[key][0] == look:
        if os.path.exists(os.path.join(folder(), _known[key][1])):
            return _known[key][1]
    ending = ".brep" if hasattr(hull, "Shape") else ".ply"
    draft = os.path.join(folder(), "draft" + ending)
    _write(hull, draft)
    with open(draft, "rb") as file:
        name = f"{hull.Name}-" + hashlib.sha256(file.read()).hexdigest()[:12] + ending
    os.replace(draft, os.path.join(folder(), name))
    _known[key] = (look, name)
    return name


def hull_file(repair):
    """(model, unit) as the job names them: a name in folder(), or a path of the user's own."""
    if repair.Hull is not None:
        name = _exported(repair.Hull)
        return name, "mm" if name.endswith(".ply") else ""
    if repair.HullFile:
        if not os.path.isfile(repair.HullFile):
            raise NoHull(f"There is no file {repair.HullFile}")
        mesh = repair.HullFile.lower().endswith(MESH_ENDINGS)
        return repair.HullFile, repair.HullUnit if mesh else ""
    raise NoHull("Take a hull: select a shape or a mesh, then Tearline, New repair...")
