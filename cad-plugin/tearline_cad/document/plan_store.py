"""The engine's plan as it is kept in the document: one file inside it, the bytes as they came."""
import json
import os
import tempfile

from tearline_cad.engine import framing

_kept = {}  # path of the included file -> (size, time), parts
_read = {}  # path of the included file -> bytes of plan.json, what they say


def store(repair, header, body):
    """Puts an answer into the repair's PlanData."""
    handle, path = tempfile.mkstemp(suffix=".tearline-plan")
    with os.fdopen(handle, "wb") as file:
        file.write(framing.packed({"parts": header["parts"]}, body))
    repair.PlanData = path  # FreeCAD copies it into the document
    os.remove(path)


def parts(repair):
    """The named parts of the stored plan, or {}."""
    path = repair.PlanData
    if not path or not os.path.isfile(path):
        return {}
    stamp = (os.path.getsize(path), os.path.getmtime(path))
    if path not in _kept or _kept[path][0] != stamp:
        with open(path, "rb") as file:
            _kept[path] = (stamp, framing.parts_of(*framing.read_message(file)))
    return _kept[path][1]


def plan(repair):
    """plan.json of the stored plan, or None."""
    data = parts(repair).get("plan.json")
    if not data:
        return None
    path = repair.PlanData
    if path not in _read or _read[path][0] is not data:
        _read[path] = (data, json.loads(data))
    return _read[path][1]
