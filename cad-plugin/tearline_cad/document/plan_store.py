"""The engine's plan as it is kept in the document: one file inside it, the bytes as they came until they are
saved."""
import gc
import json
import os
import tempfile
import zlib

from tearline_cad.document import pieces
from tearline_cad.engine import framing

DECIMALS = 7  # of figures in a saved plan: 1e-7 mm, 1e-7 g

_kept = {}  # path of the included file -> (size, time), parts
_read = {}  # path of the included file -> bytes of plan.json, what they say


def store(repair, header, body):
    """Puts an answer into the repair's PlanData."""
    # FreeCAD takes what stands in the document's own folder as it is, and copies all else.
    handle, path = tempfile.mkstemp(suffix=".tearline-plan", dir=repair.Document.TransientDir)
    with os.fdopen(handle, "wb") as file:
        file.write(framing.head({"parts": header["parts"]}, len(body)))
        file.write(body)
    repair.PlanData = path
    if os.path.exists(path) and not os.path.samefile(path, repair.PlanData):
        os.remove(path)
    _kept[repair.PlanData] = (_stamp(repair.PlanData), framing.parts_of(header, body))


def _stamp(path):
    told = os.stat(path)
    return told.st_size, told.st_mtime_ns


def _rounded(text):
    return round(float(text), DECIMALS)


def _light_json(data):
    return json.dumps(json.loads(data, parse_float=_rounded), separators=(",", ":")).encode()


def make_light(repair):
    """What is kept in a file is a fifth of what the engine answers: no digits that nobody sees, and of the
    meshes what is drawn. Done once, when the document is saved: it takes longer than a change may."""
    # While a document gets its first name the folder of its files has another one already.
    path = os.path.join(repair.Document.TransientDir, os.path.basename(repair.PlanData))
    if not os.path.isfile(path):
        return
    with open(path, "rb") as file:
        header, body = framing.read_message(file)
    if "packed" in header:
        return
    told = {name: pieces.light(data) if name.endswith(".bin") else _light_json(data)
            for name, data in framing.parts_of(header, body).items()}
    names = [{"name": name, "bytes": len(data)} for name, data in told.items()]
    # In its place, which FreeCAD may have made one to read only: to FreeCAD the property is what it was, with nothing to
    # undo.
    light = path + ".light"
    with open(light, "wb") as file:
        file.write(framing.packed({"parts": names, "packed": "zlib"},
                                  zlib.compress(b"".join(told.values()), 9)))
    os.replace(light, path)


def _parts_in(path):
    with open(path, "rb") as file:
        header, body = framing.read_message(file)
    return framing.parts_of(header, zlib.decompress(body) if "packed" in header else body)


def scale_of(plan):
    """What a scan's own coordinates are taken times to be true ones, in which a plan is told; 1 of what is no
    scan. What lies on a hull is drawn in its own: divided by it."""
    return (plan.get("scan") or {}).get("scale", 1.0)


def parts(repair):
    """The named parts of the stored plan, or {}."""
    path = repair.PlanData
    if not path or not os.path.isfile(path):
        return {}
    stamp = _stamp(path)
    if path not in _kept or _kept[path][0] != stamp:
        _kept[path] = (stamp, _parts_in(path))
    return _kept[path][1]


def plan(repair):
    """plan.json of the stored plan, or None."""
    data = parts(repair).get("plan.json")
    if not data:
        return None
    path = repair.PlanData
    if path not in _read or _read[path][0] is not data:
        _read[path] = (data, _told(data))
    return _read[path][1]


def _told(data):
    """What JSON says. Python's collector would go through all of it again and again while it grows, and half of the
    time with it; nothing of it goes round in circles."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        return json.loads(data)
    finally:
        if _at_work:
            gc.freeze()
        if collecting:
            gc.enable()


_at_work = set()  # whoever is at work


def at_work(who, on):
    """While somebody changes figures the collector lets lie what there is when a plan comes: to go through the tens of
    thousands of lists of one takes it longer than all that the window does with them. Afterwards it goes through all
    again."""
    (_at_work.add if on else _at_work.discard)(who)
    if not _at_work:
        gc.unfreeze()
