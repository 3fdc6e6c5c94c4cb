"""What a figure that is written into the panel makes the window's own thread do: seconds of its processor, nodes and
shapes made, step by step."""
import time

import hand
from tearline_cad.document import drawn
from tearline_cad.view import nodes, redraw
from window import check, panel, wait_until, widget


class Counted:
    """Counts the calls of a function of a module while it stands in for it."""

    def __init__(self, module, name):
        self.module, self.name, self.real, self.calls = module, name, getattr(module, name), 0
        setattr(module, name, self)

    def __call__(self, *words, **named):
        self.calls += 1
        return self.real(*words, **named)

    def end(self):
        setattr(self.module, self.name, self.real)


class Steps:
    """Watches each step of redrawing: seconds of the window's own thread, nodes and shapes made in it, shapes alone."""

    def __init__(self):
        self.real, self.seconds, self.made, self.shaped = redraw._step, [], [], []
        self.nodes = [Counted(nodes, name) for name in ("surface", "lines", "edges", "dots", "shaded", "words")]
        self.shapes = Counted(drawn, "draw")
        redraw._step = self

    def _count(self):
        return sum(each.calls for each in self.nodes) + self.shapes.calls

    def __call__(self, key):
        begun, had, shaped = time.thread_time(), self._count(), self.shapes.calls
        self.real(key)
        self.seconds.append(time.thread_time() - begun)
        self.made.append(self._count() - had)
        self.shaped.append(self.shapes.calls - shaped)

    def end(self):
        redraw._step = self.real
        for each in (*self.nodes, self.shapes):
            each.end()


def change(repair, name, text):
    """(seconds of the recompute, steps) of a figure that is written into the panel."""
    steps = Steps()
    took = []
    recompute = panel().plan._take

    def take():
        begun = time.thread_time()
        recompute()
        took.append(time.thread_time() - begun)
        check(steps.shapes.calls == 0, "no shape is made in the recompute")

    panel().plan._take = take
    hand.fill(widget(name), text)
    wait_until(lambda: took and not panel().plan.busy and not redraw.waiting(), f"the plan for {name} {text}")
    del panel().plan._take
    steps.end()
    return sum(took), steps
