"""Shapes of what a repair makes, each made from a part of the plan.

They cost more than all else of a new plan, and the window shows pictures of its own in their place
(view/picture.py). So they wait while a person is at work, and the window makes them one at a time when it has
shown the rest (view/redraw.py); for a script they are there as soon as the document is recomputed.
"""
import contextlib
import hashlib
import marshal

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


def draw(made, source, shape_of):
    """Gives a child the shape shape_of(), unless it has the one made from the same source.

    Whatever is given a shape is shown, saved and undone anew: of a changed figure of resin nothing is.
    source   what of the plan the shape shows, lists and numbers
    """
    # Version 2 tells the same values by the same bytes, whoever else holds them; JSON takes five times as long.
    told = hashlib.sha256(marshal.dumps(source, 2)).hexdigest()
    if not hasattr(made, "Drawn"):  # of a file from before
        made.addProperty(*PROPERTY)
    if made.Drawn != told or made.Shape.isNull():
        # Made again from the plan when a document is opened: in its file they would be most of it.
        made.setPropertyStatus("Shape", "Transient")
        made.Shape = shape_of()
        made.Drawn = told
        made.purgeTouched()


def draw_all(drawings):
    """All of (child, source, shape_of), unless they wait."""
    if not waiting():
        for each in drawings:
            draw(*each)
