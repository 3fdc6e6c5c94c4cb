"""What a page of `tearline look` shows, read by nothing of the program's: JSON in the markup, its arrays base64 of
little-endian numbers, places float32 from a middle (core/page/data_writer.h)."""
import base64
import json
import re
import struct


def data_of(page):
    """The page's data as JSON has it."""
    text = page.read_text(encoding="utf-8")
    return json.loads(re.search(r'<script id="data" type="application/json">(.*?)</script>', text, re.DOTALL)[1])


def numbers(encoded, letter):
    raw = base64.b64decode(encoded)
    return struct.unpack(f"<{len(raw) // struct.calcsize(letter)}{letter}", raw)


def triples(values):
    return list(zip(*[iter(values)] * 3))


def places(data, shape):
    """[(x, y, z)] of a shape's places [mm]."""
    return [tuple(p + m for p, m in zip(place, data["middle"])) for place in triples(numbers(shape["places"], "f"))]


def corners(shape):
    return triples(numbers(shape["corners"], "i"))
