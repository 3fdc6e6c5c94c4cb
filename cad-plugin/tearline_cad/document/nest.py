"""Where the pieces of a boat lie on the rolls and remnants of cloth, as wires in the document."""
import math

import FreeCAD
import Part

from tearline_cad.document import frames, shapes
from tearline_cad.document.words import tr

GAP = 300.0  # [mm] between rolls
NAME = "Nest"


def _outline(piece):
    return piece.get("tear_line") or piece.get("cut_line") or piece["net_line"]


def _laid(points, placed):
    """A piece's outline on its roll: turned about its own middle of coordinates, then moved."""
    turned = math.radians(placed["turn_deg"])
    cos, sin = math.cos(turned), math.sin(turned)
    return [(placed["x_mm"] + cos * x - sin * y, placed["y_mm"] + sin * x + cos * y) for x, y in points]


def _wires(roll, pieces):
    if roll.get("outline"):
        yield shapes.wire(roll["outline"])
    else:
        length, width = roll["length_mm"], roll["width_mm"]
        yield shapes.wire([(0, 0), (length, 0), (length, width), (0, width)])
    for placed in roll["placed"]:
        yield shapes.wire(_laid(_outline(pieces[placed["piece"]]), placed))


def show(document, boat, plans, hull):
    """A group of one feature a roll, below whatever is there; that of an earlier plan is replaced.

    boat   plan.json of the boat
    plans  {name of a place: its plan.json}
    """
    pieces = {f"{name}-{piece['id']}": piece for name, plan in plans.items()
              for ply in [*plan["plies"], plan.get("backing") or {"pieces": []}]
              for piece in ply["pieces"]}
    forget(document)
    group = document.addObject("App::DocumentObjectGroup", NAME)
    group.Label = boat["job"]["title"] + ", " + tr("rolls")
    box = frames.box_of(hull) if hull is not None else FreeCAD.BoundBox(0, 0, 0, 1, 1, 1)
    below = box.YMin - 6000.0
    for roll in [*boat["rolls"], *(boat.get("remnants") or [])]:
        made = document.addObject("Part::Feature", "Roll")
        made.Label = tr("{} of {}", roll.get("name", tr("roll")), roll["fabric"])
        made.Shape = Part.makeCompound([each for each in _wires(roll, pieces) if each is not None])
        below -= made.Shape.BoundBox.YLength + GAP
        made.Placement.Base = FreeCAD.Vector(box.XMin, below, box.ZMin)
        group.addObject(made)
    return group


def forget(document):
    """Takes the rolls of an earlier plan away."""
    for group in [each for each in document.Objects if each.Name.startswith(NAME)]:
        for made in list(group.Group):
            document.removeObject(made.Name)
        document.removeObject(group.Name)
