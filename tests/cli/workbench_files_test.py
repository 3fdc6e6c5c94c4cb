#!/usr/bin/env python3
"""Files that the workbench reads by itself, without its engine: points and PLY. A second route is the engine, which
reads the same files: what it shows of them on a page (`tearline look`) is where they have to lie. What both can only
read wrongly, both refuse."""
import os
import pathlib
import random
import struct
import subprocess
import sys
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ["TEARLINE_SOURCE"])
sys.path[:0] = [str(SOURCE / "cad-plugin"), str(SOURCE / "tests" / "support")]
from system_python import module  # noqa: E402

numpy = module("numpy")
import looked_at  # noqa: E402
from tearline_cad.engine import words  # noqa: E402

sys.modules["tearline_cad.document.words"] = words  # which asks FreeCAD for its language
from tearline_cad.document import ply_file, point_file  # noqa: E402

START = 20261130


class InAFolder(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.temporary.name)

    def tearDown(self):
        self.temporary.cleanup()

    def written(self, name, data):
        path = self.folder / name
        path.write_bytes(data if isinstance(data, bytes) else data.encode())
        return path

    def by_the_engine(self, path):
        """(places, corners) as the engine reads them, or its refusal as text."""
        page = path.with_suffix(".html")
        page.unlink(missing_ok=True)
        done = subprocess.run([os.environ["TEARLINE"], "look", path, "--unit", "mm", "--scan", "light", "-o", page],
                              capture_output=True, text=True, check=False)
        if done.returncode != 0:
            self.assertEqual(done.returncode, 3, done.stderr)
            return done.stderr
        data = looked_at.data_of(page)
        return looked_at.places(data, data["hull"]), looked_at.corners(data["hull"])


# Two places, however a program writes them; and what stands beside them in other columns.
POINTS = [(1.5, -2.25, 3000.125), (4.0, 5.5, -6.75)]
READ = {
    "blanks": "1.5 -2.25 3000.125\n4 5.5 -6.75\n",
    "tabs, and lines as Windows ends them": "1.5\t-2.25\t3000.125\r\n4\t5.5\t-6.75\r\n",
    "no end of the last line": "1.5 -2.25 3000.125\n4 5.5 -6.75",
    "commas": "1.5,-2.25,3000.125\n4,5.5,-6.75\n",
    "decimal commas": "1,5 -2,25 3000,125\n4 5,5 -6,75\n",
    "semicolons": "x;y;z\n1,5;-2,25;3000,125\n4;5,5;-6,75\n",
    "quotes about decimal commas": '"x","y","z"\n"1,5","-2,25","3000,125"\n"4","5,5","-6,75"\n',
    "how many": "2\n1.5 -2.25 3000.125 12 255 0 0\n4 5.5 -6.75 13 0 0 0\n",
    "names behind several blanks": "id   x   y  z  i\n1  1.5 -2.25 3000.125 99\n2  4 5.5 -6.75 98\n",
    "a column without a name": ",x,y,z\n0,1.5,-2.25,3000.125\n1,4,5.5,-6.75\n",
    "an empty column": "id;;x;y;z;r;g\n1;;1,5;-2,25;3000,125;9;9\n2;;4;5,5;-6,75;9;9\n",
    "what made them, names and units": "Scanned at noon\nid,X [m],Y [m],Z [m]\n,mm,mm,mm\n1,1.5,-2.25,3000.125\n"
                                       "2,4,5.5,-6.75\n",
    "comments": "# made by hand\n// at noon\n\n1.5 -2.25 3000.125 # here\n4 5.5 -6.75\n",
    "a byte order mark": "\ufeffx,y,z\n1.5,-2.25,3000.125\n4,5.5,-6.75\n",
    "signs and powers": "+1.5 -225e-2 3.000125E+3\n4. 5.5 -.675e1\n",
}
REFUSED = {
    "nothing": "", "a comment alone": "# 1 2 3\n", "two numbers": "1 2\n",
    "x without y": "x,nx,y,ny,z,nz\n1,0,2,0,3,1\n",
    "four lines of heading": "a\nb\nc\nd\n1 2 3\n", "a line cut short": "1 2 3\n4 5\n",
    "no number": "1 2 3\n4 five 6\n", "not finite": "1 2 3\n4 nan 6\n", "infinite": "1 2 3\n4 5 inf\n",
    "thousands apart": "1 2 3\n1_000 5 6\n", "figures of another script": "1 2 3\n\u0664 5 6\n",
    "a blank that does not break": "1 2 3\n1\u00a0000 5 6\n",
    "lines as machines long ago ended them": "1 2 3\r4 5 6\r",
}


class Points(InAFolder):
    def test_lie_where_the_engine_has_them(self):
        for name, text in READ.items():
            with self.subTest(name):
                path = self.written("points.csv", text)
                self.assertEqual(point_file.read(path).tolist(), [list(p) for p in POINTS])
                places, corners = self.by_the_engine(path)
                self.assertEqual(corners, [])
                numpy.testing.assert_allclose(places, POINTS, atol=2e-4)  # float32 of 3 m

    def test_what_could_be_read_wrongly_both_refuse(self):
        for name, text in REFUSED.items():
            with self.subTest(name):
                path = self.written("points.csv", text)
                with self.assertRaises(ValueError):
                    point_file.read(path)
                self.assertIn("points.csv", self.by_the_engine(path))

    def test_a_refusal_names_its_line(self):
        with self.assertRaisesRegex(ValueError, "^line 3: must begin with three numbers"):
            point_file.read(self.written("points.xyz", "# a\n1 2 3\n4 5\n"))
        with self.assertRaisesRegex(ValueError, "^line 2: must have three numbers under x, y and z"):
            point_file.read(self.written("points.xyz", "id,x,y,z\n1,2,3\n"))

    def test_random_tables_lie_where_the_engine_has_them(self):
        draw = random.Random(START)
        for _ in range(6):
            parts, point = draw.choice([(" ", "."), ("\t", "."), (",", "."), (", ", "."), (";", ","), (" ", ",")])
            before, behind = draw.randrange(3), draw.randrange(3)
            places = [[round(draw.uniform(-2000, 2000), 3) for _ in range(3)] for _ in range(20)]
            names = [*(f"c{k}" for k in range(before)), "X", "Y", "Z", *(f"d{k}" for k in range(behind))]
            rows = [parts.join(names)] if before or draw.random() < 0.5 else []
            for place in places:
                row = [*(draw.randrange(1, 99) for _ in range(before)), *place,
                       *(draw.randrange(256) for _ in range(behind))]
                rows.append(parts.join(str(value).replace(".", point) for value in row))
            path = self.written("points.csv", "\n".join(rows) + "\n")
            with self.subTest(rows[:2]):
                self.assertEqual(point_file.read(path).tolist(), places)
                numpy.testing.assert_allclose(self.by_the_engine(path)[0], places, atol=2e-4)


# A pyramid over a square, its base one face of four corners.
CORNERS = [(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 80.0, 0.0), (0.0, 80.0, 0.0), (50.0, 40.0, 60.0)]
FACES = [(3, 2, 1, 0), (0, 1, 4), (1, 2, 4), (2, 3, 4), (3, 0, 4)]
# The base as a fan from its first corner; the sides as they stand.
TRIANGLES = [(3, 2, 1), (3, 1, 0), *FACES[1:]]


def ply(form, number="float", count="uchar", index="int", extra=(), behind=False):
    """The pyramid in a form of PLY; `extra` scalars of each vertex, `behind` one before each list of a face."""
    order = {"ascii": None, "binary_little_endian": "<", "binary_big_endian": ">"}[form]
    letters = {"float": "f", "double": "d", "uchar": "B", "int": "i", "uint": "I", "ushort": "H", "char": "b"}
    head = [f"ply\nformat {form} 1.0\ncomment a pyramid\nelement vertex {len(CORNERS)}"]
    head += [f"property {number} {axis}" for axis in "xyz"] + [f"property {kind} e{k}" for k, kind in enumerate(extra)]
    head += [f"element face {len(FACES)}", *(["property uchar flags"] if behind else []),
             f"property list {count} {index} vertex_indices", "end_header\n"]
    rows = [([*place, *(7 for _ in extra)], [number] * 3 + list(extra)) for place in CORNERS]
    rows += [([*([9] if behind else []), len(face), *face],
              [*(["uchar"] if behind else []), count] + [index] * len(face)) for face in FACES]
    if order is None:
        body = "".join(" ".join(f"{v:g}" for v in values) + "\n" for values, _ in rows).encode()
    else:
        body = b"".join(struct.pack(order + "".join(letters[k] for k in kinds), *values) for values, kinds in rows)
    return "\n".join(head).encode() + body


FORMS = [(form, options) for form in ("ascii", "binary_little_endian", "binary_big_endian")
         for options in ({}, {"number": "double", "index": "uint"}, {"extra": ("uchar", "double")},
                         {"count": "ushort", "index": "ushort"}, {"behind": True})]


class Ply(InAFolder):
    def test_of_every_form_gives_the_same_corners_and_faces(self):
        for form, options in FORMS:
            with self.subTest(form, **options):
                points, faces = ply_file.read(self.written("pyramid.ply", ply(form, **options)))
                numpy.testing.assert_allclose(points, CORNERS, atol=1e-6)
                self.assertEqual([tuple(face) for face in faces.tolist()], TRIANGLES)

    def test_lies_where_the_engine_has_it(self):
        for form, options in FORMS[::3]:
            with self.subTest(form, **options):
                path = self.written("pyramid.ply", ply(form, **options))
                places, corners = self.by_the_engine(path)
                found = {tuple(sorted(tuple(round(v, 3) for v in places[k]) for k in three)) for three in corners}
                points, faces = ply_file.read(path)
                self.assertEqual(found, {tuple(sorted(tuple(points[k].tolist()) for k in three)) for three in faces})

    def test_of_points_alone_has_no_face(self):
        whole = ply("ascii").split(b"element face")
        points, faces = ply_file.read(self.written(
            "points.ply", whole[0] + b"end_header\n" + b"\n".join(b"%g %g %g" % place for place in CORNERS)))
        self.assertEqual(points.tolist(), [list(place) for place in CORNERS])
        self.assertEqual(faces.shape, (0, 3))

    def test_every_cut_of_a_file_is_refused(self):
        for form in ("ascii", "binary_little_endian"):
            whole = ply(form)
            for length in range(0, len(whole) - 1, 3):
                # The last figures of text may be missing and it still be whole.
                if form == "ascii" and length > len(whole) - 6:
                    continue
                with self.subTest(form, length=length), self.assertRaises(ply_file.NotPly):
                    ply_file.read(self.written("cut.ply", whole[:length]))

    def test_counts_in_a_file_are_not_trusted(self):
        for form in ("ascii", "binary_little_endian"):
            whole = ply(form)
            for right, wrong in ((b"vertex 5", b"vertex -1"), (b"vertex 5", b"vertex 4"), (b"vertex 5", b"vertex x"),
                                 (b"face 5", b"face -1"), (b"face 5", b"face 99999999999"),
                                 (b"vertex 5", b"vertex 99999999999"), (b"list uchar", b"list quad"),
                                 (form.encode(), b"binary_middle_endian"), (b"float x", b"float u"),
                                 (b"float x", b"list uchar")):
                with self.subTest(form, wrong=wrong), self.assertRaises(ply_file.NotPly):
                    ply_file.read(self.written("wrong.ply", whole.replace(right, wrong)))

    def test_corners_that_are_not_there_and_places_that_are_none_are_refused(self):
        for wrong in (b"3 0 1 5\n", b"3 0 1 -1\n", b"2 0\n", b"-1 0 1 4\n", b"3 0 1 x\n"):
            with self.subTest(wrong), self.assertRaises(ply_file.NotPly):
                ply_file.read(self.written("wrong.ply", ply("ascii").replace(b"3 0 1 4\n", wrong)))
        for wrong in (b"nan 40 60\n", b"50 inf 60\n"):
            with self.subTest(wrong), self.assertRaises(ply_file.NotPly):
                ply_file.read(self.written("wrong.ply", ply("ascii").replace(b"50 40 60\n", wrong)))
        whole = ply("binary_little_endian", number="double")
        place = struct.pack("<d", 60.0)
        with self.assertRaises(ply_file.NotPly):
            ply_file.read(self.written("wrong.ply", whole.replace(place, struct.pack("<d", float("nan")))))
        # The last face, whose corners are all that is left: -1 of them would be read as all.
        negative = ply("binary_little_endian", count="char")
        wrong = negative.replace(struct.pack("<b3i", 3, *FACES[-1]), struct.pack("<b3i", -1, *FACES[-1]))
        self.assertNotEqual(wrong, negative)
        with self.assertRaises(ply_file.NotPly):
            ply_file.read(self.written("wrong.ply", wrong))

    def test_its_copy_for_freecad_says_the_same(self):
        for form, options in FORMS:
            copy = ply_file.as_freecad_reads_it(self.written("pyramid.ply", ply(form, **options)))
            try:
                points, faces = ply_file.read(copy)
            finally:
                os.remove(copy)
            numpy.testing.assert_allclose(points, CORNERS, atol=1e-6)
            self.assertEqual([tuple(face) for face in faces.tolist()], TRIANGLES)


if __name__ == "__main__":
    unittest.main()
