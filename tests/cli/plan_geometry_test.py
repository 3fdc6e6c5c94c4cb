#!/usr/bin/env python3
"""The geometry of plan.json against itself and against closed forms: the flat frame, where outlines lie, the
meshes behind the pieces, strain worked out anew from them, the grind guide and the sections.

Expected values: a panel y = 0, a cylinder of radius 500 mm along x, and the definitions of
core/DEFINITIONS.md (Flat frame, Mat, Plan file)."""
import json
import math
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import piece_mesh as pm  # noqa: E402
from closed_lines import area, inside, to_loop  # noqa: E402
from each import for_each  # noqa: E402
from random_repairs import SAMPLES, OfPlans, Repair  # noqa: E402

REPAIRS = (("panel", Repair(22)), ("star", Repair(19)), ("cylinder", Repair(3)), ("wigley", Repair(6)),
           ("c", Repair(29, hull="panel", shape="c", order="smallest first")))
SPHERE = (SAMPLES / "sphere.toml").read_text(encoding="utf-8").replace(
    "6.3046875 mm", "2.2 mm").replace('model = "', f'model = "{SAMPLES}/')
UP, BOW = (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)


def length(a):
    return math.sqrt(pm.dot(a, a))


def area_vector(loop):
    """Half the sum of cross products: its length is the area of a plane loop, its way the side from which
    the loop runs counter-clockwise."""
    total = [0.0, 0.0, 0.0]
    for a, b in zip(loop, loop[1:] + loop[:1]):
        c = pm.cross(pm.minus(a, loop[0]), pm.minus(b, loop[0]))
        total = [t + 0.5 * x for t, x in zip(total, c)]
    return total


def perimeter(loop):
    return sum(math.dist(a, b) for a, b in zip(loop, loop[1:] + loop[:1]))


each_plan = for_each(lambda self: self.made, lambda made: made.name)
each_piece = for_each(lambda self: [(made, ply, piece) for made in self.made for ply, piece in made.pieces()],
                      lambda one: f"{one[0].name} {one[2]['id']}")


class PlanGeometry(OfPlans):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for name, text in (*((name, repair.text) for name, repair in REPAIRS), ("sphere", SPHERE)):
            made = cls.plan(name, text)
            made.meshes = {piece["id"]: pm.PieceMesh(made.folder / piece["mesh"]) for _, piece in made.pieces()}

    # The frame.

    @each_plan
    def test_the_frame_is_square_and_right_handed(self, made):
        f = made.plan["frame"]
        x, y, n = f["x"], f["y"], f["normal"]
        for a in (x, y, n, f["axis_from_3d"]):
            self.assertAlmostEqual(length(a), 1.0, delta=1e-9)
        for a, b in ((x, y), (y, n), (n, x)):
            self.assertAlmostEqual(pm.dot(a, b), 0.0, delta=1e-9)
        # x = y x n (Flat frame).
        self.assertLess(math.dist(pm.cross(y, n), x), 1e-9)

    @each_plan
    def test_y_is_up_laid_on_the_surface_or_the_bow_where_up_is_square_to_it(self, made):
        f = made.plan["frame"]
        square = abs(pm.dot(UP, f["normal"])) > math.cos(math.radians(30.0))
        self.assertLess(math.dist(f["y"], pm.tangent(BOW if square else UP, f["normal"])), 1e-6)

    @each_plan
    def test_the_angle_of_the_bow_is_that_of_its_projection(self, made):
        # Counter-clockwise from x on paper; axes are counted from the bow, or from starboard where the bow
        # lies within 20 degrees of the normal.
        f = made.plan["frame"]
        if abs(pm.dot(BOW, f["normal"])) > math.cos(math.radians(20.0)):
            self.assertIsNone(f["bow_deg"])
            wanted = pm.cross(BOW, UP)
        else:
            wanted = BOW
        along = pm.tangent(wanted, f["normal"])
        self.assertLess(math.dist(along, f["axis_from_3d"]), 1e-6)
        angle = math.degrees(math.atan2(pm.dot(along, f["y"]), pm.dot(along, f["x"])))
        off = (angle - f["axis_from_deg"] + 180) % 360 - 180
        self.assertAlmostEqual(off, 0.0, delta=1e-4)

    @each_plan
    def test_the_sides_of_the_paper_are_named_after_where_they_point(self, made):
        f = made.plan["frame"]
        ways = {"bow": BOW, "aft": (-1, 0, 0), "up": UP, "down": (0, 0, -1), "starboard": (0, -1, 0),
                "port": (0, 1, 0)}
        for side, way in (("right", f["x"]), ("top", f["y"]), ("left", [-c for c in f["x"]]),
                          ("bottom", [-c for c in f["y"]])):
            said = f["points_to"][side]
            if said not in ways:
                continue  # "down and aft": between two
            laid = pm.tangent(ways[said], f["normal"])
            self.assertGreater(pm.dot(laid, way), math.cos(math.radians(45.0)), (side, said))
        self.assertNotEqual(f["points_to"]["right"], f["points_to"]["left"])

    # Outlines in space.

    @each_plan
    def test_outlines_lie_on_the_model(self, made):
        plan = made.plan
        loops = [plan["damage"]["outline_3d"]]
        for regions in (plan["scarf"]["outline_3d"], plan["footprint"]["outline_3d"],
                        *(ply["outlines_3d"] for ply in plan["plies"])):
            for region in regions:
                loops += [region["outer"], *region["holes"]]
        for x, y, z in (p for loop in loops for p in loop):
            if made.name in ("panel", "star", "c"):
                self.assertAlmostEqual(y, 0.0, delta=1e-6)
            elif made.name == "cylinder":
                self.assertAlmostEqual(math.hypot(y, z), 500.0, delta=0.02)
            elif made.name == "sphere":
                self.assertAlmostEqual(math.dist((x, y, z), SPHERE_AT), SPHERE_R, delta=0.02)

    @each_plan
    def test_outer_loops_run_counter_clockwise_for_the_person_who_lays(self, made):
        normal = made.plan["frame"]["normal"]
        for ply in made.plan["plies"]:
            for region in ply["outlines_3d"]:
                self.assertGreater(pm.dot(area_vector(region["outer"]), normal), 0)
                for hole in region["holes"]:
                    self.assertLess(pm.dot(area_vector(hole), normal), 0)

    @each_plan
    def test_no_loop_repeats_its_first_point(self, made):
        loops = [made.plan["damage"]["outline_3d"], *(r["outer"] for r in made.plan["footprint"]["outline_3d"])]
        for _, piece in made.pieces():
            loops += [piece[k] for k in ("net_line", "tear_line", "cut_line") if piece[k]]
        for loop in loops:
            self.assertGreater(math.dist(loop[0], loop[-1]), 1e-9)
            self.assertGreater(len(loop), 2)

    def test_areas_of_flat_outlines_are_those_of_their_polygons(self):
        # On the panel an outline in space is plane: its area by cross products, 0.05 % (Bars).
        for name in ("panel", "star"):
            plan = self.named(name).plan
            for part, loop in (("damage", plan["damage"]["outline_3d"]),
                               ("scarf", plan["scarf"]["outline_3d"][0]["outer"]),
                               ("footprint", plan["footprint"]["outline_3d"][0]["outer"])):
                self.assertAlmostEqual(length(area_vector(loop)) / plan[part]["area_mm2"], 1.0, delta=5e-4)
            loop = plan["damage"]["outline_3d"]
            self.assertAlmostEqual(perimeter(loop) / plan["damage"]["perimeter_mm"], 1.0, delta=5e-4)

    def test_areas_on_a_cylinder_are_those_of_its_unrolling(self):
        # Closed form: x and 500 times the angle are flat coordinates of the same area.
        plan = self.named("cylinder").plan
        for part, loop in (("damage", plan["damage"]["outline_3d"]),
                           ("scarf", plan["scarf"]["outline_3d"][0]["outer"])):
            flat = [(x, 500.0 * math.atan2(z, y)) for x, y, z in loop]
            self.assertAlmostEqual(abs(area(flat)) / plan[part]["area_mm2"], 1.0, delta=5e-4)

    def test_the_middle_lies_at_the_damages_centroid(self):
        # The base point nearest the outline's area centroid (Flat frame); on the panel the centroid itself.
        for name in ("panel", "star"):
            plan = self.named(name).plan
            loop = [(x, z) for x, _, z in plan["damage"]["outline_3d"]]
            a = area(loop)
            centroid = [sum((p[k] + q[k]) * (p[0] * q[1] - q[0] * p[1])
                            for p, q in zip(loop, loop[1:] + loop[:1])) / (6 * a) for k in (0, 1)]
            x, _, z = plan["frame"]["middle"]
            self.assertLess(math.dist((x, z), centroid), 0.5)

    # Pieces and their meshes.

    @each_piece
    def test_flat_areas_are_those_of_the_mesh(self, one):
        made, ply, piece = one
        mesh = made.meshes[piece["id"]]
        flat = sum(abs(area([mesh.flat[i] for i in t])) for t in mesh.triangles)
        loops = area(piece["net_line"]) + sum(map(area, piece["net_holes"]))
        if piece["cut_line"] is None or ply["kind"] == "mat":
            self.assertAlmostEqual(flat / loops, 1.0, delta=2e-3)

    @each_plan
    def test_surface_areas_are_those_of_the_meshes(self, made):
        # Area inside the net line on the lay surface: the mesh's triangles in space.
        for ply in made.plan["plies"]:
            total = 0.0
            for piece in ply["pieces"]:
                mesh = made.meshes[piece["id"]]
                for t in mesh.triangles:
                    a, b, c = (mesh.lay[i] for i in t)
                    total += 0.5 * length(pm.cross(pm.minus(b, a), pm.minus(c, a)))
            self.assertAlmostEqual(total / ply["surface_area_mm2"], 1.0, delta=2e-3)

    @each_piece
    def test_triangles_face_the_person_who_lays_and_lie_counter_clockwise_on_the_table(self, one):
        made, _, piece = one
        mesh, normal = made.meshes[piece["id"]], made.plan["frame"]["normal"]
        for t in mesh.triangles:
            self.assertGreater(area([mesh.flat[i] for i in t]), 0)
            a, b, c = (mesh.lay[i] for i in t)
            self.assertGreater(pm.dot(pm.cross(pm.minus(b, a), pm.minus(c, a)), normal), 0)

    @each_piece
    def test_every_vertex_lies_as_deep_as_its_ply(self, one):
        # Smallest first: the constant D - H_k + t_k/2, along the normal of the panel (Lay surface).
        made, ply, piece = one
        if made.name not in ("panel", "star", "c") or made.job["layup"]["order"] != "smallest first" or ply["cover"]:
            return
        mesh = made.meshes[piece["id"]]
        normal = made.plan["frame"]["normal"]
        for lay, base in zip(mesh.lay, mesh.base):
            self.assertAlmostEqual(pm.dot(pm.minus(base, lay), normal), ply["lay_depth_mm"], delta=1e-6)

    @each_piece
    def test_strain_is_that_of_the_map_from_the_lay_surface(self, one):
        # sigma are the principal stretches of each triangle's map, worked out from its two edge pairs:
        # C = F'F has their squares as eigenvalues. rms = sqrt(sum of e2 A / 2A) (Mat).
        made, ply, piece = one
        if ply["kind"] != "mat":
            return
        mesh, energy, whole = made.meshes[piece["id"]], 0.0, 0.0
        for t, told in zip(mesh.triangles, mesh.strain):
            (a, b, c), (p, q, r) = ([mesh.lay[i] for i in t], [mesh.flat[i] for i in t])
            u, v = pm.minus(b, a), pm.minus(c, a)
            e1 = pm.unit(u)
            n = pm.unit(pm.cross(u, v))
            e2 = pm.cross(n, e1)
            # Rest edges in the triangle's own plane, and flat ones.
            m = ((pm.dot(u, e1), pm.dot(v, e1)), (pm.dot(u, e2), pm.dot(v, e2)))
            det = m[0][0] * m[1][1] - m[0][1] * m[1][0]
            inverse = ((m[1][1] / det, -m[0][1] / det), (-m[1][0] / det, m[0][0] / det))
            w = ((q[0] - p[0], r[0] - p[0]), (q[1] - p[1], r[1] - p[1]))
            f = [[sum(w[i][k] * inverse[k][j] for k in (0, 1)) for j in (0, 1)] for i in (0, 1)]
            trace = sum(f[i][j] ** 2 for i in (0, 1) for j in (0, 1))
            jacobian = f[0][0] * f[1][1] - f[0][1] * f[1][0]
            root = math.sqrt(max(0.0, trace * trace / 4 - jacobian * jacobian))
            stretches = sorted(math.sqrt(max(0.0, trace / 2 + sign * root)) for sign in (-1, 1))
            if made.name != "sphere":  # meshes that know arcs differ from their chords where they bend
                for s, e in zip(stretches, sorted(told)):
                    self.assertAlmostEqual(s - 1, e, delta=2e-3)
            energy += 0.5 * det * sum(e * e for e in told)
            whole += 0.5 * det
        self.assertAlmostEqual(math.sqrt(energy / (2 * whole)), piece["strain"]["rms"],
                               delta=1e-6 + 0.02 * piece["strain"]["rms"])
        self.assertGreaterEqual(piece["strain"]["max"], 0.8 * piece["strain"]["rms"])

    def test_nothing_is_strained_where_the_hull_can_be_unrolled(self):
        # Bars: developables flatten with strain <= 1e-4; plies above the surface lie down the scarf's cone.
        for name in ("panel", "star", "cylinder"):
            made = self.named(name)
            for ply, piece in made.pieces():
                if ply["kind"] == "mat" and not ply["cover"] and made.job["layup"]["order"] == "smallest first":
                    self.assertLessEqual(piece["strain"]["max"], 1e-4, (name, piece["id"]))

    def test_a_cap_of_a_sphere_is_strained_as_theory_says(self):
        # Derived: the flat metric is the cap's and twice the strain, so curl curl e = 1/R2; where stress is
        # strain (the energy of DEFINITIONS.md, Mat) that is the Laplacian of its trace, and with a free rim
        # at a the trace is (r2/4 - a2/8)/R2, up to shares of (a/R)2, which is 8 %.
        made = self.named("sphere")
        ply = made.plan["plies"][0]
        mesh = made.meshes[ply["pieces"][0]["id"]]
        radius = SPHERE_R - ply["lay_depth_mm"]
        rim = max(math.hypot(*p) for p in mesh.flat)
        most = rim ** 2 / 8 / radius ** 2
        for t, told in zip(mesh.triangles, mesh.strain):
            away = math.hypot(*(sum(mesh.flat[i][k] for i in t) / 3 for k in (0, 1)))
            wanted = (away ** 2 / 4 - rim ** 2 / 8) / radius ** 2
            self.assertAlmostEqual(sum(told), wanted, delta=0.12 * most)

    @each_piece
    def test_the_datum_is_an_even_cross_about_the_origin(self, one):
        _, _, piece = one
        datum, = [mark["points"] for mark in piece["marks"] if mark["kind"] == "datum"]
        self.assertEqual(len(datum), 4)
        for k in (0, 1):
            self.assertAlmostEqual(sum(p[k] for p in datum) / 4, 0.0, delta=1e-9)
        # 20 mm, less on a piece that is smaller.
        across, up = math.dist(datum[0], datum[1]), math.dist(datum[2], datum[3])
        self.assertAlmostEqual(across, up, delta=1e-6)
        self.assertLessEqual(across, 20.0 + 1e-6)
        self.assertGreater(across, 4.0)
        self.assertAlmostEqual(datum[0][1], datum[1][1], delta=1e-9)
        self.assertAlmostEqual(datum[2][0], datum[3][0], delta=1e-9)

    @each_piece
    def test_arrows_point_where_the_hull_says(self, one):
        # Carried to the hull by the piece's own mesh, the way of each arrow is the direction's projection.
        made, _, piece = one
        mesh = made.meshes[piece["id"]]
        for mark in piece["marks"]:
            wanted = {"bow": BOW, "up": UP, "starboard": pm.cross(BOW, UP)}.get(mark["kind"])
            if not wanted:
                continue
            tail, tip = mark["points"]
            way, normal = mesh.on_hull(tail, (tip[0] - tail[0], tip[1] - tail[1]))
            self.assertGreater(pm.dot(way, pm.tangent(wanted, normal)), math.cos(math.radians(3.0)), mark["kind"])

    @each_piece
    def test_ticks_cross_the_net_line_at_the_quarters(self, one):
        # A tick is 16 mm long and its middle lies on the net line; cloth that is cut along it has the inner
        # half alone.
        made, ply, piece = one
        ticks = [m for m in piece["marks"] if m["kind"] == "tick"]
        for tick in ticks:
            a, b = tick["points"]
            cloth = ply["kind"] != "mat"
            there = [b if cloth else [0.5 * (p + q) for p, q in zip(a, b)], a]
            self.assertAlmostEqual(math.dist(a, b), 8.0 if cloth else 16.0, delta=1e-3)
            loops = [piece["net_line"], *piece["net_holes"]]
            near = [min(to_loop(p, loop) for loop in loops) for p in there]
            self.assertLess(min(near) if cloth else near[0], 0.05)

    @each_piece
    def test_holes_lie_inside_and_nothing_crosses_the_edge(self, one):
        _, _, piece = one
        edge = piece["tear_line"] or piece["cut_line"] or piece["net_line"]
        for hole in piece["net_holes"] + (piece["tear_holes"] or []) + (piece["cut_holes"] or []):
            self.assertLess(area(hole), 0)
            for point in hole[::5]:
                self.assertTrue(inside(edge, point))
        for point in piece["net_line"][::7]:
            self.assertTrue(inside(edge, point) or to_loop(point, edge) < 0.01)

    def test_the_c_has_a_hole_in_its_middle(self):
        holes = [piece for _, piece in self.named("c").pieces() if piece["net_holes"]]
        self.assertGreater(len(holes), 1)

    # Guide and sections.

    @each_plan
    def test_rings_lie_where_their_plies_end(self, made):
        guide = {ring["ply"]: ring for ring in made.plan["grind_guide"]["rings"]}
        self.assertIn(-1, guide)  # the scarf's edge
        for ply in made.plan["plies"]:
            self.assertIn(ply["number"], guide)
        if made.name != "panel":
            return
        # Closed form: circles about the datum; depth over the scarf falls by 1 in ratio.
        job, r = made.job, made.job["damage"]["radius"]
        depth, ratio = job["damage"]["depth"], job["scarf"]["ratio"]
        wanted = {0: (r, depth), -1: (r + ratio * depth, 0.0)}
        for ply in made.plan["plies"]:
            wanted[ply["number"]] = (r + ply["edge_offset_mm"],
                                     max(0.0, depth - ply["edge_offset_mm"] / ratio))
        for number, (radius, deep) in wanted.items():
            ring = guide[number]
            self.assertAlmostEqual(ring["depth_mm"], deep, delta=1e-6, msg=number)
            for loop in ring["loops"]:
                for p in loop:
                    self.assertAlmostEqual(math.hypot(*p), radius, delta=0.1, msg=number)

    @each_plan
    def test_rings_name_their_depth(self, made):
        for ring in made.plan["grind_guide"]["rings"]:
            self.assertTrue(ring["text"])
            if ring["ply"] > 0 and ring["depth_mm"] > 0.06:
                self.assertIn("PLY", ring["text"])
                self.assertIn("DEPTH", ring["text"])

    @each_plan
    def test_the_footprint_holds_every_ring_and_template(self, made):
        outer = made.plan["grind_guide"]["footprint"]["outer"]
        for ring in made.plan["grind_guide"]["rings"]:
            for loop in ring["loops"]:
                for p in loop[::9]:
                    self.assertTrue(inside(outer, p) or to_loop(p, outer) < 0.05, ring["text"])

    def test_sections_of_the_panel_are_straight_and_of_the_cylinder_round(self):
        # Closed forms: y = 0 along both ways; across the cylinder a circle of 500 mm through the datum.
        for section in self.named("panel").plan["sections"]:
            for _, y in section["edge"]:
                self.assertAlmostEqual(y, 0.0, delta=0.01)
        for section in self.named("cylinder").plan["sections"]:
            edge = section["edge"]
            along = abs(math.cos(math.radians(section["angle_deg"]))) > 0.9  # x of the frame is the axis
            for x, y in edge:
                wanted = 0.0 if along else math.sqrt(500.0 ** 2 - x * x) - 500.0
                self.assertAlmostEqual(abs(y), abs(wanted), delta=0.05, msg=section["name"])

    @each_plan
    def test_sections_run_from_end_to_end_through_the_datum(self, made):
        for section in made.plan["sections"]:
            xs = [x for x, _ in section["edge"]]
            self.assertEqual(xs, sorted(xs))
            self.assertLess(xs[0], 0)
            self.assertGreater(xs[-1], 0)
            self.assertEqual(len(section["ends"]), 2)

    @each_plan
    def test_places_of_warnings_lie_on_the_repair(self, made):
        middle = made.plan["frame"]["middle"]
        far = max(math.dist(middle, p) for r in made.plan["footprint"]["outline_3d"] for p in r["outer"])
        for warning in made.plan["warnings"]:
            if warning["at"]:
                self.assertLess(math.dist(middle, warning["at"]), far + 60.0, warning["code"])
            if warning["ply"]:
                self.assertIn(warning["ply"], [ply["number"] for ply in made.plan["plies"]])

    @each_plan
    def test_numbers_keep_nine_digits(self, made):
        # Plan file: at least 9 significant digits. Read as text, the longest mantissas have 12.
        text = (made.folder / "plan.json").read_text(encoding="utf-8")
        self.assertEqual(json.loads(text), made.plan)
        digits = [len(n.replace(".", "").replace("-", "").lstrip("0")) for n in
                  text[text.index('"net_line"'):][:20000].replace("[", " ").replace("]", " ").replace(",", " ").split()
                  if n.replace(".", "").replace("-", "").isdigit()]
        self.assertGreaterEqual(sorted(digits)[len(digits) // 2], 9)


SPHERE_AT, SPHERE_R = (0.0, 0.0, 0.0), 600.0


if __name__ == "__main__":
    unittest.main()
