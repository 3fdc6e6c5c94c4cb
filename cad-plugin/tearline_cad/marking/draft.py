"""The damage outline as the engine sees it, drawn again at every move of the mouse. Points and lines are
told in the hull's own coordinates."""
import json

import FreeCAD

from tearline_cad.document import ask_plan, hull_file, job_text
from tearline_cad.engine import client, find_program


class Draft:
    """Asks for one outline at a time; what changed meanwhile is asked for next."""

    def __init__(self, repair, on_change):
        self.repair, self._on_change = repair, on_change
        self.outline, self.scarf, self.words = [], [], ""
        self.fault = None  # where the engine finds fault with the outline
        self.along = self.across = None  # directions at the middle: to the bow, square to it
        self.scale = 1.0  # what the hull's coordinates are taken times, where it is a scan
        self._question = None
        self._again = False
        self._closed = False

    @property
    def busy(self):
        return self._question is not None

    def farthest(self, way):
        """The point of the outline that lies farthest in a direction."""
        return max(self.outline, key=lambda point: point.dot(way))

    def update(self):
        if self.busy:
            self._again = True
            return
        self._again = False
        try:
            job, model = ask_plan.job_of(self.repair)
            self._question = ask_plan.ask(
                "outline", job, lambda question: self._answered(question, model))
        except (job_text.Incomplete, hull_file.NoHull, find_program.ProgramMissing) as missing:
            self._tell([], [], str(missing))

    def _answered(self, question, model):
        self._question = None
        if self._closed:
            return
        try:
            answer = json.loads(question.result()[1])
            self.scale = answer.get("scale", 1.0)
            self.along = FreeCAD.Vector(*answer["axis_from"])
            self.across = FreeCAD.Vector(*answer["normal"]).cross(self.along)
            self._tell(self._points(answer["outline_3d"]), [self._points(s) for s in answer["scarf_3d"]], "")
        except client.Refused as refusal:
            self._tell([], [], ask_plan.in_short(refusal, model), refusal.place)
        if self._again:
            self.update()

    def _points(self, loop):
        return [FreeCAD.Vector(*point) / self.scale for point in loop]

    def _tell(self, outline, scarf, words, place=None):
        self.outline, self.scarf, self.words = outline, scarf, words
        self.fault = FreeCAD.Vector(*place) / self.scale if place else None
        self._on_change()

    def close(self):
        self._closed = True
