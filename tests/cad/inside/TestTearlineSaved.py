"""Saved, reopened, undone.

Run inside FreeCAD: freecadcmd -t TestTearlineSaved (see ../workbench_objects_test.py).
"""
import FreeCAD

import sample_repair
from document_case import DocumentCase
from sample_repair import first_place, parts, vectors
from tearline_cad.document import ask_plan, belonging, hull_file
from tearline_cad.document import repair as repair_module
from tearline_cad.document.repair import make_repair
from tearline_cad.engine import client, find_program


class Saved(DocumentCase):
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

    def test_a_file_from_before_is_taken_into_the_hulls_coordinates(self):
        # Written by hand as files were that told points in the document's coordinates.
        repair = self.planned()
        first = first_place(repair)
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
        self.assertLess(first_place(repair).distanceToPoint(move.multVec(first)), 0.001)

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

    def asks_for_a_hull(self, repair, hull, words):
        repair.Hull = hull
        self.document.recompute()
        self.assertTrue(repair.isValid(), repair.PlanState)
        self.assertIn(words, repair.PlanState)

    def test_a_hull_that_was_deleted_is_asked_for_and_may_come_back(self):
        repair = self.planned()
        hull = repair.Hull
        self.document.openTransaction("Delete")
        self.document.removeObject(hull.Name)
        self.document.commitTransaction()
        self.assertIsNone(belonging.document_of(hull))
        # Also where a macro names it though it is gone.
        for named in (None, hull):
            self.asks_for_a_hull(repair, named, "Take a hull")
        for watcher, prop in ((repair_module._watcher, "Placement"), (hull_file._watcher, "Mesh")):
            watcher.slotChangedObject(hull, prop)
        repair.Hull = None
        self.document.undo()
        self.document.recompute()
        self.assertEqual((repair.Hull.Label, repair.PlanState), ("Curlew", "Planned"))

    def test_a_hull_that_holds_nothing_is_refused_in_words(self):
        repair = self.planned()
        hull = repair.Hull
        for kind, words in (("Part::Feature", "holds no surface"), ("Mesh::Feature", "is an empty mesh"),
                            ("Points::Feature", "holds no points"), ("App::FeaturePython", "is neither a shape")):
            with self.subTest(kind):
                self.asks_for_a_hull(repair, self.document.addObject(kind, "Empty"), words)
        self.asks_for_a_hull(repair, hull, "Planned")
