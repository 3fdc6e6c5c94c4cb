"""Scans of the ground place, [damage.scan], and of work half done, [[damage.scan_after]].

Each is a mesh or bare points in the document, one of the repair's Scans; its table stands among the further ones
and names it as its model. To the engine it goes as a file, as the hull does (hull_file.py).
"""
import os

import FreeCAD

from tearline_cad.document import frames, hull_file, on_hull, tables, take_hull, toml
from tearline_cad.document.words import tr

SCAN, AFTER = tables.GROUND_SCAN, tables.SCAN_AFTER
PATHS = (SCAN, AFTER)
APART = 200.0  # [mm] over the hull that a scan is shown


def thing_of(repair, told):
    """The object that a table names; None where it names a file."""
    return next((each for each in repair.Scans if each is not None and each.Name == told.get("model")), None)


def _is_of_scan(table):
    return tables.path_of(table) in PATHS


def for_engine(repair, lines):
    """Lines of further tables with each scan's file in the place of its object."""
    found = []
    for table in tables.cut(lines):
        thing = _is_of_scan(table) and thing_of(repair, tables.values(table))
        model = f"model = {toml.text(hull_file.file_of(thing))}" if thing else ""
        found += [model if thing and line.partition("=")[0].strip() == "model" else line for line in table]
    return found


def copy_beside(repair, path):
    """Puts the files of all scans beside a job file."""
    for path_of in PATHS:
        for told in tables.all_of(repair, path_of):
            if thing := thing_of(repair, told):
                hull_file.copy_beside(hull_file.file_of(thing), path)


def read(repair, path, unit):
    """Brings a scan into the document, over the hull, where it hides nothing."""
    thing = take_hull.read_hull(repair.Document, path, unit)
    box = frames.box_of(thing)
    if repair.Hull is not None:
        thing.Placement.Base.z = frames.box_of(repair.Hull).ZMax + APART - box.ZMin
    return thing


def add(repair, path, thing):
    """One more table, of an object in the document; what it was made with is asked for."""
    repair.Scans = [*repair.Scans, thing]
    first = {"ply": 1} if path == AFTER else {}
    told = {**first, "model": thing.Name, "unit": "mm"}
    repair.FurtherTables = tables.with_one(repair, path, told)


def remove(repair, path, number):
    """Takes a table away, and its object where nothing else uses it."""
    thing = thing_of(repair, tables.all_of(repair, path)[number])
    repair.FurtherTables = tables.changed(repair, path, number, None)
    named = {told.get("model") for path in PATHS for told in tables.all_of(repair, path)}
    if thing is None or thing.Name in named:
        return
    repair.Scans = [each for each in repair.Scans if each is not thing]
    if thing is not repair.Hull and not thing.InList:
        repair.Document.removeObject(thing.Name)


def _in_mm(thing, marks, factor):
    """Marks as a job file may tell them, in the scan's file's unit or in mm, whichever lie nearer to the scan: in
    mm."""
    def off(by):
        points = [FreeCAD.Vector(*at) * by for at in marks.values()]
        return max(point.distanceToPoint(foot) for point, foot in zip(points, on_hull.nearest_places(thing, points)))

    by = factor if factor != 1 and off(factor) < off(1) else 1
    return {name: [by * x for x in at] for name, at in marks.items()}


def take(repair, folder):
    """Brings the scans of a job file into the document; ValueError where there is none."""
    for path in PATHS:
        for number, told in enumerate(tables.all_of(repair, path)):
            file = os.path.join(folder, str(told.get("model", "")))
            if not os.path.isfile(file):
                raise ValueError(tr("{}: there is no file {}", f"{path}.model", file))
            unit = told.get("unit", "mm")
            thing = read(repair, file, unit)
            repair.Scans = [*repair.Scans, thing]
            told.update(model=thing.Name, unit="mm")
            if isinstance(told.get("marks"), dict) and told["marks"]:
                told["marks"] = _in_mm(thing, told["marks"], take_hull.MILLIMETRES[unit])
            repair.FurtherTables = tables.changed(repair, path, number, told)
