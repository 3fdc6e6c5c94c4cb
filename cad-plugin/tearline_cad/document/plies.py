"""What a repair makes: its children made, named and taken away; the plies among them."""
from tearline_cad.document import looks, removal, shapes

PROPERTIES = [
    ("Role", "App::PropertyString", "What this is: ply, outlines, template or grind guide"),
    ("Number", "App::PropertyInteger", "In the order of laying"),
    ("Fabric", "App::PropertyString", "Cloth"),
    ("Cover", "App::PropertyBool", "Above the base surface, sanded back afterwards"),
    ("Thickness", "App::PropertyLength", "Of the laid ply"),
    ("EdgeOffset", "App::PropertyLength", "How far its edge lies outside the damage"),
    ("LayDepth", "App::PropertyDistance", "Of its mid-plane over the floor"),
    ("SurfaceArea", "App::PropertyArea", "Inside the net line, on the hull"),
    ("GlassArea", "App::PropertyArea", "Cloth to cut"),
    ("Glass", "App::PropertyFloat", "g"),
    ("Resin", "App::PropertyFloat", "g"),
    ("Strain", "App::PropertyFloat", "Largest, in percent; mat"),
    ("Shear", "App::PropertyFloat", "Largest, in degrees; cloth"),
]


class MadeByRepair:
    """Proxy of whatever a repair makes; the repair fills it, so it has nothing to do itself."""

    def __init__(self, made):
        made.Proxy = self

    def execute(self, made):
        return None

    def dumps(self):
        return None

    def loads(self, state):
        return None

    __getstate__, __setstate__ = dumps, loads


def made_by(repair, role):
    return [each for each in repair.Group if getattr(each, "Role", "") == role]


def make_part(group, name, properties):
    """A new child with a shape."""
    made = group.Document.addObject("Part::FeaturePython", name)
    MadeByRepair(made)
    for prop, kind, meaning in properties:
        made.addProperty(kind, prop, "Tearline", meaning, 1)
    group.addObject(made)
    looks.dress_new(made)
    return made


def set_label(made, repair):
    """Labels a child after its repair and what it is."""
    words = {"ply": lambda: f"ply {made.Number}: {made.Fabric}",
             "template": lambda: f"template {made.Piece}: {made.Fabric}",
             "grind guide": lambda: "grind guide",
             "outlines": lambda: "damage and scarf"}[made.Role]()
    label = f"{repair.Label}, {words}"
    if made.Label != label:
        made.Label = label


def remove_spare(group, kept, had):
    """Removes the children of one kind that the new plan has no use for."""
    for gone in had[kept:]:
        group.removeObject(gone)
    removal.remove(group.Document, [gone.Name for gone in had[kept:]])


def _largest(pieces, name, field):
    values = [piece[name][field] for piece in pieces if piece.get(name)]
    return max(values) if values else 0.0


def _fill(repair, made, ply):
    made.Role = "ply"
    made.Number = ply["number"]
    made.Fabric = ply["fabric"]
    set_label(made, repair)
    made.Cover = ply["cover"]
    made.Thickness = ply["thickness_mm"]
    made.EdgeOffset = ply["edge_offset_mm"]
    made.LayDepth = ply["lay_depth_mm"]
    made.SurfaceArea = ply["surface_area_mm2"]
    made.GlassArea = ply["glass_area_mm2"]
    made.Glass = ply["glass_g"]
    made.Resin = ply["resin_g"]
    made.Strain = 100 * _largest(ply["pieces"], "strain", "max")
    made.Shear = _largest(ply["pieces"], "shear_deg", "max")
    made.Shape = shapes.compound(shapes.region_wires(ply["outlines_3d"]))
    made.purgeTouched()


def update(repair, plan):
    """Brings the children that lie on the hull in line with a plan."""
    outlines = made_by(repair, "outlines")
    outline = outlines[0] if outlines else make_part(repair, "Outlines", PROPERTIES[:1])
    outline.Role = "outlines"
    set_label(outline, repair)
    outline.Shape = shapes.compound(
        [shapes.wire(plan["damage"]["outline_3d"]),
         *shapes.region_wires(plan["scarf"]["outline_3d"]),
         *shapes.region_wires(plan["footprint"]["outline_3d"])])
    outline.purgeTouched()
    had = made_by(repair, "ply")
    remove_spare(repair, len(plan["plies"]), had)
    for index, ply in enumerate(plan["plies"]):
        _fill(repair, had[index] if index < len(had) else make_part(repair, "Ply", PROPERTIES),
              ply)
