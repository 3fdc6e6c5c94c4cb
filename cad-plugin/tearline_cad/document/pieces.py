"""Reads pieces/*.bin and dish.bin: a JSON line that names arrays, then their bytes."""
import array
import json
import sys


def read_arrays(data):
    """{name: flat list of numbers}, rows one after the other."""
    line_end = data.index(b"\n") + 1
    header = json.loads(data[:line_end])
    arrays = {}
    for entry in header["arrays"]:
        rows, columns = entry["shape"]
        numbers = array.array("d" if entry["type"] == "float64" else "i")
        start = line_end + entry["offset"]
        numbers.frombytes(data[start:start + rows * columns * numbers.itemsize])
        if sys.byteorder == "big":
            numbers.byteswap()
        arrays[entry["name"]] = numbers
    return arrays
