"""The job file of several repairs of one boat: one hull, one resin, one shop, and a [[repair]] for each place."""
import os
import re

from tearline_cad.document import ground_scans, hull_file, job_text, tables, toml
from tearline_cad.document.words import tr

# What a place may hold (core/DEFINITIONS.md, Boats); all else is the boat's.
OF_A_PLACE = ("damage", "scarf", "layup", "backing", "core", "topcoat", "old_laminate")


class Differ(Exception):
    """Why repairs cannot be one boat's."""


def names_of(repairs):
    """A name for each, as files and pieces bear it: of its label what is a letter or a figure."""
    found = []
    for repair in repairs:
        plain = re.sub(r"[^A-Za-z0-9_-]+", "-", repair.Label).strip("-")[:36] or "R"
        name, k = plain, 2
        while name.lower() in (*(each.lower() for each in found), "rolls", "remnants"):
            name, k = f"{plain}-{k}", k + 1
        found.append(name)
    return found


def _is_of_a_place(path):
    return path.split(".")[0] in OF_A_PLACE


def _split(repair, model, unit):
    """(lines of the boat's tables {path: lines}, lines of the place's, [further tables of the boat])."""
    told = job_text.job_tables(repair, model, unit)
    boat = {path: lines for path, lines in told.items() if lines and not _is_of_a_place(path)}
    place = [line for path, lines in told.items() if lines and _is_of_a_place(path)
             for line in ("", f"[repair.{path}]", *lines)]
    shared = []
    for table in tables.cut(job_text.further_tables(repair)):
        path = tables.path_of(table)
        if _is_of_a_place(path):
            place += ["", table[0].replace(path, "repair." + path, 1), *table[1:]]
        else:
            shared.append([line for line in table if line.strip()])
    return boat, place, shared


def boat_text(repairs, title, model, unit):
    """TOML for the engine. Differ where two repairs say different things of what they share."""
    boat, further = None, []
    places = []
    for repair, name in zip(repairs, names_of(repairs)):
        own, place, shared = _split(repair, model, unit)
        if boat is None:
            boat = own
        for path in sorted({*boat, *own}):
            if boat.get(path) != own.get(path):
                raise Differ(tr("{} and {} differ in [{}]: {}. One boat has one hull, one resin and one shop: make them the "
                                "same", repairs[0].Label, repair.Label, path or "job",
                                _difference(boat.get(path, []), own.get(path, []))))
        further += [table for table in shared if table not in further]
        places += ["", "[[repair]]", f"name = {toml.text(name)}",
                   f"title = {toml.text(repair.Title or repair.Label)}", *place]
    lines = ["tearline = 1", f"title = {toml.text(title)}", *boat.pop("", [])]
    for path, content in boat.items():
        lines += ["", f"[{path}]", *content]
    for table in further:
        lines += ["", *table]
    return "\n".join([*lines, *places]) + "\n"


def _difference(one, other):
    return " / ".join(next((line for line in lines if line not in others), tr("(not given)"))
                      for lines, others in ((one, other), (other, one)))


def save(repairs, title, path):
    """Writes the boat's job file, the hull beside it."""
    hulls = {repair.Hull.Name if repair.Hull else repair.HullFile for repair in repairs}
    if len(hulls) != 1:
        raise Differ(tr("The repairs are on different hulls"))
    model, unit = hull_file.hull_file(repairs[0])
    text = boat_text(repairs, title, model, unit)
    hull_file.copy_beside(model, path)
    for repair in repairs:
        ground_scans.copy_beside(repair, path)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    return os.path.abspath(path)
