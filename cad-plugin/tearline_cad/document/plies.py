"""What a repair makes: its children made, named and taken away; the plies among them."""
import hashlib
import marshal

from tearline_cad.document import frames, looks, removal, shapes

READ_ONLY, HIDDEN = 1, 4  # property attributes of FreeCAD

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
    made.addProperty("App::PropertyString", "Drawn", "Tearline", "What the shape was made from",
                     READ_ONLY | HIDDEN)
    group.addObject(made)
    looks.dress_new(made)
    return made


def draw(made, source, shape_of):
    """Gives a child the shape shape_of(), unless it has the one made from the same source.

    Whatever is given a shape is shown, saved and undone anew: of a changed figure of resin nothing is.
    source   what of the plan the shape shows, lists and numbers
    """
    # Version 2 tells the same values by the same bytes, whoever else holds them; JSON takes five times as long.
    told = hashlib.sha256(marshal.dumps(source, 2)).hexdigest()
    if not hasattr(made, "Drawn"):  # of a file from before
        made.addProperty("App::PropertyString", "Drawn", "Tearline", "What the shape was made from",
                         READ_ONLY | HIDDEN)
    if made.Drawn != told or made.Shape.isNull():
        # Made again from the plan when a document is opened: in its file they would be most of it.
        made.setPropertyStatus("Shape", "Transient")
        made.Shape = shape_of()
        made.Drawn = told


def set_values(made, **values):
    """Properties that differ: what stays is no change that undo would have to know of."""
    for name, value in values.items():
        had = getattr(made, name)
        if getattr(had, "Value", had) != value:
            setattr(made, name, value)


def set_label(made, repair):
    """Labels a child after its repair and what it is."""
    # No label ends in a figure: FreeCAD tells two of the same name apart by counting its end up.
    words = {"ply": lambda: f"ply {made.Number} ({made.Fabric})",
             "template": lambda: f"template {made.Piece} ({made.Fabric})",
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
    set_values(made, Role="ply", Number=ply["number"], Fabric=ply["fabric"])
    set_label(made, repair)
    set_values(made, Cover=ply["cover"], Thickness=ply["thickness_mm"], EdgeOffset=ply["edge_offset_mm"],
         LayDepth=ply["lay_depth_mm"], SurfaceArea=ply["surface_area_mm2"],
         GlassArea=ply["glass_area_mm2"], Glass=ply["glass_g"], Resin=ply["resin_g"],
         Strain=100 * _largest(ply["pieces"], "strain", "max"),
         Shear=_largest(ply["pieces"], "shear_deg", "max"))
    draw(made, ply["outlines_3d"],
         lambda: shapes.compound(shapes.region_wires(ply["outlines_3d"])))
    made.purgeTouched()


def place(repair):
    """Puts whatever lies on the hull where the hull is."""
    frame = frames.frame_of(repair.Hull)
    for made in (*made_by(repair, "outlines"), *made_by(repair, "ply")):
        frames.place(made, frame)


def _outline_wires(plan):
    yield shapes.wire(plan["damage"]["outline_3d"])
    yield from shapes.region_wires(plan["scarf"]["outline_3d"])
    yield from shapes.region_wires(plan["footprint"]["outline_3d"])


def update(repair, plan):
    """Brings the children that lie on the hull in line with a plan."""
    outlines = made_by(repair, "outlines")
    outline = outlines[0] if outlines else make_part(repair, "Outlines", PROPERTIES[:1])
    set_values(outline, Role="outlines")
    set_label(outline, repair)
    draw(outline, [plan[name]["outline_3d"] for name in ("damage", "scarf", "footprint")],
         lambda: shapes.compound(_outline_wires(plan)))
    outline.purgeTouched()
    had = made_by(repair, "ply")
    remove_spare(repair, len(plan["plies"]), had)
    for index, ply in enumerate(plan["plies"]):
        _fill(repair, had[index] if index < len(had) else make_part(repair, "Ply", PROPERTIES),
              ply)
    place(repair)
