"""A document with the sample workboat and the repair of sample-models/curlew.toml."""
import json
import os
import pathlib
import re
import subprocess
import zipfile

import FreeCAD
import Part

from tearline_cad.document import frames
from tearline_cad.document.files import save_job
from tearline_cad.document.repair import make_repair

SAMPLES = pathlib.Path(os.environ["TEARLINE_SOURCE"]) / "sample-models"

# The outline of sample-models/curlew.toml.
OUTLINE = [(2480.0, 998.9, 314.2), (2560.0, 1021.0, 401.3), (2700.0, 1025.5, 432.1),
           (2840.0, 1013.7, 406.1), (2920.0, 986.2, 321.9), (2880.0, 902.8, 242.0),
           (2760.0, 858.5, 224.7), (2640.0, 842.1, 216.9), (2520.0, 903.1, 233.1)]


def hull_object(document, model="curlew.step"):
    hull = document.addObject("Part::Feature", "Curlew")
    shape = Part.Shape()
    shape.read(str(SAMPLES / model))
    hull.Shape = shape
    return hull


def vectors(points):
    return [FreeCAD.Vector(*point) for point in points]


def sample_repair(document):
    """The sample's repair, not recomputed."""
    repair = make_repair(document, hull_object(document), "Port chine")
    repair.Outline = vectors(OUTLINE)
    repair.Depth, repair.Skin = 6.3, 9
    return repair


def command_line_plan(repair, folder):
    """plan.json that `tearline plan` makes of the repair's own job file."""
    job = pathlib.Path(folder) / "repair.toml"
    save_job(repair, job)
    return plan_of_job(job, pathlib.Path(folder) / "plan")


def plan_of_job(job, out):
    """plan.json that `tearline plan` makes of a job file."""
    environment = {key: value for key, value in os.environ.items()
                   if key not in ("PYTHONPATH", "LD_LIBRARY_PATH")}
    done = subprocess.run([os.environ["TEARLINE"], "plan", str(job), "-o", str(out)], check=False,
                          capture_output=True, text=True, env=environment)
    assert done.returncode == 0, done.stderr
    return json.loads((out / "plan.json").read_text(encoding="utf-8"))


def parts(repair, role):
    """Children of one role, templates included, in their order."""
    found = []
    for each in repair.Group:
        found += [each, *getattr(each, "Group", [])]
    return [each for each in found if getattr(each, "Role", "") == role]


def first_place(repair):
    """The first point of the smallest ply, in the document's coordinates."""
    made = parts(repair, "ply")[0]
    return frames.outer_place(made).multVec(made.Shape.Wires[0].OrderedVertexes[0].Point)


def classes_in(path, part):
    """Classes that a saved document names in Document.xml or GuiDocument.xml, without our package's
    name; without them it opens as dead objects."""
    with zipfile.ZipFile(path) as document:
        text = document.read(part).decode(encoding="utf-8")
    return {f"{module}.{name}" for module, name in
            re.findall(r'module="tearline_cad\.([^"]*)" class="([^"]*)"', text)}


def farthest_vertex(shape, points):
    """Largest distance between a wire's corners, in order, and points of a plan [mm]."""
    corners = [vertex.Point for vertex in shape.OrderedVertexes]
    assert len(corners) == len(points), (len(corners), len(points))
    return max(corner.distanceToPoint(FreeCAD.Vector(*point, *[0] * (3 - len(point))))
               for corner, point in zip(corners, points))
