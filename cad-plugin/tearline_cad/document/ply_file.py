"""Reads PLY files of any kind: text or bytes of either order, any types of numbers. FreeCAD's own reader knows some
of them and takes the others for empty."""
import os
import tempfile

import numpy

from tearline_cad.document.words import tr

TYPES = {"char": "i1", "int8": "i1", "uchar": "u1", "uint8": "u1", "short": "i2", "int16": "i2", "ushort": "u2",
         "uint16": "u2", "int": "i4", "int32": "i4", "uint": "u4", "uint32": "u4", "float": "f4",
         "float32": "f4", "double": "f8", "float64": "f8"}
CORNERS = ("vertex_indices", "vertex_index")
ORDERS = {"binary_little_endian": "<", "binary_big_endian": ">"}


class NotPly(ValueError):
    """What is wrong with a file."""


def _head(data):
    """(format, [(element, count, [(name, type or (count's type, type))])], where the body begins)."""
    end = data.find(b"end_header")
    if not data.startswith(b"ply") or end < 0:
        raise NotPly(tr("it does not begin as a PLY file does"))
    kind, elements = "", []
    for line in data[:end].decode("ascii", errors="replace").splitlines():
        words = line.split()
        if words[:1] == ["format"]:
            kind = words[1]
        elif words[:1] == ["element"]:
            if int(words[2]) < 0:
                raise ValueError(tr("an element comes fewer than no times"))
            elements.append((words[1], int(words[2]), []))
        elif words[:2] == ["property", "list"]:
            elements[-1][2].append((words[4], (TYPES[words[2]], TYPES[words[3]])))
        elif words[:1] == ["property"]:
            elements[-1][2].append((words[2], TYPES[words[1]]))
    return kind, elements, data.index(b"\n", end) + 1


def _fan(corners):
    """A face of any number of corners as triangles."""
    return [(corners[0], corners[k], corners[k + 1]) for k in range(1, len(corners) - 1)]


def _corners(words, properties):
    """The corners of a face, by the words of its line."""
    at = 0
    for name, kind in properties:
        if not isinstance(kind, tuple):
            at += 1
            continue
        number = int(words[at])
        if not 0 <= number < len(words) - at:
            raise ValueError(tr("a face ends before its last corner"))
        if name in CORNERS:
            return [int(word) for word in words[at + 1:at + 1 + number]]
        at += 1 + number
    return []


def _text(data, elements, begin):
    lines = iter(data[begin:].decode("ascii", errors="replace").splitlines())
    points, faces = [], []
    for element, count, properties in elements:
        names = [name for name, _ in properties]
        for _ in range(count):
            words = next(lines).split()
            if element == "vertex":
                points.append([float(words[names.index(axis)]) for axis in "xyz"])
            elif element == "face":
                faces += _fan(_corners(words, properties))
    return numpy.array(points).reshape(-1, 3), numpy.array(faces, dtype=int).reshape(-1, 3)


def _faces(data, at, count, properties, order):
    """(triangles, where they end): all at once where every face is a triangle and has nothing else."""
    if len(properties) == 1 and isinstance(properties[0][1], tuple):
        (first, second) = properties[0][1]
        row = numpy.dtype([("count", order + first), ("corners", order + second, (3,))])
        if at + count * row.itemsize <= len(data):
            rows = numpy.frombuffer(data, row, count, at)
            if (rows["count"] == 3).all():
                return rows["corners"].astype(int), at + count * row.itemsize
    faces = []
    for _ in range(count):
        for name, kind in properties:
            if not isinstance(kind, tuple):
                at += numpy.dtype(kind).itemsize
                continue
            number = int(numpy.frombuffer(data, order + kind[0], 1, at)[0])
            at += numpy.dtype(kind[0]).itemsize
            if number < 0:
                raise ValueError(tr("a list of fewer than none"))
            if name in CORNERS:
                faces += _fan(numpy.frombuffer(data, order + kind[1], number, at).astype(int).tolist())
            at += number * numpy.dtype(kind[1]).itemsize
    return numpy.array(faces, dtype=int).reshape(-1, 3), at


def _bytes(data, elements, at, order):
    points, faces = numpy.empty((0, 3)), numpy.empty((0, 3), dtype=int)
    for element, count, properties in elements:
        if any(isinstance(kind, tuple) for _, kind in properties):
            found, at = _faces(data, at, count, properties, order)
            faces = found if element == "face" else faces
            continue
        row = numpy.dtype([(name, order + kind) for name, kind in properties])
        rows = numpy.frombuffer(data, row, count, at)
        at += count * row.itemsize
        if element == "vertex":
            points = numpy.stack([rows[axis].astype(float) for axis in "xyz"], axis=1)
    return points, faces


def read(path):
    """(points, triangles); NotPly where it is none, or cut short."""
    with open(path, "rb") as file:
        data = file.read()
    try:
        kind, elements, begin = _head(data)
        if kind == "ascii":
            points, faces = _text(data, elements, begin)
        else:
            points, faces = _bytes(data, elements, begin, ORDERS[kind])
    except (KeyError, IndexError, ValueError, StopIteration) as error:
        raise NotPly(tr("{} is no PLY file that can be read: {}", os.path.basename(path), error)) from error
    if not numpy.isfinite(points).all():
        raise NotPly(tr("{}: a coordinate that is no finite number", os.path.basename(path)))
    if len(faces) and not (0 <= faces.min() and faces.max() < len(points)):
        raise NotPly(tr("{}: a face names a vertex that is not there", os.path.basename(path)))
    return points, faces


def as_freecad_reads_it(path):
    """A copy in the form that FreeCAD reads; to be removed after use."""
    points, faces = read(path)
    handle, copy = tempfile.mkstemp(suffix=".ply")
    rows = numpy.empty(len(faces), dtype=[("count", "u1"), ("corners", "<i4", (3,))])
    rows["count"], rows["corners"] = 3, faces
    with os.fdopen(handle, "wb") as file:
        file.write(b"ply\nformat binary_little_endian 1.0\nelement vertex %d\nproperty float x\nproperty float y\n"
                   b"property float z\nelement face %d\nproperty list uchar int vertex_indices\nend_header\n"
                   % (len(points), len(faces)))
        file.write(points.astype("<f4").tobytes())
        file.write(rows.tobytes())
    return copy
