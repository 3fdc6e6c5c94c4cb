"""Flat templates and the grind guide, as wires laid out beside the hull."""
import FreeCAD

from tearline_cad.document import plies, shapes

PROPERTIES = [
    plies.PROPERTIES[0],
    ("Piece", "App::PropertyString", "Number of the ply and letter of the piece"),
    ("Fabric", "App::PropertyString", "Cloth"),
    ("Area", "App::PropertyArea", "Inside the tear or cut line"),
]
GAP = 80.0  # [mm] between templates
ROW = 4000.0  # [mm] length of a row before the next begins


def _folder(repair):
    """The group that holds them."""
    for each in repair.Group:
        if each.Name.startswith("Templates"):
            return each
    folder = repair.Document.addObject("App::DocumentObjectGroup", "Templates")
    repair.addObject(folder)
    return folder


def _sheets(plan):
    """(role, piece id, fabric, area, wires) of each flat drawing, the guide first."""
    guide = plan["grind_guide"]
    if guide["footprint"]["outer"]:
        wires = [*shapes.region_wires([guide["footprint"]])]
        for ring in guide["rings"]:
            wires += [shapes.wire(loop) for loop in ring["loops"]]
        yield ("grind guide", "", "", plan["footprint"]["area_mm2"],
               wires + [*shapes.mark_wires(guide["marks"])])
    for ply in plan["plies"]:
        for piece in ply["pieces"]:
            wires = [*shapes.piece_wires(piece), *shapes.mark_wires(piece["marks"])]
            yield "template", piece["id"], ply["fabric"], piece["area_mm2"], wires


def _corner(repair, plan):
    """Where the first template goes: beside the hull, away from its middle."""
    box = FreeCAD.BoundBox()
    for point in plan["footprint"]["outline_3d"][0]["outer"]:
        box.add(FreeCAD.Vector(*point))
    hull = repair.Hull
    surface = getattr(hull, "Shape", None) or getattr(hull, "Mesh", None)
    if surface is not None:
        box.add(surface.BoundBox)
    behind = sum(1 for other in repair.Document.Objects
                 if other.isDerivedFrom("App::DocumentObjectGroupPython")
                 and other.ID < repair.ID and hasattr(other, "PlanData"))
    return FreeCAD.Vector(box.XMin, box.YMin - GAP - behind * 2000.0, box.ZMin)


def update(repair, plan):
    """Brings the flat children in line with a plan."""
    folder = _folder(repair)
    folder.Label = f"{repair.Label}, templates"
    had = list(folder.Group)
    sheets = list(_sheets(plan))
    plies.remove_spare(folder, len(sheets), had)
    corner = _corner(repair, plan)
    along, deep, row = 0.0, 0.0, 0.0
    for index, (role, piece, fabric, area, wires) in enumerate(sheets):
        made = had[index] if index < len(had) else plies.make_part(folder, "Template", PROPERTIES)
        made.Role, made.Piece, made.Fabric, made.Area = role, piece, fabric, area
        plies.set_label(made, repair)
        flat = shapes.compound(wires)
        box = flat.BoundBox
        if along > 0 and along + box.XLength > ROW:
            along, row, deep = 0.0, row + deep + GAP, 0.0
        # Placed before it is handed over: each change of a feature is drawn anew.
        flat.Placement.Base = corner + FreeCAD.Vector(along - box.XMin, -row - box.YMax, 0)
        made.Shape = flat
        made.purgeTouched()
        along += box.XLength + GAP
        deep = max(deep, box.YLength)
    folder.purgeTouched()
