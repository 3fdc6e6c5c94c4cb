"""Bad input from end to end: each case gives the program something wrong and states the exit
status, the words of the message (file, field, value, what would be right), and that neither the
output folder nor anything beside it is left.

The exit statuses are the contract: 2 wrong command line, 3 bad input, 4 no safe answer for this
geometry, 5 the output could not be written. The words are what a repairer needs to mend it.
"""
import os
import pathlib
import shutil
import struct
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import broken_models  # noqa: E402

TEARLINE = os.environ["TEARLINE"]
SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"

HULL = {"model": '"curlew.step"', "bow": "[1, 0, 0]", "up": "[0, 0, 1]", "skin": '"9 mm"'}
DAMAGE = {"centre": "[2700.0, 1025.5, 432.1]", "radius": '"60 mm"', "depth": '"6.3 mm"'}
BOW_TIE = "[[2500, 1010, 350], [2700, 1020, 420], [2500, 1010, 420], [2700, 1020, 350]]"


def job(hull=None, damage=None, more=""):
    """A job file of the Curlew; a value of None takes a key away."""
    tables = [("hull", {**HULL, **(hull or {})}), ("damage", {**DAMAGE, **(damage or {})})]
    text = ""
    for name, keys in tables:
        text += f"[{name}]\n" + "".join(f"{k} = {v}\n" for k, v in keys.items() if v is not None)
    return text + more


def outline(points):
    return {"centre": None, "radius": None, "outline": points}


# name: (job text, exit status, words of the message)
JOBS = {
    "empty_job": ("", 3, ["empty", "tearline new"]),
    "no_toml": ("[hull\nmodel", 3, ["job.toml:1:", "not a TOML file"]),
    "no_damage": ("[hull]\n" + "".join(f"{k} = {v}\n" for k, v in HULL.items()), 3,
                  ["damage", "missing"]),
    "centre_nan": (job(damage={"centre": "[nan, 0, 0]"}), 3,
                   ["job.toml:7: damage.centre", "nan", "finite"]),
    "centre_infinite": (job(damage={"centre": "[0, inf, 0]"}), 3,
                        ["damage.centre", "inf", "finite"]),
    "outline_nan": (job(damage=outline("[[1, 2, 3], [4, nan, 6], [7, 8, 9]]")), 3,
                    ["damage.outline", "nan", "finite"]),
    "centre_off_the_hull": (job(damage={"centre": "[2700, 1925, 432]"}), 3,
                            ["job.toml", "damage.centre", "1925", "20 mm"]),
    "outline_off_the_hull": (
        job(damage=outline("[[2480, 999, 314], [2700, 1105, 432], [2900, 950, 330]]")), 3,
        ["job.toml", "damage.outline", "1105", "20 mm"]),
    "outline_crossing_itself": (job(damage=outline(BOW_TIE)), 3,
                                ["job.toml", "damage.outline", "crosses itself", "order"]),
    "outline_of_two_points": (job(damage=outline("[[2480, 999, 314], [2700, 1025, 432]]")), 3,
                              ["damage.outline", "3 points"]),
    "outline_in_a_line": (
        job(damage={**outline("[[2480, 998.9, 314.2], [2490, 1001.6, 325], [2500, 1004.3, 336]]"),
                    "join": '"straight"'}), 3, ["damage.outline"]),
    "fitting_under_a_torn_band": (
        job(more="[[damage.opening]]\ncentre = [2762.0, 1023.5, 432.1]\nradius = 20\nkeep = true\n"),
        4, ["damage.opening", "torn", "tear_margin = 0"]),
    "depth_zero": (job(damage={"depth": "0"}), 3, ["job.toml:9: damage.depth", "value 0", "at least 0.1"]),
    "depth_next_to_nothing": (job(damage={"depth": "1e-12"}), 3, ["job.toml:9: damage.depth", "1e-12"]),
    "depth_negative": (job(damage={"depth": '"-6 mm"'}), 3, ["damage.depth", "-6 mm", "at least 0.1"]),
    "depth_infinite": (job(damage={"depth": "inf"}), 3, ["damage.depth", "inf"]),
    # On the bulge of a topside a straightedge rests below the old surface, and ground that stands
    # 15 mm over it is no dish.
    "depth_by_straightedges_over_the_ground": (
        job(damage={"depth": None}, more="".join(
            f'[[damage.sounding]]\nat = [{2700 + 5 * i}, 1025.5, 432.1]\ndepth = -15\n'
            'from = "straightedge"\nlength = 600\ndirection = "along"\n' for i in range(5))), 3,
        ["job.toml", "damage.depth", "missing", "straightedge", "under the old surface"]),
    "depth_over_the_skin": (job(damage={"depth": '"9.5 mm"'}), 3,
                            ["damage.depth", "9.5 mm", "hull.skin"]),
    "radius_negative": (job(damage={"radius": "-60"}), 3, ["damage.radius", "-60", "at least 1"]),
    "radius_next_to_nothing": (job(damage={"radius": "5e-324"}), 3, ["damage.radius", "5e-324"]),
    "radius_larger_than_the_hull": (job(damage={"radius": '"9 m"'}), 3, ["damage", "job.toml"]),
    "a_lap_with_soundings": (
        job(damage={"at_end": '"lap"'}, more="".join(
            f'[[damage.sounding]]\nat = [{2700 + 5 * i}, 1025.5, 432.1]\ndepth = {3 + 0.1 * i}\n'
            for i in range(5))), 3, ["damage.at_end", "soundings", "cut"]),
    "an_end_told_of_a_model_that_shows_it": (
        job(damage={"end": "[[0, 1000, 800], [3000, 1094, 840]]"}), 3,
        ["damage.end", "goes with [hull.scan]"]),
    "what_only_a_lap_takes": (job(damage={"lap_over": '"60 mm"'}), 3,
                              ["damage.lap_over", 'at_end = "lap"']),
    "no_part_of_a_disc": (job(damage={"within": "[2900, 1010, 420]"}), 3,
                          ["damage.within", "outside the damage"]),
    "an_opening_without_keep": (job(more="[[damage.opening]]\nradius = 20\n"), 3,
                                ["damage.opening[1].keep", "keep = true"]),
    "an_opening_to_be_closed": (job(more="[[damage.opening]]\nkeep = false\n"), 3,
                                ["damage.opening[1].keep", "backing"]),
    "an_opening_that_is_not_there": (job(more="[[damage.opening]]\nkeep = true\n"), 3,
                                     ["damage.opening[1]", "no opening inside the outline"]),
    "an_opening_at_no_place_of_the_model": (
        job(more="[[damage.opening]]\ncentre = [2700, 1025.5, 432.1]\nkeep = true\n"), 3,
        ["damage.opening[1].centre", "no opening of the model", "radius"]),
    "an_opening_by_two_forms": (
        job(more="[[damage.opening]]\nkeep = true\ncentre = [2700, 1025, 432]\nradius = 9\n"
                 "outline = [[2690, 1025, 432], [2700, 1025, 440], [2710, 1025, 432]]\n"), 3,
        ["damage.opening[1].outline", "not by both"]),
    "glass_none": (job(more='[[fabric]]\nname = "mat 450"\nglass_content = 0\n'), 3,
                   ["job.toml:12: fabric.glass_content", "value 0", "above 0"]),
    "glass_all": (job(more='[[fabric]]\nname = "mat 450"\nglass_content = 1\n'), 3,
                  ["fabric", "glass_content", "value 1"]),
    "glass_in_percent": (job(more='[[fabric]]\nname = "mat 450"\nglass_content = 30\n'), 3,
                         ["glass_content", 'value 30 of "mat 450"', "0.30"]),
    "unknown_key": (job(damage={"deph": "6"}), 3, ["job.toml:10: damage.deph", "damage.depth"]),
    "unknown_table": (job(more="[scraf]\nratio = 12\n"), 3, ["scraf", "nearest", "scarf"]),
    "unknown_fabric": (job(more='[layup]\nfill = "mat 455"\n'), 3,
                       ["layup.fill", "mat 455", "mat 450"]),
    "stack_of_too_many_plies": (
        job(hull={"skin": '"90 mm"'}, more='[layup]\nstack = [' + '"mat 450", ' * 61 + ']\n'), 3,
        ["job.toml:11: layup.stack", "61 plies", "at most 60", "heavier cloth"]),
    # 64.1 mm of 1.0508 mm (SOURCES.md section 2): 61.0 plies, as many as a stack may not have.
    "fill_of_too_many_plies": (
        job(hull={"skin": '"90 mm"'}, damage={"depth": '"64.1 mm"'},
            more='[scarf]\nratio = 6\n[layup]\nfill = "mat 450"\n'), 3,
        ["job.toml:13: layup.fill", "64.1 mm", "more than 60 plies", "heavier cloth"]),
    "bare_ounce": (job(more='[[fabric]]\nname = "m"\nkind = "mat"\nweight = "1.5 oz"\n'), 3,
                   ["weight", "1.5 oz", "oz/ft2", "oz/yd2"]),
    "hardener_outside_its_range": (job(more="[resin]\nhardener_percent = 4\n"), 3,
                                   ["resin.hardener_percent", "value 4", "1"]),
    "shop_too_cold": (job(more="[shop]\ntemperature = 8\n"), 3,
                      ["shop.temperature", "value 8", "15"]),
    "ratio_zero": (job(more="[scarf]\nratio = 0\n"), 3, ["scarf.ratio", "value 0"]),
    "bow_along_up": (job(hull={"up": "[1, 0, 0.01]"}), 3, ["hull.up", "parallel to bow"]),
    "model_missing": (job(hull={"model": '"no such.step"'}), 3,
                      ["job.toml:2: hull.model", "no such.step"]),
    "model_is_a_folder": (job(hull={"model": '"a folder.step"'}), 3, ["hull.model", "a folder.step"]),
    "model_of_unknown_kind": (job(hull={"model": '"hull.3dm"'}), 3,
                              ["hull.model", "hull.3dm", ".step", ".stl"]),
    "mesh_without_unit": (job(hull={"model": '"curlew.stl"'}), 3, ["hull.unit", "missing", '"mm"']),
    "mesh_in_the_wrong_unit": (job(hull={"model": '"curlew.stl"', "unit": '"m"'}), 3,
                               ["hull.unit", "job.toml"]),
    "inside_without_skin": (job(hull={"skin": None}, damage={"side": '"inside"'}), 3,
                            ["hull.skin", "missing"]),
    "outline_round_a_tube": (
        job(hull={"model": '"cone.step"', "skin": '"60 mm"'},
            damage={"centre": "[600, 0, -381.6]", "radius": '"1100 mm"'}), 4, ["tube", "smaller"]),
    "flat_model_without_outward": (
        job(hull={"model": '"panel.step"'}, damage={"centre": "[0, 0, 0]"}), 3,
        ["hull.outward", "as modelled", "reversed"]),
    "mirror_of_a_whole_hull": (job(hull={"mirror": "true"}), 3, ["hull.mirror", "true"]),
    "half_a_hull_without_a_word": (
        job(hull={"model": '"curlew-half.step"'}, damage={"centre": "[2700, 30, 40]"}), 4,
        ["hull.mirror", "mirror = true", "mirror = false"]),
    "cloth_that_cannot_shear_so_far": (
        job(hull={"model": '"sphere.step"'},
            damage={"centre": "[0, 0, -600]", "radius": '"250 mm"'},
            more='[layup]\nstack = ["roving 600"]\n[[fabric]]\nname = "roving 600"\n'
                 'shear_limit = 0.3\n'), 4, ["roving 600", "shear_limit"]),
}


def stl(count, facets):
    body = b"".join(struct.pack("<12fH", 0, 0, 1, *f, 0) for f in facets)
    return b"x" * 80 + struct.pack("<I", count) + body


def fan(height):
    """Three sheets on one edge: no surface."""
    return [(0, 0, 0, 1000, 0, 0, 500, y, z) for y, z in ((900, 0), (0, height), (-900, 10))]


def strip_of_moebius():
    return [(*a, *b, *c) for a, b, c in broken_models.moebius()]


# name: (file name, bytes, words of the message beside the path)
CURLEW_STEP = (SAMPLES / "curlew.step").read_bytes()
CURLEW_STL = (SAMPLES / "curlew.stl").read_bytes()
MODELS = {
    "empty_model": ("h.step", b"", ["empty"]),
    "truncated_step": ("h.step", CURLEW_STEP[:len(CURLEW_STEP) // 2], ["STEP"]),
    "truncated_stl": ("h.stl", CURLEW_STL[:len(CURLEW_STL) // 2], ["cut short"]),
    "huge_header": ("h.stl", stl(0xFFFFFFFF, fan(900)), ["4294967295", "facets", "holds 3"]),
    "step_named_stl": ("h.stl", CURLEW_STEP, ["STEP", "not STL"]),
    "stl_named_step": ("h.step", CURLEW_STL, ["STL", "not STEP"]),
    "noise_iges": ("h.igs", bytes((i * i * 31) % 256 for i in range(4000)), ["not IGES"]),
    "noise_brep": ("h.brep", b"what is this", ["not BREP"]),
    "huge_ply": ("h.ply", b"ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\n"
                 b"property float x\nproperty float y\nproperty float z\nelement face 1\n"
                 b"property list uchar int vertex_indices\nend_header\n", ["4000000000"]),
    "obj_vertex_missing": ("h.obj", b"v 0 0 0\nv 1 0 0\nf 1 2 3\n", ["line 3", "vertex '3'"]),
    "stl_nan": ("h.stl", stl(1, [(0, 0, 0, float("nan"), 0, 0, 0, 1, 0)]), ["facet 1"]),
    "three_sheets_on_one_edge": ("h.stl", stl(3, fan(900)), ["3 faces", "near"]),
    "moebius_strip": ("h.stl", stl(80, strip_of_moebius()), ["twist", "near"]),
    "triangles_without_area": ("h.stl", stl(1, [(0, 0, 0, 1, 0, 0, 2, 0, 0)]), ["area"]),
}


class BadInput(unittest.TestCase):
    def setUp(self):
        self.room = tempfile.TemporaryDirectory(prefix="tearline bød ")
        self.folder = pathlib.Path(self.room.name)
        for model in ("curlew.step", "curlew.stl", "cone.step", "panel.step", "curlew-half.step",
                      "sphere.step"):
            (self.folder / model).symlink_to(SAMPLES / model)
        (self.folder / "a folder.step").mkdir()

    def tearDown(self):
        self.room.cleanup()

    def plan(self, text, out="out put", *words):
        path = self.folder / "job.toml"
        path.write_text(text, encoding="utf-8")
        self.before = sorted(p.name for p in self.folder.iterdir())
        return subprocess.run([TEARLINE, "plan", str(path), "-o", str(self.folder / out), *words],
                              capture_output=True, text=True, timeout=60, check=False)

    def assert_refused(self, run, status, words):
        said = run.stderr
        self.assertEqual(run.returncode, status, said)
        self.assertEqual(run.stdout, "")
        for word in words:
            self.assertIn(word, said)
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), self.before)

    def test_jobs(self):
        for name, (text, status, words) in JOBS.items():
            with self.subTest(name):
                self.assert_refused(self.plan(text), status, ["job.toml", *words])

    def test_models(self):
        for name, (file, data, words) in MODELS.items():
            with self.subTest(name):
                model = self.folder / f"{name} {file}"
                model.write_bytes(data)
                unit = None if file.endswith(("step", "igs", "brep")) else '"mm"'
                run = self.plan(job(hull={"model": f'"{model.name}"', "unit": unit}))
                self.assert_refused(run, 3, [str(model), *words])
                told = subprocess.run([TEARLINE, "hull", str(model)]
                                      + (["--unit", "mm"] if unit else []), capture_output=True,
                                      text=True, timeout=60, check=False)
                self.assert_refused(told, 3, [str(model), *words])
                model.unlink()

    def test_job_that_does_not_exist(self):
        run = subprocess.run([TEARLINE, "plan", str(self.folder / "none.toml"), "-o",
                              str(self.folder / "out")], capture_output=True, text=True, timeout=60,
                             check=False)
        self.assertEqual(run.returncode, 3, run.stderr)
        self.assertIn("none.toml", run.stderr)
        self.assertFalse((self.folder / "out").exists())

    def test_wrong_command_lines(self):
        path = self.folder / "job.toml"
        path.write_text(job(), encoding="utf-8")
        for words, said in ((["plan", str(path)], "-o"), ([], "subcommand"),
                            (["plam"], "'plam' is no command; the nearest is 'plan'"),
                            (["plan", str(path), "-o", "x", "--format", "docx"], "docx"),
                            (["plan", str(path), "-o", "x", "--print-scale", "0"], "print-scale"),
                            (["plan", str(path), "-o", "x", "--print-scale", "nan"], "print-scale"),
                            (["hull"], "FILE"), (["mix", "--area", "1 furlong"], "furlong")):
            with self.subTest(" ".join(words)):
                run = subprocess.run([TEARLINE, *words], capture_output=True, text=True, timeout=60,
                                     cwd=self.folder, check=False)
                self.assertEqual(run.returncode, 2, run.stderr)
                self.assertIn(said, run.stderr)
                self.assertFalse((self.folder / "x").exists())

    def test_a_folder_with_a_foreign_file_is_left_alone(self):
        out = self.folder / "out"
        out.mkdir()
        (out / "holiday.txt").write_text("mine", encoding="utf-8")
        run = self.plan(job(), "out")
        self.assert_refused(run, 5, [str(out), "holiday.txt"])
        self.assertEqual([p.name for p in out.iterdir()], ["holiday.txt"])

    def test_an_edited_file_is_left_alone(self):
        self.assertEqual(self.plan(job(), "out").returncode, 0)
        sheet = self.folder / "out" / "job-sheet.html"
        sheet.write_text("my notes", encoding="utf-8")
        listing = sorted(p.name for p in (self.folder / "out").rglob("*"))
        self.assert_refused(self.plan(job(), "out"), 5, ["job-sheet.html"])
        self.assertEqual(sheet.read_text(encoding="utf-8"), "my notes")
        self.assertEqual(listing, sorted(p.name for p in (self.folder / "out").rglob("*")))

    def test_output_that_cannot_be_written(self):
        (self.folder / "file").write_text("a file", encoding="utf-8")
        self.assert_refused(self.plan(job(), "file"), 5, [str(self.folder / "file")])
        self.assert_refused(self.plan(job(), "file/deeper"), 5, [str(self.folder / "file")])
        run = subprocess.run([TEARLINE, "plan", str(self.folder / "job.toml"), "-o",
                              "/proc/tearline"], capture_output=True, text=True, timeout=60,
                             check=False)
        self.assertEqual(run.returncode, 5, run.stderr)
        self.assertIn("/proc", run.stderr)

    def test_a_full_disk_leaves_nothing(self):
        # A limit on the size of a file stands for the disk: every larger write fails.
        path = self.folder / "job.toml"
        path.write_text(job(), encoding="utf-8")
        before = sorted(p.name for p in self.folder.iterdir())
        run = subprocess.run(["bash", "-c", 'trap "" XFSZ; ulimit -f 8; exec "$@"', "limited",
                              TEARLINE, "plan", str(path), "-o", str(self.folder / "out")],
                             capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual(run.returncode, 5, run.stderr)
        self.assertIn("out", run.stderr)
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), before)

    def test_spaces_and_other_letters_are_no_mistake(self):
        model = self.folder / "Möwe 船 hull.step"
        shutil.copy(SAMPLES / "curlew.step", model)
        run = self.plan(job(hull={"model": f'"{model.name}"'}), "Räuber øut 船")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertTrue((self.folder / "Räuber øut 船" / "plan.json").exists())

    def test_a_thin_floor_and_an_unknown_skin_are_warned_of(self):
        run = self.plan(job(damage={"depth": '"8.4 mm"'}))
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertIn("floor-thin", run.stderr)
        self.assertIn("0.60 mm", run.stderr)
        run = self.plan(job(hull={"skin": None}))
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertIn("skin-unknown", run.stderr)


if __name__ == "__main__":
    unittest.main()
