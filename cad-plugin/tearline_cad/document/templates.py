"""Flat templates and the grind guide, as wires laid out beside the hull."""
import FreeCAD

from tearline_cad.document import drawn, frames, plies, shapes
from tearline_cad.document.words import tr

PROPERTIES = [
    plies.PROPERTIES[0],
    ("Piece", "App::PropertyString", "Number of the ply and letter of the piece"),
    ("Fabric", "App::PropertyString", "Cloth"),
    ("Area", "App::PropertyArea", "Inside the tear or cut line"),
]
GAP = 80.0  # [mm] between templates
ROW = 4000.0  # [mm] length of a row before the next begins


def _found(repair):
    return next((each for each in repair.Group if each.Name.startswith("Templates")), None)


def set_label(repair):
    """Labels the group after its repair, where there is one."""
    if folder := _found(repair):
        plies.set_values(folder, Label=f"{repair.Label}, {tr('templates')}")


def _folder(repair):
    """The group that holds them."""
    if folder := _found(repair):
        return folder
    folder = repair.Document.addObject("App::DocumentObjectGroup", "Templates")
    repair.addObject(folder)
    return folder


def _guide_wires(guide):
    yield from shapes.region_wires([guide["footprint"]])
    for ring in guide["rings"]:
        for loop in ring["loops"]:
            yield shapes.one_edge(loop)
    yield from shapes.mark_wires(guide["marks"])


def _template_wires(piece):
    yield from shapes.piece_wires(piece)
    yield from shapes.mark_wires(piece["marks"])


def _guides(plan):
    """(whose, area, guide): one, or of each side or skin its own."""
    sides = [side for side in plan.get("sides") or [] if side.get("grind_guide")]
    if len(sides) < 2:
        return [("", plan["footprint"]["area_mm2"], plan["grind_guide"])]
    return [(side.get("name", side["side"]), side.get("footprint_area_mm2", 0.0), side["grind_guide"])
            for side in sides]


def sheets(plan):
    """(role, piece id, fabric, area, what is drawn) of each flat drawing, the guides first."""
    for whose, area, guide in _guides(plan):
        if guide["footprint"]["outer"]:
            yield "grind guide", "", whose, area, guide
    for ply in plan["plies"]:
        for piece in ply["pieces"]:
            yield "template", piece["id"], ply["fabric"], piece["area_mm2"], piece
    for role in plies.FILLERS:
        for piece in (plan.get(role) or {}).get("pieces") or []:
            yield "template", piece["id"], "", piece["area_mm2"], piece


def _corner(repair, plan):
    """Where the first template goes: beside the hull, away from its middle."""
    box = FreeCAD.BoundBox()
    frame = frames.frame_of(repair.Hull)
    for point in plan["footprint"]["outline_3d"][0]["outer"]:
        box.add(frame.multVec(FreeCAD.Vector(*point)))
    if repair.Hull is not None:
        box.add(frames.box_of(repair.Hull))
    behind = sum(1 for other in repair.Document.Objects
                 if other.isDerivedFrom("App::DocumentObjectGroupPython")
                 and other.ID < repair.ID and hasattr(other, "PlanData"))
    return FreeCAD.Vector(box.XMin, box.YMin - GAP - behind * 2000.0, box.ZMin)


def flat_box(source):
    """What a drawing covers of the paper."""
    loops = [source["footprint"]["outer"]] if "footprint" in source else \
        [source.get(name) or [] for name in ("net_line", "tear_line", "cut_line")]
    points = [point for loop in (*loops, *(mark["points"] for mark in source["marks"]))
              for point in loop]
    along, across = [point[0] for point in points], [point[1] for point in points]
    return FreeCAD.BoundBox(min(along), min(across), 0, max(along), max(across), 0)


def _crossed_out(box):
    """Two lines right across a drawing."""
    corners = [(box.XMin, box.YMin), (box.XMax, box.YMax), (box.XMin, box.YMax), (box.XMax, box.YMin)]
    return [shapes.wire(corners[:2], closed=False), shapes.wire(corners[2:], closed=False)]


def _drawing(made, role, source, stale):
    """What drawn.draw() takes of a template.

    One that is out of date is crossed out in its own lines, so that it is so wherever it goes: in
    print, exported, in a drawing of another workbench.
    """
    wires = _guide_wires if role == "grind guide" else _template_wires

    def flat():
        shape = shapes.compound([*wires(source), *(_crossed_out(flat_box(source)) if stale else ())])
        shape.Placement = made.Placement
        return shape

    return made, [source, stale], flat


def drawings(repair, plan, stale):
    """What drawn.draw() takes of each flat child."""
    for made, (role, _, _, _, source) in zip(_folder(repair).Group, sheets(plan)):
        yield _drawing(made, role, source, stale)


def update(repair, plan, stale=False):
    """Brings the flat children in line with a plan; `stale`: crosses them out, they are of a plan that
    the repair has left behind."""
    folder = _folder(repair)
    set_label(repair)
    had = list(folder.Group)
    told = list(sheets(plan))
    plies.remove_spare(folder, len(told), had)
    corner = _corner(repair, plan)
    along, deep, row = 0.0, 0.0, 0.0
    for index, (role, piece, fabric, area, source) in enumerate(told):
        made = had[index] if index < len(had) else plies.make_part(folder, "Template", PROPERTIES)
        plies.set_values(made, Role=role, Piece=piece, Fabric=fabric, Area=area)
        plies.set_label(made, repair)
        box = flat_box(source)
        if along > 0 and along + box.XLength > ROW:
            along, row, deep = 0.0, row + deep + GAP, 0.0
        at = corner + FreeCAD.Vector(along - box.XMin, -row - box.YMax, 0)
        if not made.Placement.Base.isEqual(at, 1e-6):
            made.Placement.Base = at
        made.purgeTouched()
        along += box.XLength + GAP
        deep = max(deep, box.YLength)
    drawn.draw_all(drawings(repair, plan, stale))
    folder.purgeTouched()
