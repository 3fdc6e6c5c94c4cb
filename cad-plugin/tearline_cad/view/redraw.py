"""Draws repairs anew, from the plans stored with them, once what changes them has ended, a little at a
time: first what is seen, then the shapes that were put off."""
import collections
import functools
import itertools
import marshal
import time

import FreeCAD
import FreeCADGui
from PySide import QtCore

from tearline_cad.document import drawn, plan_store, plies, templates
from tearline_cad.document.repair import is_repair, is_stale
from tearline_cad.document.words import tr
from tearline_cad.view import beside, legend, nodes, sheet
from tearline_cad.view.picture import Picture

SLICE = 0.04  # [s] of drawing at a time: the window goes on between
OVER_PAPER = 30.0  # [mm] that words stand over a template
RETRY = 20  # [ms] until it is looked again whether a recompute is over, or what is reckoned beside
PAUSE = 200  # [ms] without a new plan before shapes are made

_waiting = set()  # (document, repair) to be drawn anew
_drawing = {}  # (document, repair) -> the steps of it that are left
_unshaped = {}  # (document, repair) -> number of the redraw that its shapes come after
_numbers = itertools.count()
hushed = set()  # (document, repair) not drawn for now, while its damage is being marked
_edited = set()  # (document, repair) whose panel is open


def redraw_soon(repair):
    """Redraws once whatever is going on has ended."""
    _begin_soon((repair.Document.Name, repair.Name))


def _begin_soon(key):
    if key not in _waiting:
        _waiting.add(key)
        QtCore.QTimer.singleShot(0, lambda: _begin(key))


def waiting():
    """Whether something is still to be redrawn."""
    return bool(_waiting or _drawing or _unshaped)


def _repair_of(key):
    try:
        repair = FreeCAD.getDocument(key[0]).getObject(key[1])
    except NameError:  # closed
        return None
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
    _start(key, redraw(repair))


def _start(key, steps):
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
            _start(key, _while_there(_draw_shapes(repair)))


def begin_editing(repair):
    """Its panel opens."""
    key = (repair.Document.Name, repair.Name)
    _edited.add(key)
    _shape_soon(key)


def end_editing(document, name):
    """Its panel is closed: what its shapes, and its plies under the marking, waited for is over."""
    _edited.discard((document, name))
    _begin_soon((document, name))


def _shape_soon(key):
    """Looks at the shapes of a repair that is drawn, or once it is."""
    _unshaped[key] = number = next(_numbers)
    if key not in _drawing and key not in _waiting:
        QtCore.QTimer.singleShot(0, lambda: _shape(key, number))


class _Selected:
    """Whatever of a repair is selected while its panel is open may be taken up by another tool: it gets its shape."""

    def addSelection(self, document, *_):
        self.setSelection(document)

    def setSelection(self, document):
        for key in [key for key in _edited if key[0] == document]:
            _shape_soon(key)


FreeCADGui.Selection.addObserver(_selected := _Selected())


def _go_on():
    until, waits, recomputing = time.monotonic() + SLICE, False, _recomputing()
    try:
        while _drawing and not waits and not recomputing and time.monotonic() < until:
            waits = _step(next(iter(_drawing)))
    finally:
        if _drawing:
            QtCore.QTimer.singleShot(RETRY if waits or recomputing else 0, _go_on)


def _step(key):
    """One step of a repair's redraw; whether the next has to wait for what is reckoned beside."""
    steps = _drawing.pop(key)
    if key in _waiting:  # something has changed, and it begins anew: what was to be drawn may be there no more
        return False
    if _repair_of(key) is None:
        _drop(key)
        return False
    try:
        waits = next(steps) is beside.WAITS
    except StopIteration:
        if (number := _unshaped.get(key)) is not None:
            QtCore.QTimer.singleShot(PAUSE, lambda: _shape(key, number))
        return False
    except Exception:
        _drop(key)
        raise
    if key not in _drawing:  # else begun anew by what the step did
        _drawing[key] = steps
    return waits


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


# What is to be drawn of a child: the child, what that is made from, its nodes(), what to reckon before.
_Drawing = collections.namedtuple("_Drawing", "made source nodes reckon")


def _nothing(made):
    return _Drawing(made, "nothing", list, None)


def _template(repair, made, piece, stale):
    if piece is None:
        return _nothing(made)
    words = _words_of(made, stale) if stale or repair.ViewObject.Labels else ""
    flat = bool(made.Piece)

    @functools.lru_cache(maxsize=None)
    def laid_out():
        return sheet.laid_out(sheet.lines_of_piece(piece) if flat else sheet.lines_of_guide(piece))

    def nodes_of():
        some = False
        for node in sheet.drawn(*laid_out(), stale):
            some = True
            yield node
        if some and words:
            yield _template_words(made, piece, words)

    return _Drawing(made, (marshal.dumps(piece, 2), words, stale), nodes_of, laid_out)


def _templates(repair):
    """Templates and grind guides."""
    plan, stale = plan_store.plan(repair), is_stale(repair)
    told = {(piece, whose if not piece else ""): source
            for _, piece, whose, _, source in templates.sheets(plan)} if plan else {}
    return [_template(repair, made, told.get((made.Piece, "" if made.Piece else made.Fabric)), stale)
            for folder in repair.Group for made in getattr(folder, "Group", [])]


def _cloth(picture, numbered, made):
    """A ply, a filler or the outlines."""
    if not picture:
        return _nothing(made)
    if made.Role == "outlines":
        return _Drawing(made, picture.source_of_outlines(), picture.outlines, picture.reckon_outlines)
    if made.Role in plies.FILLERS:
        role = made.Role
        return _Drawing(made, picture.source_of_filler(role), lambda: picture.filler(role),
                        lambda: picture.reckon_filler(role))
    if made.Role == "ply" and made.Number in numbered:
        ply = numbered[made.Number]
        return _Drawing(made, picture.source_of(ply), lambda: picture.ply(ply), lambda: picture.reckon_ply(ply))
    return _nothing(made)


def _draw_all(drawings):
    """Draws what is not yet drawn from the same."""
    changed = [each for each in drawings if each.made.ViewObject.Proxy.source != each.source]
    yield from beside.done([each.reckon for each in changed if each.reckon])
    for each in changed:
        yield from _while_there(_draw(each))


def _draw(drawing):
    yield from drawing.made.ViewObject.Proxy.show(drawing.source, drawing.nodes)


def _draw_shapes(repair):
    plan, stale = plan_store.plan(repair), is_stale(repair)
    if plan:
        yield
        for each in (*plies.drawings(repair, plan, stale), *templates.drawings(repair, plan, stale)):
            if _draw_shape(repair, *each):
                yield


def _draw_shape(repair, made, source, shape_of):
    """While its panel is open a repair may change again and again, and its pictures are seen: those of its shapes are made
    that somebody may take up with another tool, and no wrong ones stay. Whether anything was done."""
    if (repair.Document.Name, repair.Name) in _edited and not _is_selected(made):
        return drawn.put_away(made, source)
    return drawn.draw(made, source, shape_of)


def _is_selected(made):
    """Whether a child is selected, or its folder."""
    chosen = FreeCADGui.Selection.getSelection(made.Document.Name)
    return any(each in chosen for each in (made, *made.InList) if not is_repair(each))


def redraw(repair):
    """Draws everything of a repair anew, and the legend, step by step; none of it outlives a change of the
    repair, which begins anew."""
    key = (repair.Document.Name, repair.Name)
    shown = plan_store.parts(repair) and key not in hushed
    picture = Picture(repair) if shown else None
    numbered = {ply["number"]: ply for ply in picture.plan["plies"]} if shown else {}
    yield
    yield from _while_there(_draw_all([_cloth(picture, numbered, made) for made in repair.Group if hasattr(made, "Role")]))
    legend.show(repair, picture)
    yield
    yield from _while_there(_draw_all(_templates(repair)))
