"""What a repair makes: its children made, named and taken away; the plies among them."""
from tearline_cad.document import drawn, frames, looks, pieces, plan_store, removal, rims, shapes
from tearline_cad.document.words import tr

PROPERTIES = [
    ("Role", "App::PropertyString", "What this is: ply, outlines, core, backing, template or grind guide"),
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
    made.addProperty(*drawn.PROPERTY)
    group.addObject(made)
    looks.dress_new(made)
    return made


def set_values(made, **values):
    """Properties that differ: what stays is no change that undo would have to know of."""
    for name, value in values.items():
        had = getattr(made, name)
        if getattr(had, "Value", had) != value:
            setattr(made, name, value)


def set_label(made, repair):
    """Labels a child after its repair and what it is."""
    # No label ends in a figure: FreeCAD tells two of the same name apart by counting its end up.
    words = {"ply": lambda: f"{tr('ply')} {made.Number} ({made.Fabric})",
             "template": lambda: f"{tr('template')} {made.Piece}" + (f" ({made.Fabric})" if made.Fabric else ""),
             "grind guide": lambda: tr("grind guide") + (f" {made.Fabric}" if made.Fabric else ""),
             "core": lambda: tr("core plug"),
             "backing": lambda: tr("backing"),
             "outlines": lambda: tr("damage and scarf")}[made.Role]()
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
    made.purgeTouched()


def _drawing(made, source, scale, stale, wires):
    """What drawn.draw() takes for lines told in true mm, where a hull shows them that is a scan taken times
    `scale`. Those of a plan that the repair has left behind are crossed out, as templates are."""
    def laid():
        lines = [line for line in wires() if line is not None]
        shape = shapes.compound([*lines, *(stroke for line in lines if stale for stroke in shapes.crossed_out(line))])
        if scale != 1:
            shape.scale(1 / scale)
        shape.Placement = made.Placement
        return shape

    return made, [source, scale, stale], laid


def place(repair):
    """Puts whatever lies on the hull where the hull is."""
    frame = frames.frame_of(repair.Hull)
    for role in ("outlines", "ply", *FILLERS):
        for made in made_by(repair, role):
            frames.place(made, frame)


# What fills a hole besides plies: parts of a plan, each with pieces.
FILLERS = ("core", "backing")


def filler_meshes(repair, plan, role):
    """The meshes of a core plug or a backing, as they came."""
    found = (plan.get(role) or {}).get("pieces") or []
    parts = plan_store.parts(repair)
    return [parts[f"pieces/{piece['id']}.bin"] for piece in found
            if f"pieces/{piece['id']}.bin" in parts]


def _rim_wires(meshes):
    for data in meshes:
        arrays = pieces.read_arrays(data)
        points = pieces.rows(arrays["base"])
        for loop in rims.loops(pieces.rows(arrays["triangles"])):
            yield shapes.wire(points[loop].tolist())


def _update_filler(repair, plan, role):
    meshes = filler_meshes(repair, plan, role)
    had = made_by(repair, role)
    remove_spare(repair, 1 if meshes else 0, had)
    if not meshes:
        return
    made = had[0] if had else make_part(repair, role.capitalize(), PROPERTIES[:1])
    set_values(made, Role=role)
    set_label(made, repair)
    made.purgeTouched()


def _outline_wires(plan):
    yield shapes.wire(plan["damage"]["outline_3d"])
    yield from shapes.region_wires(plan["scarf"]["outline_3d"])
    yield from shapes.region_wires(plan["footprint"]["outline_3d"])


def update(repair, plan, stale=False):
    """Brings the children that lie on the hull in line with a plan; `stale` as in drawings()."""
    outlines = made_by(repair, "outlines")
    outline = outlines[0] if outlines else make_part(repair, "Outlines", PROPERTIES[:1])
    set_values(outline, Role="outlines")
    set_label(outline, repair)
    outline.purgeTouched()
    had = made_by(repair, "ply")
    remove_spare(repair, len(plan["plies"]), had)
    for index, ply in enumerate(plan["plies"]):
        _fill(repair, had[index] if index < len(had) else make_part(repair, "Ply", PROPERTIES), ply)
    for role in FILLERS:
        _update_filler(repair, plan, role)
    drawn.draw_all(drawings(repair, plan, stale))
    place(repair)


def drawings(repair, plan, stale):
    """What drawn.draw() takes of each child that lies on the hull.

    stale   whether the repair has left the plan behind
    """
    scale = plan_store.scale_of(plan)
    for made in made_by(repair, "outlines"):
        yield _drawing(made, [plan[name]["outline_3d"] for name in ("damage", "scarf", "footprint")], scale, stale,
                       lambda: _outline_wires(plan))
    for made, ply in zip(made_by(repair, "ply"), plan["plies"]):
        lines = ply["outlines_3d"]
        yield _drawing(made, lines, scale, stale, lambda lines=lines: shapes.region_wires(lines))
    for role in FILLERS:
        for made in made_by(repair, role):
            meshes = filler_meshes(repair, plan, role)
            yield _drawing(made, meshes, scale, stale, lambda meshes=meshes: _rim_wires(meshes))
