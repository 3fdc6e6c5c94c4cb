"""Reads pieces/*.bin and dish.bin: a JSON line that names arrays, then their bytes; and makes them light,
for a document to keep."""
import array
import json
import sys

import numpy

TYPES = {"float64": "d", "float32": "f", "int32": "i", "uint16": "H"}
# What the views draw from, and how finely it is kept: places to 1/256 mm, the rest to three digits.
DRAWN = ("base", "triangles", "strain", "shear_deg", "depth")
PLACES, DIGITS = 256, 10  # parts of a mm; bits behind the first


def _arrays(data):
    """(name, shape, type, numbers) of each array."""
    line_end = data.index(b"\n") + 1
    for entry in json.loads(data[:line_end])["arrays"]:
        rows, columns = entry["shape"]
        numbers = array.array(TYPES[entry["type"]])
        start = line_end + entry["offset"]
        raw = data[start:start + rows * columns * numbers.itemsize]
        if entry.get("by_planes"):
            raw = numpy.frombuffer(raw, "u1").reshape(numbers.itemsize, -1).T.tobytes()
        numbers.frombytes(raw)
        if sys.byteorder == "big":
            numbers.byteswap()
        yield entry["name"], entry["shape"], entry["type"], numbers


def rows(numbers, columns=3):
    """Flat numbers as rows."""
    return numpy.asarray(numbers).reshape(-1, columns)


def read_arrays(data):
    """{name: flat list of numbers}, rows one after the other."""
    return {name: numbers for name, _, _, numbers in _arrays(data)}


def _lightened(name, kind, numbers):
    """(type, numbers) with fewer bits that mean something, so that they can be packed."""
    if kind == "int32":
        small = "uint16" if numbers.max(initial=0) < 65536 else "int32"
        return small, numbers.astype(small)
    if name == "base":
        return "float32", (numpy.rint(numbers * PLACES) / PLACES).astype("float32")
    mantissa, exponent = numpy.frexp(numbers)
    rounded = numpy.ldexp(numpy.rint(mantissa * 2 ** DIGITS) / 2 ** DIGITS, exponent)
    return "float32", rounded.astype("float32")


def light(data):
    """The same form with only what is drawn, as finely as it is seen."""
    entries, body = [], b""
    for name, shape, kind, numbers in _arrays(data):
        if name not in DRAWN:
            continue
        small, told = _lightened(name, kind, numpy.asarray(numbers))
        entries.append({"name": name, "shape": shape, "type": small, "offset": len(body),
                        "by_planes": True})
        raw = told.astype(told.dtype.newbyteorder("<")).tobytes()
        # All first bytes, then all second ones: those that hardly change lie together, for packing.
        body += numpy.frombuffer(raw, "u1").reshape(-1, told.dtype.itemsize).T.tobytes()
    return json.dumps({"arrays": entries}).encode() + b"\n" + body
