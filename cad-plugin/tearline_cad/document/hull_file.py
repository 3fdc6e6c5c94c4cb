"""The hull of a repair as a file that the engine reads.

A shape goes out as BREP, a mesh or bare points as PLY, all in mm and in the hull's own coordinates (frames.py),
named after object and content: the same hull has the same name in every session, and the sheets
tell which one it was.
"""
import atexit
import collections
import hashlib
import os
import re
import shutil
import tempfile

import FreeCAD
import numpy

from tearline_cad.document import frames
from tearline_cad.document.belonging import document_of
from tearline_cad.document.words import tr

MESH_ENDINGS = (".stl", ".obj", ".ply")
CLOUD_ENDINGS = (".xyz", ".pts", ".csv")

# A saved document keeps 17 decimals; 1e-12 mm is far below what any number of a plan shows.
DECIMALS = 12

_folder = None
_Written = collections.namedtuple("_Written", "name surface changes")
_known = {}  # (document, object) -> what was written of it
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
    """Counts changes of meshes, so that one of a million triangles is not written again unchanged."""

    def slotChangedObject(self, changed, prop):
        if prop in ("Mesh", "Points") and document_of(changed) is not None:
            key = (changed.Document.Name, changed.Name)
            _changes[key] = _changes.get(key, 0) + 1

    def slotDeletedDocument(self, document):
        for known in (_changes, _known):
            for key in [key for key in known if key[0] == document.Name]:
                del known[key]


_watcher = _Watcher()
FreeCAD.addDocumentObserver(_watcher)


_NUMBER = re.compile(r"^[01]{7}$|-?\d+(?:\.\d+)?(?:e[-+]?\d+)?", re.MULTILINE)
CHECKED = 2  # which of the seven flags of a shape says that it was once checked: so after a save


def _rounded(match):
    text = match.group()
    if len(text) == 7 and set(text) <= {"0", "1"}:
        return text[:CHECKED] + "0" + text[CHECKED + 1:]
    value = round(float(text), DECIMALS)
    return str(int(value)) if value == int(value) else repr(value)


def _round_brep(path):
    """Takes away what a shape loses or gains when its document is saved and opened again."""
    with open(path, encoding="ascii") as file:
        text = file.read()
    with open(path, "w", encoding="ascii") as file:
        file.write(_NUMBER.sub(_rounded, text))


def _write_points(surface, path):
    points = numpy.array([tuple(point) for point in surface.Points], dtype="<f8")
    with open(path, "wb") as file:
        file.write(b"ply\nformat binary_little_endian 1.0\nelement vertex %d\nproperty double x\n"
                   b"property double y\nproperty double z\nend_header\n" % len(points))
        file.write(points.tobytes())


def _write(hull, surface, path):
    if frames.is_cloud(hull):
        if surface.CountPoints == 0:
            raise NoHull(tr("{} holds no points", hull.Label))
        _write_points(surface, path)
        return
    if frames.is_mesh(hull):
        if surface.CountFacets == 0:
            raise NoHull(tr("{} is an empty mesh", hull.Label))
        surface.write(path, "PLY")
        return
    if surface.isNull() or not surface.Faces:
        raise NoHull(tr("{} holds no surface: take a shape with faces, or a mesh", hull.Label))
    surface.exportBrep(path)
    _round_brep(path)


def _missing():
    return NoHull(tr("Take a hull: select a shape or a mesh, then Tearline, New repair..."))


def _is_triangles_or_points(hull):
    return frames.is_mesh(hull) or frames.is_cloud(hull)


def _unchanged(hull, surface, known):
    """Whether a hull is as it was written, wherever it stands now."""
    if not os.path.exists(os.path.join(folder(), known.name)):
        return False
    if _is_triangles_or_points(hull):
        return known.changes == _changes.get((hull.Document.Name, hull.Name), 0)
    return known.surface.isPartner(surface)


def file_of(hull):
    """The name in folder() of what a hull, or a scan of a place of it, is written to."""
    if document_of(hull) is None:
        raise _missing()
    if not _is_triangles_or_points(hull) and not hasattr(hull, "Shape"):
        raise NoHull(tr("{} is neither a shape, a mesh nor points", hull.Label))
    key = (hull.Document.Name, hull.Name)
    surface = frames.surface_of(hull)
    if key in _known and _unchanged(hull, surface, _known[key]):
        return _known[key].name
    ending = ".ply" if _is_triangles_or_points(hull) else ".brep"
    draft = os.path.join(folder(), "draft" + ending)
    _write(hull, surface, draft)
    with open(draft, "rb") as file:
        name = f"{hull.Name}-" + hashlib.sha256(file.read()).hexdigest()[:12] + ending
    os.replace(draft, os.path.join(folder(), name))
    _known[key] = _Written(name, None if _is_triangles_or_points(hull) else surface, _changes.get(key, 0))
    return name


def copy_beside(model, path):
    """Puts a model, as hull_file() names it, beside a job file, where it is not a path of its own."""
    if not os.path.isabs(model):
        shutil.copy(os.path.join(folder(), model), os.path.join(os.path.dirname(os.path.abspath(path)), model))


def hull_file(repair):
    """(model, unit) as the job names them: a name in folder(), or a path of the user's own."""
    if repair.Hull is not None:
        name = file_of(repair.Hull)
        return name, "mm" if name.endswith(".ply") else ""
    if repair.HullFile:
        if not os.path.isfile(repair.HullFile):
            raise NoHull(tr("There is no file {}", repair.HullFile))
        mesh = repair.HullFile.lower().endswith(MESH_ENDINGS + CLOUD_ENDINGS)
        return repair.HullFile, repair.HullUnit if mesh else ""
    raise _missing()
