#!/usr/bin/env python3
"""The same question asked at the command line and of the engine has one answer: mixes word for word, hulls figure
by figure; and what the words say is what the figures are."""
import json
import math
import pathlib
import random
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import sheet as reading  # noqa: E402
from each import for_each  # noqa: E402
from engine import Engine, parts  # noqa: E402
from random_repairs import SAMPLES, START, TEARLINE, Repair  # noqa: E402

POUND, FLUID_OUNCE = 453.59237, 29.5735295625  # g, mL; by definition
HEAD = ('[hull]\nmodel = "none.step"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
        "[damage]\ncentre = [0, 0, 0]\nradius = 80\ndepth = 6\n[resin]\n")
MODELS = ("panel", "cylinder", "cone", "frustum", "sphere", "wigley", "curlew", "curlew-half", "sandpiper")


def run(*words):
    return subprocess.run([TEARLINE, *map(str, words)], capture_output=True, text=True, timeout=60, check=False)


class Asked:
    """A random mix as words of the command line, as a job file and as fields of a request."""

    def __init__(self, number):
        chance = random.Random(START + number)
        self.kind = chance.choice(["polyester", "polyester", "vinylester", "epoxy"])
        basis = chance.choice(["mass", "volume"])
        self.words, job = ["--kind", self.kind, "--basis", basis], f'kind = "{self.kind}"\nhardener_basis = "{basis}"\n'
        self.fabric = chance.choice(["cloth 200", "roving 600", "biaxial 400"] if self.kind == "epoxy" else
                                    ["mat 450", "mat 300", "roving 800"])
        if self.kind == "epoxy":
            a, b = chance.choice([(2, 1), (5, 1), (3, 1)])
            self.words += ["--parts", f"{a}:{b}"]
            job += f"hardener_parts = [{a}, {b}]\n"
        else:
            percent = chance.choice([1.25, 1.5, 1.75])
            self.words += ["--hardener", percent]
            job += f"hardener_percent = {percent}\n"
        if self.kind == "vinylester":
            job += "cured_density = 1.14\n"
        for key, option, value in (("density", "--density", 1.12), ("hardener_density", "--hardener-density", 1.06)):
            if chance.random() < 0.5:
                self.words += [option, value]
                job += f"{key} = {value}\n"
        if chance.random() < 0.5:
            self.words += ["--drops-per-mL", 30]
            job += "drops_per_mL = 30\n"
        self.job = HEAD + job
        amount = round(10 ** chance.uniform(-1, 0.5), 3)
        how = chance.choice(["area", "glass", "resin"])
        self.words += ["--fabric", self.fabric, f"--{how}", f"{amount} m2" if how == "area" else f"{1000 * amount} g"]
        self.fields = {"fabric": self.fabric,
                       {"area": "area_m2", "glass": "glass_g", "resin": "resin_g"}[how]:
                       amount if how == "area" else 1000 * amount}


each_mix = for_each(lambda self: self.mixes, lambda one: " ".join(map(str, one[1].words)))


class MixesAgree(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        engine = Engine()
        cls.mixes = []
        for number in range(40):
            asked = Asked(number)
            done = run("mix", *asked.words)
            header, body = engine.ask("mix", asked.job.encode(), file="job.toml", **asked.fields)
            cls.mixes.append((number, asked, done, header, body and json.loads(body)))
        assert engine.close() == 0

    @each_mix
    def test_the_command_says_the_engines_words(self, one):
        _, _, done, header, answer = one
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertTrue(header["ok"], header)
        self.assertTrue(done.stderr.startswith(answer["text"]), (done.stderr, answer["text"]))
        self.assertEqual(done.stdout, "")

    @each_mix
    def test_the_words_say_what_the_figures_are(self, one):
        _, asked, _, _, answer = one
        lines = {}
        for line in answer["text"].splitlines():
            lines.setdefault(line.split()[0], line)  # the head; a cup's lines come after
        grams = [a for a in reading.amounts(lines["resin"]) if a.dimension == "mass"]
        self.assertTrue(reading.close(grams[0].value, grams[0].half, answer["resin_g"]), lines["resin"])
        if answer["glass_g"] is not None:
            found = reading.amounts(lines["glass"])
            self.assertTrue(reading.close(found[0].value, found[0].half, answer["glass_g"]), lines["glass"])
        for key, dimension in (("hardener_g", "mass"), ("hardener_mL", "volume")):
            found = [a for a in reading.amounts(lines["hardener"]) if a.dimension == dimension]
            self.assertEqual(bool(found), answer[key] is not None, lines["hardener"])
            for amount in found:  # metric and US
                self.assertTrue(reading.close(amount.value, amount.half, answer[key]), lines["hardener"])

    def test_ounces_beside_a_figure_are_that_figure(self):
        # Every "N g (M oz wt)" and "N mL (M fl oz)" of a text, by definition of the units.
        count = 0
        for _, _, _, _, answer in self.mixes:
            for metric, unit, ounces, other in re.findall(
                    r"([\d.]+) (g|mL) \(([\d.]+) (oz wt|fl oz)\)", answer["text"]):
                self.assertEqual((unit, other) in (("g", "oz wt"), ("mL", "fl oz")), True)
                size = POUND / 16 if unit == "g" else FLUID_OUNCE
                half = 0.5 * 10 ** -len(ounces.partition(".")[2]) * size
                own = 0.5 * 10 ** -len(metric.partition(".")[2])
                self.assertAlmostEqual(float(ounces) * size, float(metric), delta=half + own + 1e-9)
                count += 1
        self.assertGreater(count, 100)

    @each_mix
    def test_cups_are_counted_and_timed_in_words(self, one):
        _, _, _, _, answer = one
        count = len(answer["cups"])
        wanted = "in one cup of" if count == 1 else f"in {count} cups, each of"
        self.assertIn(wanted, answer["text"])

    @each_mix
    def test_drops_are_of_those_who_counted(self, one):
        _, asked, _, _, answer = one
        cup = answer["cups"][0]
        drops = re.search(r"; or (\d+) drops", answer["text"])
        if drops:
            self.assertIn("--drops-per-mL", asked.words)
            # Half a drop either way, or moved half a drop and a division into the range.
            self.assertAlmostEqual(int(drops.group(1)), 30 * cup["mix_hardener_mL"], delta=1.5)

    def test_us_amounts_are_taken_as_what_they_are(self):
        # By definition: 1 lb of resin, 1 qt at 1.13 g/mL, 10 ft2 of mat.
        for words, grams in ((["--resin", "1 lb"], POUND), (["--resin", "1 qt"], 32 * FLUID_OUNCE * 1.13),
                             (["--area", "10 ft2"], 10 * 0.09290304 * 450 * 7 / 3 * 1.1)):
            done = run("mix", *words)
            shown = [a for a in reading.amounts(next(line for line in done.stderr.splitlines()
                                                     if line.startswith("resin"))) if a.dimension == "mass"][0]
            self.assertTrue(reading.close(shown.value, shown.half, grams), (words, done.stderr))


class HullsAgree(unittest.TestCase):
    def setUp(self):
        self.engine = Engine()
        self.addCleanup(self.engine.stop)

    def test_a_hull_is_told_alike(self):
        for name in MODELS:
            for ending, words, fields in ((".step", [], {}), (".stl", ["--unit", "mm"], {"unit": "mm"})):
                model = SAMPLES / f"{name}{ending}"
                with self.subTest(model=model.name):
                    done = run("hull", model, *words)
                    self.assertEqual(done.returncode, 0, done.stderr)
                    header, body = self.engine.ask("hull", model=str(model), **fields)
                    self.assertTrue(header["ok"], header)
                    told = json.loads(body)
                    size = [b - a for a, b in zip(told["extent_min"], told["extent_max"])]
                    self.assertIn(" x ".join(f"{s:.1f}" for s in size) + " mm", done.stderr)
                    self.assertIn(f"area            {told['area_mm2'] * 1e-6:.3f} m2", done.stderr)
                    openings = re.search(r"openings +(\d+)", done.stderr)
                    self.assertEqual(int(openings.group(1)) if openings else 0, len(told["openings_mm"]))

    def test_openings_are_the_edges_that_one_triangle_has(self):
        # Second route: edges of the STL file that belong to one triangle alone, chained to loops.
        for name in ("panel", "cylinder", "cone", "sphere"):
            with self.subTest(model=name):
                header, body = self.engine.ask("hull", model=str(SAMPLES / f"{name}.stl"), unit="mm")
                told = sorted(json.loads(body)["openings_mm"])
                found = sorted(open_loops(SAMPLES / f"{name}.stl"))
                self.assertEqual(len(told), len(found))
                for a, b in zip(told, found):
                    self.assertAlmostEqual(a / b, 1.0, delta=1e-4)

    def test_step_and_its_mesh_are_one_hull(self):
        # 1 mm of deflection at most: areas within 1 %, sizes within 1 mm.
        for name in MODELS:
            step, stl = (json.loads(self.engine.ask("hull", model=str(SAMPLES / f"{name}{end}"), **more)[1])
                         for end, more in ((".step", {}), (".stl", {"unit": "mm"})))
            with self.subTest(model=name):
                self.assertAlmostEqual(stl["area_mm2"] / step["area_mm2"], 1.0, delta=0.01)
                for key in ("extent_min", "extent_max"):
                    self.assertLess(max(abs(a - b) for a, b in zip(stl[key], step[key])), 2.5)
                self.assertEqual(len(stl["openings_mm"]), len(step["openings_mm"]))

    def test_a_model_that_changed_on_disc_is_read_again(self):
        # The same name, another hull: the panel 10 mm to the side. A kept hull must not answer for it.
        with tempfile.TemporaryDirectory() as room:
            model = pathlib.Path(room) / "hull.stl"
            shutil.copy(SAMPLES / "panel.stl", model)
            text = re.sub(r'model = ".*"', f'model = "{model}"\nunit = "mm"', Repair(22).text).encode()
            header, body = self.engine.ask("plan", text, file="job.toml")
            self.assertTrue(header["ok"], header)
            before = json.loads(parts(header, body)["plan.json"])
            data = bytearray(model.read_bytes())
            for k in range(struct.unpack_from("<I", data, 80)[0]):
                for corner in range(3):
                    at = 84 + 50 * k + 12 + 12 * corner
                    y, = struct.unpack_from("<f", data, at + 4)
                    struct.pack_into("<f", data, at + 4, y + 10.0)
            model.write_bytes(data)
            header, body = self.engine.ask("plan", text, file="job.toml")
            self.assertTrue(header["ok"], header)
            after = json.loads(parts(header, body)["plan.json"])
            self.assertAlmostEqual(after["frame"]["middle"][1] - before["frame"]["middle"][1], 10.0, delta=1e-6)
            self.assertNotEqual(after["job"]["model_sha256"], before["job"]["model_sha256"])


def open_loops(path):
    """Lengths of the chains of edges that belong to one triangle only."""
    data = path.read_bytes()
    edges = {}
    for k in range(struct.unpack_from("<I", data, 80)[0]):
        v = struct.unpack_from("<9f", data, 84 + 50 * k + 12)
        corners = [tuple(round(c, 3) for c in v[i:i + 3]) for i in (0, 3, 6)]
        for a, b in zip(corners, corners[1:] + corners[:1]):
            if (b, a) in edges:
                del edges[(b, a)]
            else:
                edges[(a, b)] = True
    after = {}
    for a, b in edges:
        after.setdefault(a, []).append(b)
    loops = []
    while after:
        start = at = next(iter(after))
        length = 0.0
        while True:
            b = after[at].pop()
            if not after[at]:
                del after[at]
            length += math.dist(at, b)
            at = b
            if at == start or at not in after:
                break
        loops.append(length)
    return loops


if __name__ == "__main__":
    unittest.main()
