"""Run inside FreeCAD: freecadcmd -t TestTearlineObjects (see ../workbench_objects_test.py)."""
import json
import math
import os
import pathlib
import signal
import struct
import subprocess
import sys
import tempfile
import unittest

import FreeCAD
import Mesh

import sample_repair
from sample_repair import parts, vectors
from tearline_cad import api, importer
from tearline_cad.document import (ask_plan, boat_job, files, frames, job_file, job_text, keys, on_hull,
                                   plan_store, ply_file, take_hull)
from tearline_cad.document.repair import asked, is_stale, make_repair
from tearline_cad.engine import client, find_program
from tearline_cad.marking.handles import place_in_outline


class Waiting:
    """Stands in for the window: `act(question)` is called while a plan is waited for."""

    def __init__(self, act):
        self.act, self.question = act, None

    def __call__(self, question):
        self.question = question
        return self

    def tick(self):
        self.act(self.question)

    def close(self):
        pass


class Objects(unittest.TestCase):
    def setUp(self):
        self.document = FreeCAD.newDocument("Test")
        self.document.UndoMode = 1
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = pathlib.Path(temporary.name)
        self.addCleanup(self.restore)

    def restore(self):
        ask_plan.while_waiting = None
        ask_plan.forget()
        find_program.set_program("")
        for name in list(FreeCAD.listDocuments()):
            FreeCAD.closeDocument(name)

    def planned(self):
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        return repair

    # -- objects -------------------------------------------------------------------------------

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

    def test_a_mesh_serves_as_hull(self):
        repair = sample_repair.sample_repair(self.document)
        hull = self.document.addObject("Mesh::Feature", "Scan")
        hull.Mesh = Mesh.Mesh(str(sample_repair.SAMPLES / "curlew.stl"))
        repair.Hull = hull
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        plan = sample_repair.command_line_plan(repair, self.folder)
        self.assertLess(sample_repair.farthest_vertex(
            parts(repair, "ply")[0].Shape.Wires[0], plan["plies"][0]["outlines_3d"][0]["outer"]),
            0.01)

    def test_a_rough_mesh_asks_of_which_kind_of_scan_it_is(self):
        hull = take_hull.read_hull(self.document, str(sample_repair.SAMPLES / "curlew-photo.ply"), "m")
        repair = make_repair(self.document, hull)
        # Four of the points of sample-models/curlew-photo.toml.
        repair.Outline = vectors([(2758.4, 1045.1, 569.3), (2687.1, 1060.5, 640.6), (2598.0, 1055.4, 596.0),
                                  (2633.7, 1035.1, 506.9)])
        repair.Skin = 9
        self.document.recompute()
        self.assertEqual((repair.Fault, asked(repair)), ("hull.model", "ScanKind"), repair.PlanState)
        repair.ScanKind = "photo"
        self.document.recompute()
        self.assertEqual((repair.Fault, asked(repair)), ("hull.scan.tape", ""), repair.PlanState)

    def test_a_file_serves_as_hull(self):
        repair = sample_repair.sample_repair(self.document)
        repair.Hull, repair.HullFile = None, str(sample_repair.SAMPLES / "curlew.step")
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")

    def test_every_key_reaches_the_job_file(self):
        # One value that is not the start value for each kind of key; TOML read back by Python.
        import tomllib

        repair = sample_repair.sample_repair(self.document)
        repair.Stack = ["mat 450", "roving 600 @ 45 free 20"]
        repair.LeastStep, repair.Position, repair.Copies, repair.Waxed = 5, "vertical", 2, True
        repair.ResinKind, repair.HardenerParts, repair.HardenerBasis = "epoxy", [5, 1], "volume"
        repair.GelMinutes, repair.Title = 22, 'Bow "A"'
        repair.PressFirst = [FreeCAD.Vector(1, 2, 3)]
        repair.Mirror = "ends there"
        job = tomllib.loads(job_text.job_text(repair, "hull.brep"))
        self.assertEqual(job["title"], 'Bow "A"')
        self.assertEqual(job["hull"]["mirror"], False)
        self.assertEqual(job["layup"]["stack"],
                         ["mat 450", {"fabric": "roving 600", "axis": 45, "axis_free": 20}])
        self.assertNotIn("fill", job["layup"])
        self.assertEqual(job["layup"]["press_first"], [1, 2, 3])
        self.assertEqual((job["layup"]["position"], job["layup"]["copies"]), ("vertical", 2))
        self.assertEqual(job["scarf"], {"least_step": 5})
        self.assertEqual(job["resin"]["hardener_parts"], [5, 1])
        self.assertEqual(job["resin"]["gel_at"]["mass"], "100.0 g")
        self.assertEqual(len(job["damage"]["outline"]), 9)
        repair.Centred, repair.Centre = True, FreeCAD.Vector(2700, 1025.5, 432.1)
        repair.Radius, repair.Length, repair.Height, repair.Depth = 60, 200, 90, 5
        for shape, sizes in (("disc", {"radius": 60}), ("ellipse", {"length": 200, "height": 90})):
            repair.DamageShape = shape
            damage = tomllib.loads(job_text.job_text(repair, "hull.brep"))["damage"]
            self.assertEqual(damage, {"centre": [2700, 1025.5, 432.1], "depth": 5, **sizes})

    def test_a_mesh_file_in_inches_is_the_same_hull(self):
        inches = Mesh.Mesh(str(sample_repair.SAMPLES / "curlew.stl"))
        matrix = FreeCAD.Matrix()
        matrix.scale(1 / 25.4, 1 / 25.4, 1 / 25.4)
        inches.transform(matrix)
        inches.write(str(self.folder / "curlew.ply"))
        hull = take_hull.read_hull(self.document, str(self.folder / "curlew.ply"), "in")
        # 6 m long by its drawing; single precision in the file.
        self.assertAlmostEqual(hull.Mesh.BoundBox.XLength, 6000, places=2)
        self.assertEqual(take_hull.likely_ways(hull), ("+X", "+Z"))

    def test_a_file_that_is_no_hull_is_refused(self):
        with self.assertRaisesRegex(ValueError, "notes.txt is no hull file"):
            take_hull.read_hull(self.document, "/somewhere/notes.txt")

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

    # -- parametric ----------------------------------------------------------------------------

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

    # -- the hull moves ------------------------------------------------------------------------

    def first_place(self, repair):
        """The first point of the smallest ply, in the document's coordinates."""
        made = parts(repair, "ply")[0]
        outer = frames.outer_place(made)
        return outer.multVec(made.Shape.Wires[0].OrderedVertexes[0].Point)

    def stays_planned(self, repair, asked):
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertEqual(client.engine()._number, asked, "nothing is asked of the engine")

    def carried(self, repair, move, first, asked):
        self.stays_planned(repair, asked)
        # A rigid motion of the hull is one of its plies.
        self.assertLess(self.first_place(repair).distanceToPoint(move.multVec(first)), 1e-6)

    def test_a_moved_hull_carries_its_repair_along(self):
        repair = self.planned()
        first, asked = self.first_place(repair), client.engine()._number
        move = FreeCAD.Placement(FreeCAD.Vector(10, -20, 100),
                                 FreeCAD.Rotation(FreeCAD.Vector(1, 2, 3), 40))
        repair.Hull.Placement = move
        self.carried(repair, move, first, asked)
        # What is marked now is as near the hull as before: points go with it.
        self.assertEqual(on_hull.off_hull(repair.Hull, repair.Outline), [])

    def test_a_hull_is_carried_by_the_parts_it_is_in(self):
        repair = self.planned()
        first, asked = self.first_place(repair), client.engine()._number
        inner = self.document.addObject("App::Part", "Shed")
        outer = self.document.addObject("App::Part", "Yard")
        inner.addObject(repair.Hull)
        outer.addObject(inner)
        self.carried(repair, FreeCAD.Placement(), first, asked)
        turn = FreeCAD.Rotation(FreeCAD.Vector(0, 0, 1), 90)
        inner.Placement = FreeCAD.Placement(FreeCAD.Vector(0, 0, 100), turn)
        outer.Placement.Base = FreeCAD.Vector(500, 0, 0)
        move = outer.Placement * inner.Placement
        self.carried(repair, move, first, asked)
        # The repair may be put into the part as well, and is not carried twice.
        outer.addObject(repair)
        self.carried(repair, move, first, asked)
        outer.Placement.Base = FreeCAD.Vector(900, 0, 0)
        self.carried(repair, outer.Placement * inner.Placement, first, asked)

    def test_a_link_serves_as_hull(self):
        repair = self.planned()
        first = self.first_place(repair)
        link = self.document.addObject("App::Link", "Sister")
        link.LinkedObject = repair.Hull
        move = FreeCAD.Placement(FreeCAD.Vector(0, 4000, 0),
                                 FreeCAD.Rotation(FreeCAD.Vector(0, 0, 1), 30))
        link.Placement = move
        self.assertTrue(take_hull.can_be_hull(link))
        repair.Hull = link
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertLess(self.first_place(repair).distanceToPoint(move.multVec(first)), 1e-6)
        asked = client.engine()._number
        link.Placement = FreeCAD.Placement()
        self.carried(repair, FreeCAD.Placement(), first, asked)

    def test_a_hull_of_another_shape_makes_a_new_plan_or_asks_for_the_points(self):
        repair = self.planned()
        first = self.first_place(repair)
        wider = repair.Hull.Shape.copy()
        matrix = FreeCAD.Matrix()
        matrix.scale(1, 1.01, 1)  # 10 mm wider at the damage: within reach of the points
        repair.Hull.Shape = wider.transformGeometry(matrix)
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertGreater(self.first_place(repair).distanceToPoint(first), 2)
        matrix.scale(1, 1.1, 1)
        repair.Hull.Shape = wider.transformGeometry(matrix)
        self.document.recompute()
        self.assertIn("Not planned", repair.PlanState)
        off = on_hull.off_hull(repair.Hull, repair.Outline)
        self.assertGreater(len(off), 4)
        outline = list(repair.Outline)
        for number, place in off:
            outline[number] = place
        repair.Outline = outline
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")

    def test_a_file_from_before_is_taken_into_the_hulls_coordinates(self):
        # Written by hand as files were that told points in the document's coordinates.
        repair = self.planned()
        first = self.first_place(repair)
        move = FreeCAD.Placement(FreeCAD.Vector(0, 0, 100),
                                 FreeCAD.Rotation(FreeCAD.Vector(0, 0, 1), 90))
        repair.Hull.Placement = move
        repair.Outline = [move.multVec(point) for point in repair.Outline]
        repair.Bow = move.Rotation.multVec(repair.Bow)
        repair.Coordinates = ""
        name, path = repair.Name, str(self.folder / "old.FCStd")
        self.document.saveAs(path)
        FreeCAD.closeDocument(self.document.Name)
        self.document = FreeCAD.openDocument(path)
        repair = self.document.getObject(name)
        repair.touch()
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertLess(self.first_place(repair).distanceToPoint(move.multVec(first)), 0.001)

    def test_the_hull_has_one_name_before_and_after_a_save(self):
        # The plan names the model by its content; looking at a shape or saving it changes flags in it.
        repair = self.planned()
        told, name = ask_plan.job_of(repair)[1], repair.Name
        path = str(self.folder / "boat.FCStd")
        self.document.saveAs(path)
        FreeCAD.closeDocument(self.document.Name)
        self.document = FreeCAD.openDocument(path)
        repair = self.document.getObject(name)
        repair.Hull.Shape.tessellate(1.0)
        self.assertEqual(ask_plan.job_of(repair)[1], told)

    def test_a_repair_adds_less_than_a_megabyte_to_a_file(self):
        hull = sample_repair.hull_object(self.document)
        self.document.recompute()
        bare, full = self.folder / "bare.FCStd", self.folder / "full.FCStd"
        self.document.saveAs(str(bare))
        self.document.removeObject(hull.Name)
        self.planned()
        self.document.saveAs(str(full))
        self.assertLess(full.stat().st_size - bare.stat().st_size, 1e6)

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

    # -- save, reopen, undo --------------------------------------------------------------------

    def test_reopened_without_the_engine(self):
        repair = self.planned()
        name, wires = repair.Name, [made.Shape.Length for made in parts(repair, "ply")]
        path = str(self.folder / "boat.FCStd")
        self.document.saveAs(path)
        FreeCAD.closeDocument(self.document.Name)
        client.engine().stop()
        find_program.set_program("/nowhere/tearline")
        document = FreeCAD.openDocument(path)
        repair = document.getObject(name)
        self.assertEqual(repair.PlanState, "Planned")
        for made, length in zip(parts(repair, "ply"), wires, strict=True):
            self.assertAlmostEqual(made.Shape.Length, length, places=6)
        repair.touch()
        document.recompute()
        self.assertTrue(repair.isValid(), repair.PlanState)
        self.assertIsNone(client.engine().pid)
        repair.Ratio = 10
        document.recompute()
        self.assertIn("/nowhere/tearline", repair.PlanState)
        self.assertEqual(len(parts(repair, "ply")), 8)
        find_program.set_program("")
        repair.touch()
        document.recompute()
        self.assertEqual(repair.PlanState, "Planned")

    def test_saved_documents_name_the_classes_that_they_always_named(self):
        # The names in documents saved so far, which have to open for good.
        self.planned()
        path = str(self.folder / "boat.FCStd")
        self.document.saveAs(path)
        self.assertEqual(sample_repair.classes_in(path, "Document.xml"),
                         {"document.repair.Repair", "document.plies.MadeByRepair"})

    def test_a_change_is_undone_and_redone_in_one_step(self):
        repair = self.planned()
        before = (repair.PlyCount, repair.Resin, len(self.document.Objects))
        self.document.openTransaction("Depth")
        repair.Depth = 3
        self.document.recompute()
        self.document.commitTransaction()
        after = (repair.PlyCount, repair.Resin, len(self.document.Objects))
        self.assertNotEqual(before, after)
        self.document.undo()
        self.assertEqual((repair.PlyCount, repair.Resin, len(self.document.Objects)), before)
        self.assertEqual(len(parts(repair, "ply")), 8)
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.document.redo()
        self.assertEqual((repair.PlyCount, repair.Resin, len(self.document.Objects)), after)

    def test_making_a_repair_is_undone_in_one_step(self):
        hull = sample_repair.hull_object(self.document)
        self.document.recompute()
        self.document.openTransaction("Repair")
        repair = make_repair(self.document, hull)
        repair.Outline = vectors(sample_repair.OUTLINE)
        self.document.recompute()
        self.document.commitTransaction()
        self.assertGreater(len(self.document.Objects), 15)
        self.document.undo()
        self.assertEqual([each.Name for each in self.document.Objects], [hull.Name])

    # -- job files -----------------------------------------------------------------------------

    @staticmethod
    def simple(value, key=""):
        """A value of a job file whatever it was written with: lengths in mm, masses in g."""
        if isinstance(value, dict):
            return {name: Objects.simple(each, name) for name, each in value.items()}
        if isinstance(value, list):
            return [Objects.simple(each) for each in value]
        if isinstance(value, str) and value[:1].isdigit():
            number, _, unit = value.partition(" ")
            factor = {"mm": 1, "in": 25.4, "mil": 0.0254, "m": 1000, "kg": 1000}.get(unit, 1)
            if not unit or unit in ("mm", "in", "mil", "m", "kg", "g", "g/m2", "MPa"):
                return round(float(number) * factor, 9)
        return round(float(value), 9) if type(value) in (int, float) else value

    def test_nothing_of_a_job_file_is_lost(self):
        # Read back by Python's own TOML reader; what is at its default may be left out.
        import tomllib

        defaults = {(key.table, key.key): keys.defaults_of(key).get("") for key in keys.KEYS}
        found = sorted(sample_repair.SAMPLES.glob("*.toml"))
        self.assertGreater(len(found), 8)
        for path in found:
            with self.subTest(path.name):
                job = tomllib.loads(path.read_text(encoding="utf-8"))
                if "model" not in job["hull"]:
                    with self.assertRaisesRegex(job_file.Unreadable, "names no hull.model"):
                        job_file.open_job(self.document, str(path))
                    continue
                repair = job_file.open_job(self.document, str(path))
                again = tomllib.loads(job_text.job_text(repair, job["hull"]["model"],
                                                        job["hull"].get("unit", "")))
                again.pop("display_units", None) if "display_units" not in job else None
                for table, content in job.items():
                    self.compare(table, content, again.get(table), defaults)
                # Nothing is said that was not there, but what the start of the list of cloths may be.
                for table in again:
                    self.assertIn(table, [*job, "title", "tearline"])

    def compare(self, table, content, told, defaults):
        if not isinstance(content, dict):
            self.assertEqual(self.simple(told), self.simple(content), table)
            return
        for key, value in content.items():
            now = (told or {}).get(key)
            if now is None and (table, key) in defaults:
                now = defaults[table, key]
                now = [ply["fabric"] for ply in now] if key in ("fill", "cover") else now
            if key in ("fill", "cover", "stack") and isinstance(value, str):
                value = [value]
            self.assertEqual(self.simple(now), self.simple(value), f"{table}.{key}")

    def test_a_job_file_is_planned_as_the_command_line_does(self):
        for name in ("curlew", "curlew-cored"):
            repair = api.open_job(self.document, sample_repair.SAMPLES / f"{name}.toml")
            plan = api.plan(repair)
            out = self.folder / name
            environment = {key: value for key, value in os.environ.items()
                           if key not in ("PYTHONPATH", "LD_LIBRARY_PATH")}
            subprocess.run([os.environ["TEARLINE"], "plan",
                            str(sample_repair.SAMPLES / f"{name}.toml"), "-o", str(out)],
                           check=True, capture_output=True, env=environment)
            wanted = json.loads((out / "plan.json").read_text(encoding="utf-8"))
            self.assertEqual([ply["fabric"] for ply in plan["plies"]],
                             [ply["fabric"] for ply in wanted["plies"]])
            # The hull goes through FreeCAD's own reader; as curves within 0.1 mm (DEFINITIONS.md).
            self.assertAlmostEqual(plan["totals"]["resin_g"] / wanted["totals"]["resin_g"], 1, 4)

    def test_every_kind_of_ply_is_read(self):
        # The same four corners and two faces, one of four corners, in text and in bytes of either order.
        points = [(0.5, 0.0, 1.25), (10.0, 0.0, 0.0), (10.0, 10.0, -3.5), (0.0, 10.0, 0.0)]
        head = ("element vertex 4\ncomment own\nproperty {0} x\nproperty {0} y\nproperty {0} z\nproperty uchar red\n"
                "element face 2\nproperty list uchar {1} vertex_indices\nend_header\n")
        text = "ply\nformat ascii 1.0\n" + head.format("float", "int") + "".join(
            f"{x} {y} {z} 7\n" for x, y, z in points) + "3 0 1 2\n4 0 1 2 3\n"
        made = {"ascii": text.encode()}
        for kind, order in (("little", "<"), ("big", ">")):
            for number, whole, names in (("f", "H", ("float", "ushort")), ("d", "i", ("double", "int"))):
                made[kind + number] = (f"ply\nformat binary_{kind}_endian 1.0\n" + head.format(*names)).encode() + b"".join(
                    struct.pack(order + 3 * number + "B", *point, 7) for point in points) + struct.pack(
                        order + "B3" + whole, 3, 0, 1, 2) + struct.pack(order + "B4" + whole, 4, 0, 1, 2, 3)
        for name, data in made.items():
            with self.subTest(name):
                path = self.folder / f"{name}.ply"
                path.write_bytes(data)
                told, faces = ply_file.read(path)
                self.assertEqual([tuple(point) for point in told], points)
                self.assertEqual(faces.tolist(), [[0, 1, 2], [0, 1, 2], [0, 2, 3]])
                path.write_bytes(data[:-3])
                with self.assertRaises(ply_file.NotPly):
                    ply_file.read(path)

    def test_a_stack_that_is_taken_over_stands_instead_of_the_fill_and_the_other_way_round(self):
        # core/job: "give stack or fill, not both".
        repair = sample_repair.sample_repair(self.document)
        told = {f"{key.table}.{key.key}": key for key in keys.KEYS}
        repair.Fill = ["mat 600"]
        self.assertTrue(job_file.take_value(repair, told["layup.stack"], ["mat 450", "roving 600"]))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), (["mat 450", "roving 600"], ["mat 450"]))
        self.assertTrue(job_file.take_value(repair, told["layup.fill"], "mat 300"))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), ([], ["mat 300"]))
        self.assertTrue(job_file.take_value(repair, told["scarf.ratio"], 15))
        self.assertEqual((list(repair.Stack), list(repair.Fill)), ([], ["mat 300"]))

    def test_a_boat_is_planned_as_each_of_its_repairs(self):
        first = self.planned()
        second = make_repair(self.document, first.Hull, "Fender: rub, starboard")
        second.DamageShape, second.Centred = "ellipse", True
        second.Centre, second.Length, second.Height = FreeCAD.Vector(3600, -960.7, 450), 240, 90
        second.Depth, second.Skin = 2.2, 9
        self.document.recompute()
        job = self.folder / "boat.toml"
        boat_job.save([first, second], "Curlew", str(job))
        environment = {key: value for key, value in os.environ.items()
                       if key not in ("PYTHONPATH", "LD_LIBRARY_PATH")}
        subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(self.folder / "boat")], check=True,
                       capture_output=True, env=environment)
        boat = json.loads((self.folder / "boat" / "plan.json").read_text(encoding="utf-8"))
        for told, repair in zip(boat["repairs"], (first, second)):
            self.assertAlmostEqual(told["totals"]["resin_g"], repair.Resin, places=6)
        self.assertEqual([each["name"] for each in boat["repairs"]], ["Port-chine", "Fender-rub-starboard"])
        second.Temperature = 25
        with self.assertRaisesRegex(boat_job.Differ, r"differ in \[shop\].*temperature = 25.0"):
            boat_job.save([first, second], "Curlew", str(job))

    def test_what_python_is_offered_does_what_it_says(self):
        repair = api.new_repair(self.document, sample_repair.hull_object(self.document),
                                vectors(sample_repair.OUTLINE), "Port chine")
        self.assertEqual(len(api.plan(repair)["plies"]), repair.PlyCount)
        self.assertTrue(os.path.isfile(os.path.join(
            api.write(repair, self.folder / "out"), "job-sheet.html")))
        api.save_job(repair, self.folder / "again.toml")
        again = api.open_job(self.document, self.folder / "again.toml")
        self.assertAlmostEqual(api.plan(again)["totals"]["resin_g"], repair.Resin, 3)
        repair.ResinKind = "epoxy"
        with self.assertRaisesRegex(api.NotPlanned, "hardener_parts"):
            api.plan(repair)
        with self.assertRaisesRegex(api.NotPlanned, "there is no file|No such file"):
            api.open_job(self.document, self.folder / "none.toml")

    def test_freecad_itself_opens_and_writes_job_files(self):
        for name in list(FreeCAD.listDocuments()):
            FreeCAD.closeDocument(name)
        self.assertIn("tearline_cad.importer", FreeCAD.getImportType("toml"))
        importer.open(str(sample_repair.SAMPLES / "curlew.toml"))
        repair = next(each for each in FreeCAD.ActiveDocument.Objects
                      if hasattr(each, "PlannedJob"))
        self.assertEqual(repair.PlanState, "Planned")
        importer.export([repair], str(self.folder / "out.toml"))
        self.assertIn("[damage]", (self.folder / "out.toml").read_text(encoding="utf-8"))

    # -- the add-on ----------------------------------------------------------------------------

    def test_package_xml_is_read_by_freecads_own_parser(self):
        told = FreeCAD.Metadata(str(sample_repair.SAMPLES.parent / "cad-plugin" / "package.xml"))
        self.assertEqual(told.Name, "Tearline")
        self.assertEqual(told.License[0]["file"], "LICENSE")
        self.assertTrue(told.Maintainer[0]["email"])
        self.assertIn("repository", [each["type"] for each in told.Urls])
        self.assertEqual(told.Content["workbench"][0].Classname, "TearlineWorkbench")
        self.assertTrue(told.Content["workbench"][0].FreeCADMin)

    # -- the engine ----------------------------------------------------------------------------

    def test_without_an_engine_it_says_what_to_do(self):
        client.engine().stop()
        find_program.set_program("/nowhere/tearline")
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertIn("There is no program at /nowhere/tearline", repair.PlanState)
        self.assertIn("Engine...", repair.PlanState)

    def test_a_program_that_is_no_engine_is_refused(self):
        client.engine().stop()
        find_program.set_program("/bin/true")
        repair = sample_repair.sample_repair(self.document)
        self.document.recompute()
        self.assertIn("not an engine", repair.PlanState)

    def test_an_engine_killed_in_the_middle_starts_again(self):
        repair = self.planned()
        killed = []

        def kill(question):
            if question.progress[0].startswith("ply") and not killed:
                killed.append(client.engine().pid)
                os.kill(killed[0], signal.SIGKILL)

        ask_plan.while_waiting = Waiting(kill)
        repair.Ratio = 10
        self.document.recompute()
        self.assertTrue(killed)
        self.assertIn("signal 9", repair.PlanState)
        self.assertEqual(len(parts(repair, "ply")), 8)
        ask_plan.while_waiting = None
        repair.touch()
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertNotEqual(client.engine().pid, killed[0])

    def test_a_plan_is_cancelled_and_the_old_one_stays(self):
        repair = self.planned()
        resin = repair.Resin

        def cancel(question):
            if question.progress[0].startswith("ply"):
                client.engine().cancel(question)

        ask_plan.while_waiting = Waiting(cancel)
        repair.Ratio = 10
        self.document.recompute()
        self.assertIn("stopped as asked", repair.PlanState)
        self.assertEqual(repair.Resin, resin)

    def test_what_waits_behind_a_plan_that_does_not_stop_is_asked_of_the_next_engine(self):
        repair = self.planned()
        engine, patience = client.engine(), client.CANCEL_PATIENCE
        client.CANCEL_PATIENCE = 0.2
        self.addCleanup(setattr, client, "CANCEL_PATIENCE", patience)
        first = engine.pid
        os.kill(first, signal.SIGSTOP)
        stopped = ask_plan.ask("plan", repair.PlannedJob)
        engine.cancel(stopped)
        answered = ask_plan.ask("plan", repair.PlannedJob)
        header, _ = engine.wait_for(answered, at_most=60)
        self.assertTrue(header["ok"])
        self.assertNotEqual(engine.pid, first)
        with self.assertRaisesRegex(client.Refused, "stopped as asked"):
            stopped.result()

    def test_the_packagings_own_libraries_are_kept_from_the_engine(self):
        os.environ["LD_LIBRARY_PATH"] = "/nowhere"
        self.addCleanup(os.environ.pop, "LD_LIBRARY_PATH")
        self.assertNotIn("LD_LIBRARY_PATH", find_program.clean_environment())

    def test_files_are_written(self):
        repair = self.planned()
        out = self.folder / "cut"
        question = files.write_files(repair, out, ["svg", "dxf", "hpgl"])
        client.engine().wait_for(question)
        for name in ("templates/1A.svg", "templates.dxf", "templates.plt", "job-sheet.html"):
            self.assertTrue((out / name).is_file(), name)
