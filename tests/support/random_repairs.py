"""Random repairs for tests that read everything the program writes: small ones, so that each plans in a
fraction of a second, and between them every kind of resin, cloth, base, order, unit and outline.

A repair is known by its number: repair 7 is the same everywhere. What a job says stands beside its
text, so that a test can work its figures out without reading the program's answer."""
import json
import math
import os
import pathlib
import random
import subprocess
import tempfile
import unittest

START = 20261129  # the start value of every random number here
SOURCE = pathlib.Path(os.environ.get("TEARLINE_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
SAMPLES = SOURCE / "sample-models"
TEARLINE = os.environ.get("TEARLINE", str(SOURCE / "build" / "tearline"))

# Model, place of the damage, lines that its [hull] needs. The sample models' README tells their sizes.
PLACES = {
    "panel": ([0, 0, 0], 'outward = "as modelled"\n'),
    "cylinder": ([1000, 300, -400], ""),
    "wigley": ([0, 168, -100], ""),
    "curlew": ([2560, 1021, 401.3], ""),
}
# Stacks by resin: names and what is laid; epoxy takes no mat with a binder for styrene.
STYRENE_STACKS = [
    ["mat 450"], ["mat 300", "mat 450"], ["mat 450", "roving 600", "mat 450"],
    ["mat 300", "biaxial 400", "mat 300"], ["mat 225", "mat 600"], ["mat 450", "roving 800", "mat 300"]]
EPOXY_STACKS = [
    ["cloth 200", "cloth 300"], ["biaxial 400"], ["cloth 300", "roving 600", "cloth 200"],
    ["biaxial 600", "cloth 200"]]


def closed_c(radius, thick):
    """An outline like a C that all but closes: edges laid outside it leave a hole in its middle."""
    outer = [(radius * math.cos(math.radians(a)), radius * math.sin(math.radians(a)))
             for a in range(12, 349, 12)]
    inner = [((radius - thick) * math.cos(math.radians(a)), (radius - thick) * math.sin(math.radians(a)))
             for a in range(348, 11, -12)]
    return outer + inner


class Repair:
    """A job: its text, and the figures that the text says."""

    def __init__(self, number, hull=None, shape=None, kind=None, order=None, size=None):
        chance = random.Random(START + number)
        self.number = number
        self.hull = hull or chance.choice(["panel", "panel", "cylinder", "wigley"])
        self.kind = kind or chance.choice(["polyester", "polyester", "vinylester", "epoxy"])
        self.units = chance.choice(["metric", "metric", "us"])
        self.copies = chance.choice([1, 1, 2, 3])
        self.order = chance.choice(["smallest first", "smallest first", "largest first"])
        self.order = order or self.order
        self.side = "outside"
        self.ratio = chance.choice([6, 8, 12, 12, 15])
        self.position = chance.choice(["flat", "vertical", "overhead"])
        self.waste = chance.choice([0.0, 0.1, 0.15, 0.25])
        self.prime = chance.choice([0, 100, 150, 250])
        self.cup = chance.choice([80, 150, 250, 600])
        self.psi = chance.choice([None, 0.28, 0.33])
        stacks = EPOXY_STACKS if self.kind == "epoxy" else STYRENE_STACKS
        self.stack = chance.choice(stacks)
        self.axis = chance.choice([0, 30, -45])
        self.cover = chance.choice([[], ["cloth 200"]] if self.kind == "epoxy" else [[], ["mat 300"]])
        self.shape = shape or chance.choice(["disc", "disc", "ellipse", "star"])
        self.size = round(chance.uniform(25, 60), 1)
        self.size = size or self.size
        self.topcoat = chance.choice([None, "sacrificial", "final"]) if self.kind != "epoxy" else None
        self.chance = chance
        self.text = self.job_text()

    def outline(self, centre):
        """Points in the plane of the panel, y = 0, or, on other hulls, a disc's line instead."""
        points = closed_c(1.6 * self.size, 22.0) if self.shape == "c" else [
            (self.size * self.chance.uniform(0.75, 1.2) * math.cos(2 * math.pi * i / 9),
             self.size * self.chance.uniform(0.75, 1.2) * math.sin(2 * math.pi * i / 9)) for i in range(9)]
        rows = ", ".join(f"[{centre[0] + x:.3f}, {centre[1]}, {centre[2] + z:.3f}]" for x, z in points)
        return f'outline = [{rows}]\njoin = "smooth"\n'

    def damage_text(self):
        centre = PLACES[self.hull][0]
        if self.shape in ("star", "c") and self.hull == "panel":
            return self.outline(centre)
        at = f"centre = {centre}\n"
        if self.shape == "ellipse":
            return at + f"length = {2.4 * self.size:.1f}\nheight = {1.5 * self.size:.1f}\n"
        return at + f"radius = {self.size}\n"

    def resin_text(self):
        chance, text = self.chance, f'kind = "{self.kind}"\n'
        if self.kind == "epoxy":
            a, b = chance.choice([(2, 1), (3, 1), (5, 1), (100, 30)])
            basis = chance.choice(["mass", "volume"])
            self.parts, self.basis, self.percent, self.range = (a, b), basis, None, None
            text += f'hardener_parts = [{a}, {b}]\nhardener_basis = "{basis}"\ncured_density = 1.15\n'
            if chance.random() < 0.6:
                text += "density = 1.12\nhardener_density = 0.97\n"
        else:
            self.parts, self.basis = None, chance.choice(["mass", "mass", "volume"])
            if self.kind == "polyester":
                self.percent = chance.choice([1.0, 1.25, 1.5, 2.0])
            else:
                self.percent = chance.choice([1.5, 1.8])
                text += "hardener_range = [1.2, 2.5]\ncured_density = 1.14\n"
                if chance.random() < 0.5:
                    text += "density = 1.05\n"
                if chance.random() < 0.5:
                    text += "hardener_density = 1.10\n"
            text += f'hardener_percent = {self.percent}\nhardener_basis = "{self.basis}"\n'
        gel = chance.choice([None, 20, 26])
        if gel:
            percent = self.percent or 2.0
            text += (f'gel_minutes = {gel}\ngel_at = {{temperature = 20, percent = {percent}, '
                     'mass = "100 g"}\n')
        self.gel = gel
        return text + f'waste = {self.waste}\nprime = "{self.prime} g/m2"\ncup = "{self.cup} g"\n'

    def job_text(self):
        centre, lines = PLACES[self.hull]
        stack = ", ".join(f'{{fabric = "{name}", axis = {self.axis}}}' if name.split()[0] != "mat"
                          else f'"{name}"' for name in self.stack)
        text = (f'title = "Repair {self.number}"\ndisplay_units = "{self.units}"\n[hull]\n'
                f'model = "{SAMPLES / (self.hull + ".step")}"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n{lines}'
                f"[damage]\n{self.damage_text()}")
        depth = {1: 1.5, 2: 2.0, 3: 2.6}[len(self.stack)]
        self.depth = depth
        text += (f'depth = {depth}\n[scarf]\nratio = {self.ratio}\n[layup]\nstack = [{stack}]\n'
                 f'cover = {json.dumps(self.cover)}\norder = "{self.order}"\ncopies = {self.copies}\n'
                 f'position = "{self.position}"\n[resin]\n{self.resin_text()}')
        if self.topcoat:
            text += f'[topcoat]\nfinish = "{self.topcoat}"\nthickness = 0.5\n'
        if self.psi and self.stack[0].startswith("mat"):
            text += f'[[fabric]]\nname = "{self.stack[0]}"\nglass_content = {self.psi}\n'
        return text


class Planned:
    """A folder that the program wrote, and its plan."""

    def __init__(self, room, text, *words, name="out"):
        self.folder = pathlib.Path(room) / name
        job = pathlib.Path(room) / f"{name}.toml"
        job.write_text(text, encoding="utf-8")
        self.run = subprocess.run([TEARLINE, "plan", str(job), "-o", str(self.folder), *words],
                                  capture_output=True, text=True, timeout=120, check=False)
        if self.run.returncode == 0:
            self.plan = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
            self.job = self.plan["job"]["effective"]

    def pieces(self):
        return [(ply, piece) for ply in self.plan["plies"] for piece in ply["pieces"]]


class OfPlans(unittest.TestCase):
    """Tests of plans that are made once: `made`, in the order in which they were asked for."""

    @classmethod
    def setUpClass(cls):
        print(f"start value {START}")
        cls.room = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.room.cleanup)
        cls.made = []

    @classmethod
    def plan(cls, name, text, *words):
        made = Planned(cls.room.name, text, *(words or ("--format", "svg")), name=name)
        assert made.run.returncode == 0, f"{name}: {made.run.stderr}"
        made.name = name
        cls.made.append(made)
        return made

    @classmethod
    def plan_repairs(cls, numbers):
        """Random repairs by their numbers, one after the other."""
        print(f"repairs {numbers}")
        for number in numbers:
            made = cls.plan(f"repair{number}", Repair(number).text)
            made.number = number
            yield made

    def named(self, name):
        return next(made for made in self.made if made.name == name)
