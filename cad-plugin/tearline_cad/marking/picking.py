"""Between the mouse and the hull."""
import math

import FreeCAD


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

    def _names(self):
        """The hull and whatever it is nested in."""
        return {self.hull.Name, *(parent.Name for parent in self.hull.InListRecursive)}

    def on_hull(self, pixel):
        """The point of the hull under a pixel, as it is shown, or None."""
        names = self._names()
        for hit in self.view.getObjectsInfo(pixel) or []:
            if hit["Object"] in names:
                return FreeCAD.Vector(hit["x"], hit["y"], hit["z"])
        return None

    def distance(self, pixel, point):
        """[pixels] from a pixel to where a point is seen."""
        seen = self.view.getPointOnScreen(point)
        return math.hypot(seen[0] - pixel[0], seen[1] - pixel[1])

    def nearest(self, pixel, points, within):
        """Number of the point that is seen nearest, or None when none is within [pixels]."""
        found = [(self.distance(pixel, point), index) for index, point in enumerate(points)]
        best = min(found, default=(within + 1, None))
        return best[1] if best[0] <= within else None
