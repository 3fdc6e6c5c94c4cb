"""A flat template or the grind guide as it is seen in the 3D view: on paper of its own, so that it can
be read before a dark background and a light one, with each kind of line told apart."""
import numpy

from tearline_cad.view import colours, nodes

PAPER, PAPER_EDGE = (255, 255, 255), (120, 126, 134)
MARGIN = 15.0  # [mm] of paper round what is drawn
UNDER = 1.0  # [mm] the paper lies under its lines

# Colour, width [pixels] and pattern of a line; patterns as OpenGL's line stipple.
SOLID, DASHED, DOTTED, DASH_DOT = 0xFFFF, 0x0FFF, 0x3333, 0x1F1F
STYLES = {
    "net": ((20, 54, 96), 1.5, SOLID),
    "tear": ((150, 20, 60), 2.5, DASHED),
    "cut": ((20, 24, 30), 2.5, SOLID),
    "relief": ((176, 84, 0), 2.0, SOLID),
    "fold": ((20, 110, 60), 2.0, DASH_DOT),
    "kerf": ((90, 60, 140), 1.0, DASHED),
    "next": ((110, 116, 124), 1.0, DOTTED),
    "ring": ((90, 96, 104), 1.0, SOLID),
    "mark": ((20, 24, 30), 1.0, SOLID),
    "stale": ((190, 30, 30), 3.0, SOLID),
}
# What the legend calls those that a person works by.
NAMES = {"net": "net line: full thickness", "tear": "tear line: mat is torn", "cut": "cut line",
         "relief": "slit or dart", "fold": "end of the hull: fold", "kerf": "kerf: part way through"}
_OF_MARK = {"next_edge": "next", "next_edge_part": "next", "hull_end": "fold", "kerf": "kerf"}


def _closed(loop):
    return [*loop, loop[0]] if loop else []


def _of_marks(marks):
    for mark in marks:
        points = mark["points"]
        if mark["kind"] == "datum" and len(points) == 4:
            yield "mark", points[:2]
            yield "mark", points[2:]
        elif len(points) > 1 and mark["kind"] not in ("label", "warning"):
            closed = mark["kind"] == "next_edge"
            yield _OF_MARK.get(mark["kind"], "mark"), _closed(points) if closed else points


def lines_of_piece(piece):
    """(kind of line, points) of a template."""
    for kind in ("net", "tear", "cut"):
        yield kind, _closed(piece.get(f"{kind}_line") or [])
        for hole in piece.get(f"{kind}_holes") or []:
            yield kind, _closed(hole)
    for cut in piece.get("relief_cuts", []):
        yield "relief", cut["points"]
    yield from _of_marks(piece["marks"])


def kinds_of_piece(piece):
    """The kinds of WORDS that a template has, without its lines."""
    found = {kind for kind in ("net", "tear", "cut") if piece.get(f"{kind}_line")}
    found |= {"relief"} if piece.get("relief_cuts") else set()
    return found | {_OF_MARK.get(mark["kind"], "mark") for mark in piece["marks"]}


def lines_of_guide(guide):
    """The same of the grind guide."""
    for loop in (guide["footprint"]["outer"], *guide["footprint"]["holes"]):
        yield "cut", _closed(loop)
    for ring in guide["rings"]:
        for loop in ring["loops"]:
            yield "ring", _closed(loop)
    yield from _of_marks(guide["marks"])


def laid_out(lines):
    """({kind: nodes.Paths}, lowest corner, highest) of lines in their own plane: what drawn() takes.

    lines   (kind, points)
    """
    paths = {}
    for kind, points in lines:
        if len(points) > 1:
            path = numpy.zeros((len(points), 3))
            path[:, :2] = points
            paths.setdefault(kind, []).append(path)
    every = [path for found in paths.values() for path in found]
    together = numpy.concatenate(every) if every else numpy.zeros((1, 3))
    return {kind: nodes.together(found) for kind, found in paths.items()}, together.min(axis=0), together.max(axis=0)


def _paper(low, high):
    low, high = low - MARGIN, high + MARGIN
    corners = [(low[0], low[1], -UNDER), (high[0], low[1], -UNDER), (high[0], high[1], -UNDER),
               (low[0], high[1], -UNDER)]
    yield nodes.surface(corners, [(0, 1, 2), (0, 2, 3)], [colours.unit(PAPER)], lit=False,
                        pickable=True, sunk=True)
    yield nodes.lines([_closed(corners)], colours.unit(PAPER_EDGE), 1.0)


def _crossed_out(low, high):
    return [[low, high], [(low[0], high[1], 0), (high[0], low[1], 0)]]


def drawn(paths, low, high, stale):
    """Nodes of a template; `stale`: whether it is crossed out."""
    if not paths:
        return
    yield from _paper(low, high)
    for kind, found in [*paths.items(), *([("stale", _crossed_out(low, high))] if stale else [])]:
        colour, width, pattern = STYLES[kind]
        yield nodes.lines(found, colours.unit(colour), width, pattern)
