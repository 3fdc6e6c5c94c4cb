"""What is drawn of one repair on its hull: plies, strain and shear, the dish, the grind guide, or the scan.

What takes long is arrays alone: reckon_ply() and its like do that, beside the window (beside.py); what they found is kept
for the nodes, which are made from it in no time. Called or not, the nodes are the same.
"""
import functools
import marshal
import math

import numpy

from tearline_cad.document import pieces, plan_store, plies, rims, survey
from tearline_cad.document.repair import is_stale
from tearline_cad.view import colours, laid, meshes, nodes, scan_picture

# [mm] over the hull: the lowest ply, each further one, and lines over what they bound. Less and
# they sink into the triangles that the hull is shown by.
LIFT, APART, OVER = 6.0, 1.4, 0.9

# [mm] that words stand over lines close to them; how far round a repair the words of a guide's rings are spread.
OVER_LINES, GUIDE_TURN = 25.0, 5.2

# A scale reaches at least this far, so that next to nothing looks like next to nothing: percent of
# strain, degrees of shear.
LEAST_TOP = {"strain": 0.8, "shear": 4.0}


class _LiftedMesh:
    """A piece as arrays, lifted off the hull."""

    def __init__(self, data, lift, scale=1.0):
        arrays = pieces.read_arrays(data)
        self.arrays = arrays
        self.base = meshes.array_of(arrays["base"], 3) / scale
        self.triangles = meshes.array_of(arrays["triangles"], 3)
        self.ends, places = numpy.unique(rims.rim(self.triangles), return_inverse=True)
        self.rim = places.reshape(-1, 2)  # pairs of `ends`
        self.risers = meshes.risers(self.base, self.triangles, self.ends)
        points = self.base + lift * self.risers
        self.over_rim = points[self.ends] + OVER * self.risers[self.ends]  # the places of `ends`, a line's lift over them
        self.shown = nodes.told(points), nodes.told_faces(self.triangles)
        self.shown_rim = nodes.told(self.over_rim), nodes.told_faces(self.rim)


def _steps(values, top, limit):
    """Which colour of the scale each value has; over the limit the one behind them all."""
    steps = numpy.clip((values / top * colours.STEPS).astype(int), 0, colours.STEPS - 1)
    return numpy.where(values > limit, colours.STEPS, steps)


def limits(plan):
    """{kind: {cloth: its limit}}, percent of strain and degrees of shear."""
    found = {"strain": {}, "shear": {}}
    for fabric in plan["job"]["effective"]["fabric"]:
        if fabric.get("strain_limit") is not None:
            found["strain"][fabric["name"]] = 100 * fabric["strain_limit"]
        if fabric.get("shear_limit") is not None:
            found["shear"][fabric["name"]] = fabric["shear_limit"]
    return found


def _strain_of(mesh):
    """(kind, value a triangle): strain in percent or shear in degrees."""
    if "shear_deg" in mesh.arrays:
        return "shear", numpy.abs(numpy.asarray(mesh.arrays["shear_deg"]))
    return "strain", 100 * numpy.abs(meshes.array_of(mesh.arrays["strain"], 2)).max(axis=1)


def scale_tops(plan):
    """{kind: end of its scale} over all plies, so that one colour means one value."""
    most = {}
    for ply in plan["plies"]:
        for piece in ply["pieces"]:
            if piece.get("strain"):
                most["strain"] = max(most.get("strain", 0), 100 * piece["strain"]["max"])
            if piece.get("shear_deg"):
                most["shear"] = max(most.get("shear", 0), piece["shear_deg"]["max"])
    return {kind: colours.nice_top(max(value, LEAST_TOP[kind])) for kind, value in most.items()}


class Picture:
    """What is needed to draw one repair."""

    def __init__(self, repair):
        self.repair, self.vobj = repair, repair.ViewObject
        self.parts = plan_store.parts(repair)
        self.plan = plan_store.plan(repair)
        self.scale = plan_store.scale_of(self.plan)
        self.kind, self.one = self.vobj.Picture, self.vobj.ShownPly
        self.second = [number for side in (self.plan.get("sides") or [])[1:] for number in side["plies"]]
        self.stale = is_stale(repair)
        self.ply_colours = [colours.STALE] * len(self.plan["plies"]) if self.stale else \
            colours.ply_colours(self.plan["plies"], self.second)
        self.limits = limits(self.plan)
        self.tops = scale_tops(self.plan)
        largest_first = sorted(self.plan["plies"], key=lambda ply: -ply["surface_area_mm2"])
        self.up, self.bow = numpy.array(repair.Up), numpy.array(repair.Bow)
        self.rank = {ply["number"]: rank for rank, ply in enumerate(largest_first)}
        self._meshes = {}

    def shown(self, number):
        """"full", "lines" or "" for a ply."""
        if self.kind in ("Dish depth", "Scan deviation", "Grind guide"):
            return ""
        if self.one:
            return "full" if number == self.one else ("lines" if number < self.one else "")
        return "lines" if self.kind == "Lines only" else "full"

    def _shapes_of(self, ply):
        return tuple(hash(self.parts[f"pieces/{piece['id']}.bin"]) for piece in ply["pieces"])

    def source_of(self, ply):
        """All that the picture of a ply is made from: drawn again only when it differs."""
        number = ply["number"]
        return (self.stale, self.kind, self.shown(number), self.one == number, self.vobj.Labels,
                self.rank[number], len(self.rank), tuple(self.tops.items()), ply["fabric"],
                self.ply_colours[number - 1], tuple(self.up), tuple(self.bow),
                self._shapes_of(ply))

    def source_of_outlines(self):
        """The same of the outlines."""
        widest = min(self.plan["plies"], key=lambda ply: self.rank[ply["number"]])
        return (self.kind if self.kind in ("Dish depth", "Scan deviation", "Grind guide") else "",
                len(self.rank), hash(self.parts["dish.bin"]), self.scale, self.vobj.SectionCards,
                marshal.dumps([self.plan[name]["outline_3d"]
                               for name in ("damage", "scarf", "footprint")], 2),
                repr(survey.surveyed(self.repair)), self._shapes_of(widest))

    def source_of_filler(self, role):
        meshes_of = plies.filler_meshes(self.repair, self.plan, role)
        return (self.stale, role, self.shows_fillers(), tuple(hash(data) for data in meshes_of))

    def shows_fillers(self):
        return self.kind == "Plies" and not self.one

    def _lifted(self, part, lift):
        """A part of the plan as a mesh, kept."""
        if (part, lift) not in self._meshes:
            self._meshes[part, lift] = _LiftedMesh(self.parts[part], lift, self.scale)
        return self._meshes[part, lift]

    def _pieces_of(self, ply, lift):
        return [self._lifted(f"pieces/{piece['id']}.bin", lift) for piece in ply["pieces"]]

    def reckon_ply(self, ply):
        if self.shown(ply["number"]):
            self._laid(ply)

    def _laid(self, ply):
        """The meshes of a ply, lifted over those of the larger ones."""
        return self._pieces_of(ply, LIFT + APART * self.rank[ply["number"]])

    def reckon_filler(self, role):
        if self.shows_fillers():
            self._filler(role)

    def _filler(self, role):
        found = (self.plan.get(role) or {}).get("pieces") or []
        names = [f"pieces/{piece['id']}.bin" for piece in found]
        return [self._lifted(name, LIFT + APART * len(self.rank)) for name in names if name in self.parts]

    def filler(self, role):
        """A core plug or a backing, where it lies."""
        if not self.shows_fillers():
            return
        colour = colours.STALE if self.stale else colours.FILLERS[role]
        for mesh in self._filler(role):
            yield nodes.surface(*mesh.shown, [colours.unit(colour)], pickable=True)
            yield nodes.edges(*mesh.shown_rim, colours.unit(colours.LINE), 2.0)

    def ply(self, ply):
        shown = self.shown(ply["number"])
        if not shown:
            return
        for piece, mesh in zip(ply["pieces"], self._laid(ply)):
            if shown == "full":
                yield self._cloth(ply, mesh)
            yield nodes.edges(*mesh.shown_rim, colours.unit(colours.LINE),
                              2.0 if shown == "full" else 1.0)
            if self.vobj.Labels:
                yield self._number(ply, piece, mesh)

    def _cloth(self, ply, mesh):
        if self.kind == "Strain and shear" and not self.stale:
            kind, values = _strain_of(mesh)
            limit = self.limits[kind].get(ply["fabric"], math.inf)
            return nodes.surface(*mesh.shown,
                                 [colours.unit(c) for c in
                                  (*colours.scale_steps(kind), colours.OVER_LIMIT)],
                                 _steps(values, self.tops[kind], limit), lit=False, pickable=True)
        return nodes.surface(*mesh.shown,
                             [colours.unit(self.ply_colours[ply["number"] - 1])], pickable=True)

    def _number(self, ply, piece, mesh):
        """The ply's number at its upper edge, a little farther round for each nested ply."""
        turned = 0.9 - 1.8 * self.rank[ply["number"]] / max(len(self.rank) - 1, 1)
        way = math.cos(turned) * self.up + math.sin(turned) * self.bow
        corner = numpy.argmax(mesh.over_rim @ way)
        text = str(ply["number"]) if len(ply["pieces"]) == 1 else piece["id"]
        if ply["number"] == self.one:
            text += f"  {ply['fabric']}"
        return nodes.words(mesh.over_rim[corner] + 10 * mesh.risers[mesh.ends[corner]], text)

    def reckon_outlines(self):
        self._lines_over_hull, self._rings_over_hull

    @property
    def _dish(self):
        return self._lifted("dish.bin", LIFT)

    @functools.cached_property
    def _lines_over_hull(self):
        """[(closed lines, colour, width)] of the damage, openings, scarf and footprint."""
        plan = self.plan
        openings = [opening["outline_3d"] for opening in plan.get("openings") or []]
        told = (([plan["damage"]["outline_3d"]], colours.DAMAGE, 3.0), (openings, colours.OPENING, 2.5),
                ([part["outer"] for part in plan["scarf"]["outline_3d"]], colours.SCARF, 2.0),
                ([part["outer"] for part in plan["footprint"]["outline_3d"]], colours.FOOTPRINT, 1.0))
        return [(nodes.together(self._over_everything(loops)), colour, width) for loops, colour, width in told]

    @functools.cached_property
    def _rings_over_hull(self):
        """[(words, closed lines)] of the grind guide's rings, where they are shown."""
        if self.kind != "Grind guide":
            return []
        return [(words, self._over_everything(loops)) for words, loops in laid.guide_lines(self.plan)]

    def outlines(self):
        """Damage, scarf and footprint as lines, over the dish where that is shown."""
        dish = self._dish
        if self.kind == "Dish depth":
            share = numpy.asarray(dish.arrays["depth"]) / self.dish_top()
            smooth = [colours.unit(colours.between(colours.SCALE, k / 63)) for k in range(64)]
            yield nodes.shaded(dish.shown[0], dish.triangles, smooth,
                               numpy.clip(numpy.rint(63 * share), 0, 63).astype(int))
        elif self.kind == "Scan deviation" and self.deviation():
            yield from self.deviation().nodes()
        yield from self._guide(dish)
        for closed, colour, width in self._lines_over_hull:
            yield nodes.lines(closed, colours.unit(colour), width)
        if self.vobj.SectionCards:
            yield from laid.cards(self.plan, self.scale)
        yield from laid.surveyed(self.repair, self._over_hull(dish))

    def _over_hull(self, dish):
        """lift(places, times) over the hull at the damage, of a scan over its noise too."""
        out = self._out(dish)
        scan = scan_picture.can_show(self.repair, self.plan)

        def lift(places, times):
            base = scan_picture.risen(self.repair.Hull, places, out) if scan else places
            return base + times * LIFT * out

        return lift

    def _out(self, dish):
        """The way out of the hull at the damage."""
        normal = meshes.normals(dish.base, dish.triangles).mean(axis=0)
        return normal / max(numpy.linalg.norm(normal), 1e-30)

    def _guide(self, dish):
        """The rings of the grind guide as they lie on the hull, each with its words in turn round the damage."""
        rings = self._rings_over_hull
        for index, (words, lifted) in enumerate(rings):
            yield nodes.lines(lifted, colours.unit(colours.LINE), 1.5)
            if self.vobj.Labels and lifted:
                turned = GUIDE_TURN * (index / max(len(rings) - 1, 1) - 0.5)
                way = math.cos(turned) * self.up + math.sin(turned) * self.bow
                yield nodes.words(lifted[0][numpy.argmax(lifted[0] @ way)] + OVER_LINES * self._out(dish), words, 11)

    def deviation(self):
        """How the scan lies about the fair surface; None of what is no scan."""
        if not hasattr(self, "_deviation"):
            self._deviation = None
            if scan_picture.can_show(self.repair, self.plan):
                self._deviation = scan_picture.Deviation(
                    self.repair, pieces.read_arrays(self.parts["dish.bin"]), self.scale)
        return self._deviation

    def _over_everything(self, loops):
        """Closed lines on the hull, each place lifted over what is drawn there as the triangle nearest to it is."""
        corners, risers = self._top
        lift = LIFT + (OVER if self.kind == "Dish depth" else APART * (len(self.rank) + 1))
        places = [numpy.asarray(loop + loop[:1]) / self.scale for loop in loops]
        return [line + lift * meshes.risers_at(corners, risers, line) for line in places]

    @functools.cached_property
    def _top(self):
        """(corners, risers) of the triangles that lines lie over: of the dish and the widest ply."""
        widest = next(ply for ply in self.plan["plies"] if self.rank[ply["number"]] == 0)
        drawn = [self._dish, *self._laid(widest)]
        return (numpy.concatenate([mesh.base[mesh.triangles] for mesh in drawn]),
                numpy.concatenate([mesh.risers[mesh.triangles] for mesh in drawn]))

    def dish_top(self):
        """[mm] the deepest of the dish."""
        depth = pieces.read_arrays(self.parts["dish.bin"])["depth"]
        return max(max(depth), 1e-3)
