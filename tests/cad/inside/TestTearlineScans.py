"""Run inside FreeCAD: freecadcmd -t TestTearlineScans (see ../workbench_objects_test.py)."""
import math

import FreeCAD

import ground_scan
from document_case import DocumentCase
from sample_repair import plan_of_job
from tearline_cad import api
from tearline_cad.document import ground_scans, point_file, tables, take_hull, toml


class GroundScans(DocumentCase):
    def reaches(self, plan):
        return [math.sqrt(ply["surface_area_mm2"] / math.pi) for ply in plan["plies"]]

    def test_a_job_with_a_scan_is_planned_as_the_command_line_does(self):
        """Closed form for the floor; the command line for the rest. FreeCAD's points are floats: 1e-5 mm of these."""
        job = ground_scan.write(self.folder)
        plan = api.plan(api.open_job(self.document, job))
        self.assertTrue([w for w in plan["warnings"] if w["code"] == "depth-taken"], "the depth is the scan's")
        told = plan_of_job(job, self.folder / "told")
        self.assertEqual(len(plan["plies"]), len(told["plies"]))
        for mine, its in zip(self.reaches(plan), self.reaches(told)):
            self.assertAlmostEqual(mine, its, delta=0.01)
        self.assertAlmostEqual(self.reaches(plan)[0], ground_scan.FLOOR, delta=12 * 0.8)  # half a ply over the floor

    def test_what_is_saved_is_planned_alike(self):
        repair = api.open_job(self.document, ground_scan.write(self.folder))
        self.assertEqual([mark["name"] for mark in tables.all_of(repair, tables.MARKS)], ["A", "B", "C"])
        plan = api.plan(repair)
        away = self.folder / "away"
        away.mkdir()
        api.save_job(repair, away / "job.toml")
        for mine, its in zip(self.reaches(plan), self.reaches(plan_of_job(away / "job.toml", away / "told"))):
            self.assertAlmostEqual(mine, its, delta=1e-6)
        again = api.open_job(FreeCAD.newDocument("Again"), away / "job.toml")
        marks = tables.all_of(again, ground_scans.SCAN)[0]["marks"]
        for name, at in ground_scan.MARKS.items():
            self.assertLess(FreeCAD.Vector(*marks[name]).distanceToPoint(ground_scan.MOVED.multVec(at)), 0.01)

    def test_a_scan_goes_with_its_table_and_comes_again(self):
        repair = api.open_job(self.document, ground_scan.write(self.folder))
        self.document.recompute()
        name = repair.Scans[0].Name
        self.document.openTransaction("Take a scan away")
        ground_scans.remove(repair, ground_scans.SCAN, 0)
        self.document.commitTransaction()
        self.assertIsNone(self.document.getObject(name))
        self.assertEqual((repair.Scans, tables.all_of(repair, ground_scans.SCAN)), ([], []))
        self.document.undo()
        self.assertEqual([each.Name for each in repair.Scans], [name])
        self.assertEqual(tables.all_of(repair, ground_scans.SCAN)[0]["model"], name)

    def test_a_missing_scan_is_told_and_leaves_nothing(self):
        job = ground_scan.write(self.folder)
        (self.folder / "ground.xyz").unlink()
        with self.assertRaisesRegex(api.NotPlanned, r"damage\.scan\.model: there is no file .*ground\.xyz"):
            api.open_job(self.document, job)
        self.assertEqual(self.document.Objects, [])

    def test_a_file_that_cannot_be_read_is_told_and_leaves_nothing(self):
        for name, text, words in (("a.xyz", "1 2\n", "line 1: must begin"), ("a.ply", "no ply", "a.ply"),
                                  ("a.stl", "solid a\nendsolid a\n", "a.stl"), ("a.step", "nothing", "a.step"),
                                  ("a.txt", "1 2 3\n", "no hull file")):
            (self.folder / name).write_text(text)
            with self.assertRaisesRegex(ValueError, words):
                take_hull.read_hull(self.document, str(self.folder / name))
        self.assertEqual(self.document.Objects, [])

    def test_points_are_read_as_the_engine_reads_them(self):
        """The same two points however they are written, by the rules of core/hull/read_points.cpp."""
        for text in ("1.5 2 3\n4 5.25 6\n", "1,5;2;3\n4;5,25;6\n", "1,5 2,0 3,0\n4,0 5,25 6,0\n", "1.5,2,3\n4,5.25,6\n",
                     '\ufeffNo;"X [m]";Y;Z;red\n1;"1,5";2;3;9\n2;4;5,25;6;9\n', "2\n# scan\n1.5 2 3 0.4\n4 5.25 6 0.1\n"):
            self.assertEqual(point_file.rows_of(text.splitlines(True)).tolist(), [[1.5, 2, 3], [4, 5.25, 6]], text)
        for text, words in (("1 2 3\n1,000.5 2 3\n\n4 5\n", "line 4"), ("x,z,y\n1,2,3\n", "y and z do not follow"),
                            ("1 2 nan\n1 2 3", "line 1"), ("# nothing\n", "no point"), ("a b c\nd e f\ng h i\nj k l\n", "line 4")):
            with self.assertRaisesRegex(ValueError, words):
                point_file.rows_of(text.splitlines(True))

    def test_an_inline_table_is_read_as_it_is_written(self):
        for value in ({"A": [1.5, -2.0, 3e-05], "B 2": [0.0, 0.0, 1.0]}, {}, [1.0], "a = b", True):
            self.assertEqual(toml.read(toml.written(value)), value)
        self.assertEqual(toml.read("{A=[1, 2, 3],b-2 = [4,5,6]}"), {"A": [1, 2, 3], "b-2": [4, 5, 6]})
        self.assertEqual(toml.read("1979-05-27"), "1979-05-27")
