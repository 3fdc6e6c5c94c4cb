"""Draws repairs anew, from the plans stored with them, once what changes them has ended, a little at a
time."""
import collections
import json
import time

import FreeCAD
from PySide import QtCore

from tearline_cad.document import plan_store, plies, templates
from tearline_cad.document.repair import is_stale
from tearline_cad.document.words import tr
from tearline_cad.view import legend, nodes, sheet
from tearline_cad.view.picture import Picture

SLICE = 0.04  # [s] of drawing at a time: the window goes on between

_waiting = set()  # (document, repair) to be drawn anew
_jobs = collections.deque()  # (document, repair), what is left to draw of it
hushed = set()  # (document, repair) not drawn for now, while its damage is being marked


def redraw_soon(repair):
    """Redraws once whatever is going on has ended."""
    key = (repair.Document.Name, repair.Name)
    if key not in _waiting:
        _waiting.add(key)
        QtCore.QTimer.singleShot(0, lambda: _begin(key))


def waiting():
    """Whether something is still to be redrawn."""
    return bool(_waiting or _jobs)


def _repair_of(key):
    if key[0] not in FreeCAD.listDocuments():
        return None
    repair = FreeCAD.getDocument(key[0]).getObject(key[1])
    return repair if repair is not None and repair.ViewObject is not None else None


def _begin(key):
    _waiting.discard(key)
    repair = _repair_of(key)
    for job in [job for job in _jobs if job[0] == key]:
        _jobs.remove(job)
    if repair is not None:
        idle = not _jobs
        _jobs.extend((key, act) for act in redraw(repair))
        if idle:
            _go_on()


def _go_on():
    until = time.monotonic() + SLICE
    while _jobs and time.monotonic() < until:
        key, act = _jobs.popleft()
        if _repair_of(key) is not None:
            try:
                act()
            except (ReferenceError, RuntimeError):
                pass  # removed since; the redraw that follows knows
    if _jobs:
        QtCore.QTimer.singleShot(0, _go_on)


def _template_words(made, stale):
    box = made.Shape.BoundBox
    # Clear of the datum in the middle, and of the rings of the guide.
    below = FreeCAD.Vector(0, (0.25 if made.Piece else 0.12) * box.YLength, 0)
    at = made.Placement.inverse().multVec(box.Center - below)
    name = made.Piece or tr("grind guide")
    return nodes.words(at, f"{name}  " + tr("OUT OF DATE") if stale
                       else f"{name}  {made.Fabric}".strip())


def _draw_template(repair, made, piece, stale):
    if made.ViewObject is None:
        return  # gone meanwhile
    labels = repair.ViewObject.Labels
    if piece is None:
        made.ViewObject.Proxy.show("nothing", list)
        return

    def drawn():
        lines = sheet.lines_of_piece(piece) if made.Piece else sheet.lines_of_guide(piece)
        found = list(sheet.drawn(lines, stale))
        return found + [_template_words(made, stale)] if labels or stale else found

    source = made.Drawn if hasattr(made, "Drawn") else json.dumps(piece)
    made.ViewObject.Proxy.show((source, labels, stale), drawn)


def _template_jobs(repair):
    plan = plan_store.plan(repair)
    drawn = {(piece, whose if not piece else ""): source
             for _, piece, whose, _, source in templates.sheets(plan)} if plan else {}
    stale = is_stale(repair)
    for folder in repair.Group:
        for made in getattr(folder, "Group", []):
            key = (made.Piece, "" if made.Piece else made.Fabric)
            yield lambda made=made, key=key: _draw_template(repair, made, drawn.get(key), stale)


def _cloth_job(picture, numbered, made):
    """What draws a ply or the outlines."""
    view = made.ViewObject.Proxy
    if made.Role == "outlines" and picture:
        return lambda: view.show(picture.source_of_outlines(), picture.outlines)
    if made.Role in plies.FILLERS and picture:
        return lambda: view.show(picture.source_of_filler(made.Role), lambda: picture.filler(made.Role))
    if made.Role == "ply" and made.Number in numbered:
        ply = numbered[made.Number]
        return lambda: view.show(picture.source_of(ply), lambda: picture.ply(ply))
    return lambda: view.show("nothing", list)


def redraw(repair):
    """What draws everything of a repair anew, and the legend, bit by bit; none of it outlives a change
    of the repair, which begins anew."""
    key = (repair.Document.Name, repair.Name)
    shown = plan_store.parts(repair) and key not in hushed
    picture = Picture(repair) if shown else None
    numbered = {ply["number"]: ply for ply in picture.plan["plies"]} if shown else {}
    for made in repair.Group:
        if hasattr(made, "Role"):
            yield _cloth_job(picture, numbered, made)
    yield lambda: legend.show(repair, picture)
    yield from _template_jobs(repair)
