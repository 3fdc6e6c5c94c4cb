"""Turns the 3D view to the damage, or to the flat templates."""
import FreeCAD
import FreeCADGui
import numpy

from tearline_cad.document import frames, pieces, plan_store
from tearline_cad.view import legend, meshes

Vector = FreeCAD.Vector


def _turn(view, towards, up):
    """Looks along `towards` with `up` upwards in the picture."""
    back = (towards * -1).normalize()
    right = up.cross(back)
    if right.Length < 0.1:
        right = Vector(1, 0, 0).cross(back)
    right.normalize()
    view.setCameraOrientation(FreeCAD.Rotation(right, back.cross(right), back))


def _frame(view, middle, width, height, distance):
    """Fits a width and height round a point into the picture, beside the legend."""
    view.setCameraType("Orthographic")
    port = view.getSize()
    covered = min(legend.covers(view), port[0] // 2)
    camera = view.getCameraNode()
    camera.height = 1.15 * max(height, width * port[1] / max(port[0] - covered, 1))
    pixel = camera.height.getValue() / max(port[1], 1)
    to_the_right = view.getCameraOrientation().multVec(Vector(1, 0, 0))
    camera.position = tuple(middle - to_the_right * (covered / 2 * pixel)
                            - view.getViewDirection() * distance)
    camera.focalDistance = distance


def _view(repair):
    return FreeCADGui.getDocument(repair.Document.Name).activeView()


def at_damage(repair):
    """From where the glass is laid, square to the hull."""
    data = plan_store.parts(repair).get("dish.bin")
    if data is None:
        return
    arrays = pieces.read_arrays(data)
    points = meshes.array_of(arrays["base"], 3) / plan_store.scale_of(plan_store.plan(repair))
    normal = meshes.normals(points, meshes.array_of(arrays["triangles"], 3)).mean(axis=0)
    low, high = points.min(axis=0), points.max(axis=0)
    reach = float(numpy.linalg.norm(high - low))
    view, frame = _view(repair), frames.frame_of(repair.Hull)
    _turn(view, frame.Rotation.multVec(Vector(*-normal)), frame.Rotation.multVec(repair.Up))
    _frame(view, frame.multVec(Vector(*((low + high) / 2))), reach, reach, 10 * reach)


NEAR = 250.0  # [mm] of hull about a place that is looked at


def at_place(repair, place):
    """At a place of a plan, from where the view looks already; from where the glass is laid, where that would be
    from behind the hull."""
    plan = plan_store.plan(repair)
    scale = plan_store.scale_of(plan) if plan else 1.0
    view, frame = _view(repair), frames.frame_of(repair.Hull)
    if plan and view.getViewDirection().dot(frame.Rotation.multVec(Vector(*plan["frame"]["normal"]))) > -0.2:
        at_damage(repair)
    _frame(view, frame.multVec(Vector(*place) / scale), NEAR, NEAR, 10 * NEAR)


def at_thing(repair, thing):
    """At an object, from where the view looks already."""
    box = frames.box_of(thing)
    _frame(_view(repair), box.Center, box.DiagonalLength, box.DiagonalLength, 10 * box.DiagonalLength)


def eye_place(repair):
    """Where the eye is, in the hull's own coordinates."""
    view, frame = _view(repair), frames.frame_of(repair.Hull)
    box = frames.box_of(repair.Hull)
    return frame.inverse().multVec(box.Center - view.getViewDirection() * (10 * box.DiagonalLength))


def at_templates(repair):
    """From above, all templates of the repair."""
    box = FreeCAD.BoundBox()
    for folder in repair.Group:
        for made in getattr(folder, "Group", []):
            box.add(made.Shape.BoundBox)
    if not box.isValid():
        return
    view = _view(repair)
    view.setCameraOrientation(FreeCAD.Rotation())
    _frame(view, box.Center, box.XLength, box.YLength, 10 * box.DiagonalLength)
