"""Shapes of what a repair makes, each made from a part of the plan.

They cost more than all else of a new plan, and the window shows pictures of its own in their place
(view/picture.py). So they wait while a person is at work in the repair's panel, and the window makes them one at a time
when that is closed (view/redraw.py); for a script they are there as soon as the document is recomputed.
"""
import contextlib
import hashlib
import marshal

import Part

READ_ONLY, HIDDEN = 1, 4  # property attributes of FreeCAD
PROPERTY = ("App::PropertyString", "Drawn", "Tearline", "What the shape was made from", READ_ONLY | HIDDEN)

_put_off = 0  # how many want shapes to wait


@contextlib.contextmanager
def put_off():
    """Within it no shape is made: whoever enters sees to it that redraw.py hears of the repair."""
    global _put_off
    _put_off += 1
    try:
        yield
    finally:
        _put_off -= 1


def waiting():
    """Whether shapes wait."""
    return _put_off > 0


def _told(made, source):
    """A source in a few signs. Version 2 of marshal tells the same values by the same bytes, whoever else holds them; JSON
    takes five times as long."""
    if not hasattr(made, "Drawn"):  # of a file from before
        made.addProperty(*PROPERTY)
    return hashlib.sha256(marshal.dumps(source, 2)).hexdigest()


def _give(made, shape, told):
    # Made again from the plan when a document is opened: in its file they would be most of it.
    made.setPropertyStatus("Shape", "Transient")
    made.Shape = shape
    made.Drawn = told
    made.purgeTouched()


def draw(made, source, shape_of):
    """Gives a child the shape shape_of(), unless it has the one made from the same source.

    Whatever is given a shape is shown, saved and undone anew: of a changed figure of resin nothing is.
    source   what of the plan the shape shows, lists and numbers
    @return  whether it was given one
    """
    told = _told(made, source)
    if made.Drawn == told and not made.Shape.isNull():
        return False
    _give(made, shape_of(), told)
    return True


def put_away(made, source):
    """Takes a child's shape away before it is one of an older plan: what takes that up would be cut wrongly.

    Within a step to undo FreeCAD copies what is changed, which costs as much as to make it: there only a shape that was
    made from another source goes.
    @return  whether it was taken away
    """
    if made.Shape.isNull() or made.Document.HasPendingTransaction and made.Drawn == _told(made, source):
        return False
    _give(made, Part.Shape(), "")
    return True


def draw_all(drawings):
    """All of (child, source, shape_of), unless they wait."""
    if not waiting():
        for each in drawings:
            draw(*each)
