"""A flat panel that was ground out, and the scan of it, in coordinates of its own, with its job file."""
import math
import random

import FreeCAD

from sample_repair import SAMPLES

# As the scan stands: turned and shifted against the panel.
MOVED = FreeCAD.Placement(FreeCAD.Vector(300, -200, 50), FreeCAD.Rotation(FreeCAD.Vector(1, 2, 3), 40))
MARKS = {"A": FreeCAD.Vector(-150, 0, -140), "B": FreeCAD.Vector(150, 0, -150), "C": FreeCAD.Vector(10, 0, 160)}
FLOOR, DEPTH, RATIO = 50.0, 4.0, 12.0  # [mm] radius of the floor and how deep; mm out for each mm up


def _depth(x, z):
    return max(0.0, min(DEPTH, DEPTH - (math.hypot(x, z) - FLOOR) / RATIO))


def _points():
    waves = random.Random(7)
    ripples = [(waves.gauss(0, 0.25), waves.gauss(0, 0.25), waves.uniform(0, 6.28)) for _ in range(60)]
    for i in range(-56, 57):
        for k in range(-56, 57):
            x, z = 3.4 * i, 3.4 * k
            noise = 0.1 * math.sqrt(2 / 60) * sum(math.cos(a * x + b * z + c) for a, b, c in ripples)
            yield FreeCAD.Vector(x, noise - _depth(x, z), z)


def _listed(point):
    return "[" + ", ".join(f"{x:.4f}" for x in point) + "]"


def write(folder, marked=True):
    """Writes ground.xyz, in centimetres, and ground.toml beside it; the job's path.

    marked  whether the job has the scan, with its marks; else only the hull's marks
    """
    (folder / "ground.xyz").write_text("".join("{:.5f} {:.5f} {:.5f}\n".format(*(MOVED.multVec(point) * 0.1))
                                               for point in _points()))
    places = ", ".join(f"{name} = {_listed(MOVED.multVec(at) * 0.1)}" for name, at in MARKS.items())
    scan = f'[damage.scan]\nmodel = "ground.xyz"\nunit = "cm"\nkind = "light"\nmarks = {{{places}}}\n' if marked else ""
    job = folder / "ground.toml"
    job.write_text(f'tearline = 1\n[hull]\nmodel = "{SAMPLES / "panel.step"}"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n'
                   'outward = "as modelled"\n[damage]\ncentre = [0, 0, 0]\nradius = 98\n'
                   + ('round = "ground area"\n' if marked else 'depth = 4\n') + scan
                   + '[scarf]\nratio = 12\n[layup]\nfill = "mat 450"\n[resin]\nkind = "polyester"\n'
                   + "".join(f"[marks.{name}]\nat = {_listed(at)}\n" for name, at in MARKS.items()))
    return job
