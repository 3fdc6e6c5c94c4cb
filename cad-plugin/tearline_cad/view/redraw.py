"""Draws repairs anew, from the plans stored with them, once what changes them has ended, a little at a
time: first what is seen, then the shapes that were put off."""
import itertools
import marshal
import time

import FreeCAD
from PySide import QtCore

from tearline_cad.document import drawn, plan_store, plies, templates
from tearline_cad.document.repair import is_stale
from tearline_cad.document.words import tr
from tearline_cad.view import legend, nodes, sheet
from tearline_cad.view.picture import Picture

SLICE = 0.04  # [s] of drawing at a time: the window goes on between
OVER_PAPER = 30.0  # [mm] that words stand over a template
RETRY = 20  # [ms] until it is looked again whether a recompute is over
PAUSE = 200  # [ms] without a new plan before shapes are made

_waiting = set()  # (document, repair) to be drawn anew
_drawing = {}  # (document, repair) -> the steps of it that are left
_unshaped = {}  # (document, repair) -> number of the redraw that its shapes come after
_numbers = itertools.count()
hushed = set()  # (document, repair) not drawn for now, while its damage is being marked


def redraw_soon(repair):
    """Redraws once whatever is going on has ended."""
    key = (repair.Document.Name, repair.Name)
    if key not in _waiting:
        _waiting.add(key)
        QtCore.QTimer.singleShot(0, lambda: _begin(key))


def waiting():
    """Whether something is still to be redrawn."""
    return bool(_waiting or _drawing or _unshaped)


def _repair_of(key):
    if key[0] not in FreeCAD.listDocuments():
        return None
    repair = FreeCAD.getDocument(key[0]).getObject(key[1])
    return repair if repair is not None and repair.ViewObject is not None else None


def _recomputing():
    """FreeCAD lets its window go on while it recomputes."""
    return any(document.Recomputing for document in FreeCAD.listDocuments().values())


def _begin(key):
    if _recomputing():
        QtCore.QTimer.singleShot(RETRY, lambda: _begin(key))
        return
    _waiting.discard(key)
    repair = _repair_of(key)
    if repair is None:
        _drop(key)
        return
    _unshaped[key] = next(_numbers)
    _draw(key, redraw(repair))


def _draw(key, steps):
    idle = not _drawing
    _drawing[key] = steps
    if idle:
        _go_on()


def _drop(key):
    _drawing.pop(key, None)
    _unshaped.pop(key, None)


def _shape(key, number):
    """Makes shapes, unless the repair was drawn anew since."""
    if _unshaped.get(key) == number:
        del _unshaped[key]
        repair = _repair_of(key)
        if repair is not None:
            _draw(key, _while_there(_draw_shapes(repair)))


def _go_on():
    until = time.monotonic() + SLICE
    try:
        while _drawing and not _recomputing():
            _step(next(iter(_drawing)))
            if time.monotonic() >= until:
                break
    finally:
        if _drawing:
            QtCore.QTimer.singleShot(RETRY if _recomputing() else 0, _go_on)


def _step(key):
    """One step of a repair's redraw."""
    steps = _drawing.pop(key)
    if _repair_of(key) is None:
        _drop(key)
        return
    try:
        next(steps)
    except StopIteration:
        if (number := _unshaped.get(key)) is not None:
            QtCore.QTimer.singleShot(PAUSE, lambda: _shape(key, number))
        return
    except Exception:
        _drop(key)
        raise
    if key not in _drawing:  # else begun anew by what the step did
        _drawing[key] = steps


def _while_there(steps):
    """Steps that end where what they draw was removed meanwhile; the redraw that follows knows."""
    try:
        yield from steps
    except (ReferenceError, RuntimeError):
        pass


def _words_of(made, stale):
    name = made.Piece or tr("grind guide")
    return f"{name}  " + tr("OUT OF DATE") if stale else f"{name}  {made.Fabric}".strip()


def _template_words(made, piece, words):
    box = templates.flat_box(piece)
    # Clear of the datum in the middle, of the rings of the guide, and of the paper where it is seen at a slant.
    below = FreeCAD.Vector(0, (0.25 if made.Piece else 0.12) * box.YLength, -OVER_PAPER)
    return nodes.words(box.Center - below, words)


def _draw_template(repair, made, piece, stale):
    if piece is None:
        yield from made.ViewObject.Proxy.show("nothing", list)
        return
    words = _words_of(made, stale) if stale or repair.ViewObject.Labels else ""

    def nodes_of():
        lines = sheet.lines_of_piece(piece) if made.Piece else sheet.lines_of_guide(piece)
        some = False
        for node in sheet.drawn(lines, stale):
            some = True
            yield node
        if some and words:
            yield _template_words(made, piece, words)

    yield from made.ViewObject.Proxy.show((marshal.dumps(piece, 2), words, stale), nodes_of)


def _draw_folder(repair, folder, told, stale):
    for made in getattr(folder, "Group", []):
        key = (made.Piece, "" if made.Piece else made.Fabric)
        yield from _while_there(_draw_template(repair, made, told.get(key), stale))


def _draw_templates(repair):
    plan = plan_store.plan(repair)
    told = {(piece, whose if not piece else ""): source
            for _, piece, whose, _, source in templates.sheets(plan)} if plan else {}
    for folder in repair.Group:
        yield from _while_there(_draw_folder(repair, folder, told, is_stale(repair)))


def _draw_cloth(picture, numbered, made):
    """A ply, a filler or the outlines."""
    if not hasattr(made, "Role"):
        return
    view = made.ViewObject.Proxy
    if made.Role == "outlines" and picture:
        yield from view.show(picture.source_of_outlines(), picture.outlines)
    elif made.Role in plies.FILLERS and picture:
        yield from view.show(picture.source_of_filler(made.Role), lambda: picture.filler(made.Role))
    elif made.Role == "ply" and made.Number in numbered:
        ply = numbered[made.Number]
        yield from view.show(picture.source_of(ply), lambda: picture.ply(ply))
    else:
        yield from view.show("nothing", list)


def _draw_shapes(repair):
    plan = plan_store.plan(repair)
    if plan:
        yield
        for each in (*plies.drawings(repair, plan), *templates.drawings(repair, plan, is_stale(repair))):
            drawn.draw(*each)
            yield


def redraw(repair):
    """Draws everything of a repair anew, and the legend, step by step; none of it outlives a change of the
    repair, which begins anew."""
    key = (repair.Document.Name, repair.Name)
    shown = plan_store.parts(repair) and key not in hushed
    picture = Picture(repair) if shown else None
    numbered = {ply["number"]: ply for ply in picture.plan["plies"]} if shown else {}
    yield
    for made in repair.Group:
        yield from _while_there(_draw_cloth(picture, numbered, made))
    legend.show(repair, picture)
    yield
    yield from _draw_templates(repair)
