"""`tearline hull`: what it says of the sample models, and its exit status."""
import os
import pathlib
import subprocess
import tempfile
import unittest

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"


def hull(*words):
    return subprocess.run([TEARLINE, "hull", *map(str, words)], capture_output=True, text=True,
                          timeout=60)


class HullCommand(unittest.TestCase):
    def test_tells_size_area_openings_and_radius(self):
        # By construction: half a cylinder of radius 500 and length 2000.
        run = hull(SAMPLES / "cylinder.step")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertEqual(run.stdout, "")
        for words in ("STEP, in mm", "2000.0 x 1000.0 x 500.0 mm", "500.0 mm near", "1, perimeter "):
            self.assertIn(words, run.stderr)

    def test_every_sample_is_read(self):
        for model in sorted(SAMPLES.glob("*.st[el]*")):
            words = ["--unit", "mm"] if model.suffix == ".stl" else []
            run = hull(model, *words)
            self.assertEqual(run.returncode, 0, f"{model}: {run.stderr}")

    def test_an_stl_without_unit_is_bad_input(self):
        run = hull(SAMPLES / "curlew.stl")
        self.assertEqual(run.returncode, 3)
        # Whoever asks by the command has no job file to write hull.unit in.
        self.assertIn("--unit mm", run.stderr)
        self.assertNotIn("hull.unit", run.stderr)

    def test_each_unit_of_a_mesh_has_its_length(self):
        # By definition: 25.4 mm an inch, 304.8 mm a foot.
        text = ("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 2 0 0\nvertex 0 1 0\n"
                "endloop\nendfacet\nendsolid a\n")
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "a.stl"
            path.write_text(text, encoding="utf-8")
            for unit, size in (("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4), ("ft", 304.8)):
                said = hull(path, "--unit", unit).stderr
                self.assertIn(f"{2 * size:.1f} x {size:.1f} x 0.0 mm", said, unit)

    def test_a_size_that_no_hull_has_asks_for_the_unit(self):
        # 2 units: of mm less than a hull's 5 mm, of m and ft none, 100 units of m more than 60 m.
        text = ("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex {0} 0 0\n"
                "vertex 0 1 0\nendloop\nendfacet\nendsolid a\n")
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "a.stl"
            for size, unit, said in ((2, "mm", "the model is 2.000 mm long: is --unit mm right?"),
                                     (2, "m", None), (2, "ft", None),
                                     (100, "m", "the model is 100000 mm long: is --unit m right?")):
                path.write_text(text.format(size), encoding="utf-8")
                run = hull(path, "--unit", unit)
                self.assertEqual(run.returncode, 0, run.stderr)
                if said:
                    self.assertIn(said, run.stderr)
                else:
                    self.assertNotIn("right?", run.stderr)

    def test_a_file_that_is_not_there_has_nothing_to_do_with_jobs(self):
        run = hull("nothere.stl", "--unit", "mm")
        self.assertEqual(run.returncode, 3)
        self.assertIn("nothere.stl: there is no such file; check its name", run.stderr)
        self.assertNotIn("job", run.stderr)

    def test_corners_have_their_unit(self):
        # By construction (sample-models): half a cylinder of radius 500 and length 2000; 25.4 mm an
        # inch: 500 mm are 19.7 in.
        told = hull(SAMPLES / "cylinder.step").stderr
        self.assertRegex(told, r"from \(.*500\.0.*\) mm to \(.*500\.0.*\) mm")
        inches = hull(SAMPLES / "cylinder.step", "--show", "in").stderr
        self.assertRegex(inches, r"from \(.*19\.7.*\) in to \(.*19\.7.*\) in")
        self.assertNotIn("500.0", inches)

    def test_an_unknown_unit_is_a_wrong_command_line(self):
        self.assertEqual(hull(SAMPLES / "curlew.stl", "--unit", "furlong").returncode, 2)

    def test_noise_is_bad_input(self):
        with tempfile.TemporaryDirectory() as folder:
            for name in ("a.step", "a.igs", "a.brep", "a.stl", "a.obj", "a.ply"):
                path = pathlib.Path(folder) / name
                path.write_bytes(bytes((i * i * 31 + 7 * i) % 256 for i in range(5000)))
                run = hull(path, "--unit", "mm")
                self.assertEqual(run.returncode, 3, f"{name}: {run.stderr}")
                self.assertIn(str(path), run.stderr)
                self.assertNotIn("hull.model", run.stderr)  # a key of job files


if __name__ == "__main__":
    unittest.main()
