"""What is laid on the hull as lines: the grind guide, section cards where they are cut, what was surveyed."""
import math

import numpy

from tearline_cad.document import survey
from tearline_cad.document.words import tr
from tearline_cad.view import colours, nodes

STEEP = -3  # the ring of what is steeper than the ratio (core/templates/template.h)
CARD = 60.0  # [mm] of card over the highest place of its edge
SURVEYED = {"tape": (20, 110, 60), "crease": (176, 84, 0), "opening": (60, 60, 160), "mark": (20, 24, 30),
            "direction": (110, 60, 140)}


def _sides(plan):
    """Sides of a repair, or the repair where it has one."""
    sides = plan.get("sides") or []
    return sides if len(sides) > 1 else [plan]


def _regions(regions):
    return [loop for region in regions for loop in (region["outer"], *region["holes"])]


def guide_lines(plan):
    """[(words, loops in 3D)] of the rings of the grind guides, as they lie on the hull."""
    numbered = {ply["number"]: ply for ply in plan["plies"]}
    found = []
    for side in _sides(plan):
        for ring in side["grind_guide"]["rings"]:
            number = ring["ply"]
            if number == 0:
                loops = [(side.get("damage") or plan["damage"])["outline_3d"]]
            elif number in numbered:
                loops = _regions(numbered[number]["outlines_3d"])
            elif number == -1:
                loops = _regions(side["scarf"]["outline_3d"])
            elif number == STEEP:
                continue  # a place inside the scarf that the plan has on the flat alone
            else:
                loops = _regions(plan["footprint"]["outline_3d"])
            found.append((ring["text"], loops))
    return found


def _card(section, frame):
    """(edge in 3D, the card's outline in 3D) of a section card that stands on the hull."""
    middle, x, y, normal = (numpy.array(frame[name]) for name in ("middle", "x", "y", "normal"))
    turned = math.radians(section["angle_deg"])
    along = math.cos(turned) * x + math.sin(turned) * y
    edge = numpy.array(section["edge"])
    top = edge[:, 1].max() + CARD

    def placed(flat):
        return middle + flat[:, :1] * along + flat[:, 1:] * normal

    corners = numpy.array([(edge[-1, 0], top), (edge[0, 0], top)])
    return placed(edge), placed(numpy.concatenate([edge, corners]))


def cards(plan, scale):
    """Nodes of all section cards of a plan."""
    for side in _sides(plan):
        for section in side.get("sections") or []:
            edge, outline = (points / scale for points in _card(section, side["frame"]))
            count = len(edge)
            top = numpy.stack([outline[count + 1] + (outline[count] - outline[count + 1]) * share
                               for share in numpy.linspace(0, 1, count)])
            first = numpy.arange(count - 1)
            strip = numpy.concatenate([numpy.stack([first, first + 1, first + count], axis=1),
                                       numpy.stack([first + 1, first + count + 1, first + count], axis=1)])
            yield nodes.surface(numpy.concatenate([edge, top]), strip, [colours.unit(colours.CARD)],
                                lit=False, clear=0.45)
            yield nodes.lines([[*outline, outline[0]]], colours.unit(colours.LINE), 1.0)
            yield nodes.lines([edge], colours.unit(colours.OVER_LIMIT), 2.5)
            yield nodes.words(top[count // 2], f"{tr('section card')} {section['name']}", 12)
            for end, at in zip(section["ends"], (top[0], top[-1])):
                yield nodes.words(at, end, 11)


STEP = 15.0  # [mm] between places of a line that is laid on the hull


def _fine(points):
    """The places of a line, close to each other."""
    found = []
    for first, last in zip(points, points[1:]):
        count = max(math.ceil(numpy.linalg.norm(last - first) / STEP), 1)
        found += [first + (last - first) * share for share in numpy.arange(count) / count]
    return numpy.array([*found, points[-1]])


def surveyed(repair, lift):
    """Nodes of what was surveyed; lift(points, times) takes them over the hull."""
    for each in survey.surveyed(repair):
        if each.kind == "opening":
            continue  # drawn as the plan has it
        colour = colours.unit(SURVEYED[each.kind])
        places = numpy.array([tuple(point) for point in each.points])
        points = lift(places, 1)
        if len(points) > 1:
            yield nodes.lines([lift(_fine([*places, places[0]] if each.closed else places), 1)], colour, 2.0, 0x0FFF)
        if each.kind != "mark" and not each.closed:  # the card of a mark's name is its place
            yield nodes.dots(points, [colour] * len(points), 10)
        yield nodes.words(lift(places, 3)[len(places) // 2], each.words, 12)
