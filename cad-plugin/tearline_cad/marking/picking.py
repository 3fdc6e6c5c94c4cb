"""Between the mouse and the hull, in one 3D view."""
import math

import FreeCAD
from pivy import coin


def seen_at(view, point):
    """Where a view shows a point, in its own pixels from its lower left corner. FreeCAD's getPointOnScreen is off in a view
    that is higher than wide: Coin shows more of the scene there (SoCamera::ADJUST_CAMERA)."""
    port = view.graphicsView().viewport()
    ratio = port.devicePixelRatioF()
    wide, high = port.width() * ratio, port.height() * ratio
    volume = view.getCameraNode().getViewVolume(wide / high)
    if wide < high:
        volume.scale(high / wide)
    x, y, _ = volume.projectToScreen(coin.SbVec3f(*point)).getValue()
    return x * wide, y * high


class Picker:
    """Looks through one 3D view at one hull."""

    def __init__(self, view, hull):
        self.view, self.hull = view, hull
        self.port = view.graphicsView().viewport()

    def pixel(self, event):
        """Where the mouse is, in the view's own pixels from its lower left corner."""
        at = event.position() if hasattr(event, "position") else event.pos()
        ratio = self.port.devicePixelRatioF()
        return (int(round(at.x() * ratio)),
                int(round((self.port.height() - 1 - at.y()) * ratio)))

    def _way_to(self, hit):
        """Names of the objects from the outermost one in the tree down to the one that was hit."""
        outer = hit.get("ParentObject")
        names = [getattr(outer, "Name", outer)] if outer else []
        names += [name for name in hit.get("SubName", "").split(".") if name]
        return [*names, hit["Object"]]

    def _is_hull(self, way):
        if self.hull.Name not in way:
            return False
        # Another link to the same hull stands elsewhere.
        document = self.hull.Document
        beyond = [document.getObject(name) for name in way if name != self.hull.Name]
        return not any(each is not None and each.isDerivedFrom("App::Link") for each in beyond) \
            or self.hull.isDerivedFrom("App::Link")

    def on_hull(self, pixel):
        """The point of the hull under a pixel, as it is shown; None beside it, and where another body
        stands before it."""
        document = self.hull.Document
        for hit in self.view.getObjectsInfo(pixel) or []:
            made = document.getObject(hit["Object"])
            if made is not None and hasattr(made, "Role"):
                continue  # a ply or a template is no body
            if self._is_hull(self._way_to(hit)):
                return FreeCAD.Vector(hit["x"], hit["y"], hit["z"])
            return None
        return None

    def beside_hull(self, pixel, within):
        """The point of the hull that is seen next to a pixel beside it, so that its end can be meant; None where
        it is farther than [pixels]."""
        for reach in (0.3 * within, 0.6 * within, within):
            for turn in range(12):
                way = math.pi * turn / 6
                found = self.on_hull((int(pixel[0] + reach * math.cos(way)), int(pixel[1] + reach * math.sin(way))))
                if found is not None:
                    return found
        return None

    def distance(self, pixel, point):
        """[pixels] from a pixel to where a point is seen."""
        seen = seen_at(self.view, point)
        return math.hypot(seen[0] - pixel[0], seen[1] - pixel[1])

    def nearest(self, pixel, points, within):
        """Number of the point that is seen nearest, or None when none is within [pixels]."""
        found = [(self.distance(pixel, point), index) for index, point in enumerate(points)]
        best = min(found, default=(within + 1, None))
        return best[1] if best[0] <= within else None
