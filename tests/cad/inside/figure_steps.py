"""What a figure that is written into the panel makes the window's own thread do: seconds of its processor, nodes and
shapes made, step by step."""
import time

import hand
from tearline_cad.document import drawn
from tearline_cad.view import beside, nodes, redraw
from window import check, panel, wait_until, widget


class Counted:
    """Counts the calls of a function of a module, while it stands in for it, that did something: that answer no False."""

    def __init__(self, module, name):
        self.module, self.name, self.real, self.calls = module, name, getattr(module, name), 0
        setattr(module, name, self)

    def __call__(self, *words, **named):
        done = self.real(*words, **named)
        self.calls += done is not False
        return done

    def end(self):
        setattr(self.module, self.name, self.real)


class Steps:
    """Watches each step of redrawing: seconds of the window's own thread, nodes and shapes made in it, shapes alone; and
    what was reckoned beside it."""

    def __init__(self):
        self.real, self.seconds, self.made, self.shaped = redraw._step, [], [], []
        self.nodes = [Counted(nodes, name) for name in ("surface", "lines", "edges", "dots", "shaded", "words")]
        self.shapes, self.put_away = Counted(drawn, "draw"), Counted(drawn, "put_away")
        redraw._step, self._beside = self, beside.spent()

    def _count(self):
        return sum(each.calls for each in (*self.nodes, self.shapes, self.put_away))

    def _shapes(self):
        return self.shapes.calls + self.put_away.calls

    def __call__(self, key):
        begun, had, shaped = time.thread_time(), self._count(), self._shapes()
        waits = self.real(key)
        self.seconds.append(time.thread_time() - begun)
        self.made.append(self._count() - had)
        self.shaped.append(self._shapes() - shaped)
        return waits

    def end(self):
        redraw._step, self.beside = self.real, beside.spent() - self._beside
        for each in (*self.nodes, self.shapes, self.put_away):
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
