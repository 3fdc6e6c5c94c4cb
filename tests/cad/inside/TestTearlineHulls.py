"""What serves as hull, and a hull that moves or changes.

Run inside FreeCAD: freecadcmd -t TestTearlineHulls (see ../workbench_objects_test.py).
"""
import struct

import FreeCAD
import Mesh

import sample_repair
from document_case import DocumentCase
from sample_repair import first_place, parts, vectors
from tearline_cad.document import on_hull, ply_file, take_hull
from tearline_cad.document.repair import asked, make_repair
from tearline_cad.engine import client


class Hulls(DocumentCase):
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

    def stays_planned(self, repair, asked):
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertEqual(client.engine()._number, asked, "nothing is asked of the engine")

    def carried(self, repair, move, first, asked):
        self.stays_planned(repair, asked)
        # A rigid motion of the hull is one of its plies.
        self.assertLess(first_place(repair).distanceToPoint(move.multVec(first)), 1e-6)

    def test_a_moved_hull_carries_its_repair_along(self):
        repair = self.planned()
        first, asked = first_place(repair), client.engine()._number
        move = FreeCAD.Placement(FreeCAD.Vector(10, -20, 100),
                                 FreeCAD.Rotation(FreeCAD.Vector(1, 2, 3), 40))
        repair.Hull.Placement = move
        self.carried(repair, move, first, asked)
        # What is marked now is as near the hull as before: points go with it.
        self.assertEqual(on_hull.off_hull(repair.Hull, repair.Outline), [])

    def test_a_hull_is_carried_by_the_parts_it_is_in(self):
        repair = self.planned()
        first, asked = first_place(repair), client.engine()._number
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
        first = first_place(repair)
        link = self.document.addObject("App::Link", "Sister")
        link.LinkedObject = repair.Hull
        move = FreeCAD.Placement(FreeCAD.Vector(0, 4000, 0),
                                 FreeCAD.Rotation(FreeCAD.Vector(0, 0, 1), 30))
        link.Placement = move
        self.assertTrue(take_hull.can_be_hull(link))
        repair.Hull = link
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertLess(first_place(repair).distanceToPoint(move.multVec(first)), 1e-6)
        asked = client.engine()._number
        link.Placement = FreeCAD.Placement()
        self.carried(repair, FreeCAD.Placement(), first, asked)

    def test_a_hull_of_another_shape_makes_a_new_plan_or_asks_for_the_points(self):
        repair = self.planned()
        first = first_place(repair)
        wider = repair.Hull.Shape.copy()
        matrix = FreeCAD.Matrix()
        matrix.scale(1, 1.01, 1)  # 10 mm wider at the damage: within reach of the points
        repair.Hull.Shape = wider.transformGeometry(matrix)
        self.document.recompute()
        self.assertEqual(repair.PlanState, "Planned")
        self.assertGreater(first_place(repair).distanceToPoint(first), 2)
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
