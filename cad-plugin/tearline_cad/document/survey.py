"""What was measured or marked on a hull besides the damage: tapes, chines, marks, openings, directions; each as
places of the hull in its own coordinates."""
import collections

import FreeCAD

from tearline_cad.document import figures, keys, tables
from tearline_cad.document.words import tr

# kind; points; whether they go round; what is written beside them
Surveyed = collections.namedtuple("Surveyed", "kind points closed words")

TAPE, CREASE, OPENING = "hull.scan.tape", "hull.scan.crease", "damage.opening"
_WORDS = {"BowPoints": "bow", "UpPoints": "up", "LevelPoints": "level", "Within": "within", "SeenFrom": "seen from"}


def _is_place(value):
    return isinstance(value, list) and len(value) == 3 and all(isinstance(x, (int, float)) for x in value)


def _points(values):
    return [FreeCAD.Vector(*value) for value in values if _is_place(value)]


def _length(value):
    """A length as it stands in the job, with its unit."""
    return figures.shown(value, figures.LENGTH) if isinstance(value, (int, float)) else str(value or "")


def _of_tables(repair):
    for tape in tables.all_of(repair, TAPE):
        yield Surveyed("tape", _points([tape.get("from"), tape.get("to")]), False, _length(tape.get("length")) or tr("tape"))
    for crease in tables.all_of(repair, CREASE):
        yield Surveyed("crease", _points(crease.get("points") or []), False, tr("chine"))
    for opening in tables.all_of(repair, OPENING):
        outline = _points(opening.get("outline") or [])
        yield Surveyed("opening", outline or _points([opening.get("centre")]), bool(outline), tr("opening"))
    for mark in tables.all_of(repair, tables.MARKS):
        yield Surveyed("mark", _points([mark.get("at")]), False, mark["name"])


def surveyed(repair):
    """All that there is."""
    found = list(_of_tables(repair))
    for prop, _, _, _, _ in keys.PLACES:
        if prop in _WORDS:
            found.append(Surveyed("direction", list(getattr(repair, prop)), False, tr(_WORDS[prop])))
    return [each for each in found if each.points]
