"""What is made of a plan: plies, templates, guide, and how they follow the repair.

Run inside FreeCAD: freecadcmd -t TestTearlinePlans (see ../workbench_objects_test.py).
"""
import math
import sys

import FreeCAD

import sample_repair
from document_case import DocumentCase
from sample_repair import parts
from tearline_cad.document import ask_plan, keys, plan_store
from tearline_cad.document.repair import is_stale, make_repair
from tearline_cad.engine import client
from tearline_cad.marking.handles import place_in_outline


class Plans(DocumentCase):
    def test_plies_are_wires_of_the_command_lines_plan(self):
        repair = self.planned()
        plan = sample_repair.command_line_plan(repair, self.folder)
        plies = parts(repair, "ply")
        self.assertEqual(len(plies), len(plan["plies"]))
        for made, ply in zip(plies, plan["plies"]):
            self.assertEqual((made.Number, made.Fabric), (ply["number"], ply["fabric"]))
            self.assertLess(sample_repair.farthest_vertex(
                made.Shape.Wires[0], ply["outlines_3d"][0]["outer"]), 0.01)
        templates = parts(repair, "template")
        pieces = [piece for ply in plan["plies"] for piece in ply["pieces"]]
        self.assertEqual([made.Piece for made in templates], [piece["id"] for piece in pieces])
        for made, piece in zip(templates, pieces):
            flat = made.Shape.copy()
            flat.Placement = FreeCAD.Placement()
            self.assertLess(sample_repair.farthest_vertex(flat.Wires[0], piece["net_line"]), 0.01)
            self.assertLess(sample_repair.farthest_vertex(flat.Wires[1], piece["tear_line"]), 0.01)
        self.assertAlmostEqual(repair.Resin, plan["totals"]["resin_g"], places=6)
        self.assertAlmostEqual(repair.GlassArea.Value, plan["totals"]["glass_area_m2"] * 1e6,
                               places=3)

    def test_a_ring_of_the_guide_is_one_edge_as_long_as_its_line(self):
        repair = self.planned()
        plan = plan_store.plan(repair)
        shape = parts(repair, "grind guide")[0].Shape
        loops = [loop for ring in plan["grind_guide"]["rings"] for loop in ring["loops"]]
        rings = [edge for edge in shape.Edges if edge.Curve.TypeId == "Part::GeomBSplineCurve"]
        self.assertEqual(len(rings), len(loops))
        for edge, loop in zip(rings, loops):
            self.assertTrue(edge.isClosed())
            around = sum(math.dist(one, other) for one, other in zip(loop, [*loop[1:], loop[0]]))
            self.assertAlmostEqual(edge.Length, around, places=3)

    def test_templates_lie_beside_each_other(self):
        repair = self.planned()
        boxes = [made.Shape.BoundBox for made in parts(repair, "template")
                 + parts(repair, "grind guide")]
        for index, box in enumerate(boxes):
            for other in boxes[:index]:
                self.assertFalse(box.intersect(other))
            self.assertFalse(box.intersect(repair.Hull.Shape.BoundBox))

    def test_a_new_repair_asks_for_the_damage_and_is_no_error(self):
        repair = make_repair(self.document, sample_repair.hull_object(self.document))
        self.document.recompute()
        self.assertTrue(repair.isValid())
        self.assertIn("Mark the damage", repair.PlanState)

    def test_disc_and_ellipse_are_planned_as_the_command_line_does(self):
        repair = self.planned()
        for shape in ("disc", "ellipse"):
            repair.DamageShape, repair.Centred = shape, True
            repair.Centre = FreeCAD.Vector(2700, 1025.5, 432.1)
            repair.Radius, repair.Length, repair.Height = 60, 200, 90
            self.document.recompute()
            self.assertEqual(repair.PlanState, "Planned")
            folder = self.folder / shape
            folder.mkdir()
            plan = sample_repair.command_line_plan(repair, folder)
            self.assertLess(sample_repair.farthest_vertex(
                parts(repair, "outlines")[0].Shape.Wires[0], plan["damage"]["outline_3d"]), 0.01)

    def test_a_new_point_goes_between_its_neighbours(self):
        # A circle of 100 points through 4 corners, whichever way round the curve runs.
        circle = [FreeCAD.Vector(math.cos(a), math.sin(a), 0)
                  for a in (2 * math.pi * k / 100 for k in range(100))]
        corners = [circle[k] for k in (10, 35, 60, 85)]
        for curve in (circle, circle[::-1]):
            for at, index in ((20, 1), (50, 2), (70, 3), (95, 4), (5, 4)):
                self.assertEqual(place_in_outline(corners, curve, circle[at]), index)

    def test_without_a_window_nothing_of_the_window_is_loaded(self):
        self.assertNotIn("FreeCADGui", sys.modules)
        self.assertNotIn("pivy", sys.modules)

    def test_a_changed_property_makes_a_new_plan(self):
        repair = self.planned()
        before = [made.EdgeOffset.Value for made in parts(repair, "ply")]
        repair.Ratio = 8
        self.document.recompute()
        after = [made.EdgeOffset.Value for made in parts(repair, "ply")]
        # Smallest first: the edge of ply 1 lies ratio x thickness outside (DEFINITIONS.md, Edges).
        self.assertAlmostEqual(after[0] / before[0], 8 / 12)
        repair.Depth = 3
        self.document.recompute()
        self.assertEqual(len(parts(repair, "ply")), repair.PlyCount)
        self.assertLess(repair.PlyCount, len(before))
        self.assertEqual(len(parts(repair, "template")), repair.PlyCount)

    def test_a_refusal_names_the_key_and_not_our_files(self):
        repair = self.planned()
        repair.ResinKind = "epoxy"
        self.document.recompute()
        self.assertIn("hardener", repair.PlanState)
        self.assertNotIn("/tmp", repair.PlanState)
        self.assertEqual(repair.Fault, "resin.hardener_parts")
        self.assertTrue(is_stale(repair))
        with self.assertRaises(client.Refused) as refused:
            ask_plan.plan_of(ask_plan.job_of(repair)[0])
        self.assertEqual(refused.exception.key, "resin.hardener_parts")
        self.assertEqual(keys.property_of(refused.exception.key), "HardenerParts")
        self.assertEqual(keys.property_of("damage.outline[2]"), "")

    def test_templates_of_a_plan_left_behind_are_crossed_out_until_there_is_a_new_one(self):
        repair = self.planned()
        counts = [len(made.Shape.Edges) for made in parts(repair, "template")]
        repair.ResinKind = "epoxy"
        self.document.recompute()
        # Two strokes across each, in its own lines: in print and in whatever it is exported to.
        self.assertEqual([len(made.Shape.Edges) for made in parts(repair, "template")],
                         [count + 2 for count in counts])
        repair.ResinKind = "polyester"
        self.document.recompute()
        self.assertEqual([len(made.Shape.Edges) for made in parts(repair, "template")], counts)
        self.assertFalse(is_stale(repair))

    def test_plies_of_a_plan_left_behind_are_crossed_out_wherever_they_go(self):
        repair = self.planned()
        made = [*parts(repair, "ply"), *parts(repair, "outlines")]
        counts = [len(each.Shape.Edges) for each in made]
        lines = [len(each.Shape.Wires) for each in made]
        repair.ResinKind = "epoxy"
        self.document.recompute()
        self.assertEqual([len(each.Shape.Edges) for each in made],
                         [count + 2 * closed for count, closed in zip(counts, lines)])
        for ply in made[:-1]:
            # Each stroke reaches from edge to edge: longer together than the ply is wide and high.
            box, strokes = ply.Shape.Wires[0].BoundBox, ply.Shape.Wires[-2:]
            self.assertGreater(sum(stroke.Length for stroke in strokes), box.DiagonalLength)
        repair.ResinKind = "polyester"
        self.document.recompute()
        self.assertEqual([len(each.Shape.Edges) for each in made], counts)

    def test_a_result_that_is_not_known_is_not_shown(self):
        repair = self.planned()
        self.assertNotIn("Hidden", repair.getEditorMode("Hardener"))
        self.assertGreater(repair.Hardener, 0)
        repair.ResinKind, repair.HardenerParts, repair.HardenerBasis = "epoxy", [5, 1], "volume"
        repair.GelMinutes = 22
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        totals = plan_store.plan(repair)["totals"]
        for name, figure in (("Hardener", "hardener_g"), ("HardenerVolume", "hardener_mL"), ("Topcoat", "topcoat_g")):
            self.assertEqual("Hidden" in repair.getEditorMode(name), totals[figure] is None, name)
        self.assertIn(None, [totals["hardener_g"], totals["hardener_mL"], totals["topcoat_g"]])

    def test_no_label_ends_in_a_figure_that_could_be_counted_up(self):
        repair = self.planned()
        other = self.document.addObject("App::FeaturePython", "Other")
        other.Label = parts(repair, "ply")[0].Label
        self.assertIn("mat 450", other.Label)
        self.assertNotIn("mat 451", other.Label)

    def test_several_repairs_share_a_hull(self):
        first = self.planned()
        second = make_repair(self.document, first.Hull, "Starboard topside")
        second.DamageShape, second.Centred = "disc", True
        second.Centre, second.Radius, second.Depth = FreeCAD.Vector(2700, -1025.5, 432.1), 60, 3
        self.document.recompute()
        self.assertEqual((first.PlanState, second.PlanState), ("Planned", "Planned"))
        self.assertEqual(first.PlyCount, 8)
        self.assertEqual(len(parts(second, "ply")), second.PlyCount)
        boxes = [made.Shape.BoundBox for repair in (first, second)
                 for made in parts(repair, "template")]
        for index, box in enumerate(boxes):
            self.assertFalse(any(box.intersect(other) for other in boxes[:index]))

    def test_children_are_named_after_their_repair(self):
        repair = self.planned()
        self.document.openTransaction("Rename")
        repair.Label = "Bow thruster"
        self.document.commitTransaction()
        self.assertEqual(parts(repair, "ply")[0].Label, "Bow thruster, ply 1 (mat 450)")
        self.assertEqual(parts(repair, "template")[1].Label, "Bow thruster, template 2A (mat 450)")
        folder = next(each for each in repair.Group if each.Name.startswith("Templates"))
        self.assertEqual(folder.Label, "Bow thruster, templates")
        self.document.undo()
        self.assertEqual(parts(repair, "ply")[0].Label, "Port chine, ply 1 (mat 450)")
