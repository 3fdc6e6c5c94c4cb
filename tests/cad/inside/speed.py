"""What a changed figure costs FreeCAD's window: see ../workbench_window_test.py.

Seconds depend on the machine: they are printed. What is held to is what is done at a time: while a person is at
work no shape is made in the recompute, and afterwards one node or one shape at a time, so that the window goes on
between.
"""
import time

import hand
import window
from at_panel import answered, open_panel
from at_view import sample_boat
from sample_repair import parts
from tearline_cad.document import drawn
from tearline_cad.view import nodes, redraw
from window import check, panel, settle, wait_until, widget


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
    """Watches each step of redrawing: seconds of the window's own thread, nodes and shapes made in it."""

    def __init__(self):
        self.real, self.seconds, self.made = redraw._step, [], []
        self.nodes = [Counted(nodes, name) for name in ("surface", "lines", "edges", "dots", "shaded", "words")]
        self.shapes = Counted(drawn, "draw")
        redraw._step = self

    def _count(self):
        return sum(each.calls for each in self.nodes) + self.shapes.calls

    def __call__(self, key):
        begun, had = time.thread_time(), self._count()
        self.real(key)
        self.seconds.append(time.thread_time() - begun)
        self.made.append(self._count() - had)

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


def tell(name, took, steps):
    print(f"the window's own time for a changed {name}: {took:.3f} s for the plan, then {sum(steps.seconds):.3f} s in "
          f"{len(steps.seconds)} steps, {max(steps.seconds):.3f} s at most")


def main():
    document, repair, view = sample_boat()
    window.look_at_port_chine(view)
    open_panel(repair)
    answered()
    wait_until(lambda: not redraw.waiting(), "the first drawing")
    settle(0.3)
    plies = parts(repair, "ply")
    first, edge = plies[0].Shape, plies[-1].Shape.Length
    took, steps = change(repair, "Waste", "20 %")
    tell("waste", took, steps)
    check(plies[0].Shape.isSame(first), "a figure of resin makes no ply anew")
    check(sum(each.calls for each in steps.nodes) == 0, "and draws nothing anew")
    took, steps = change(repair, "Ratio", "10")
    tell("ratio", took, steps)
    check(max(steps.made) == 1, f"one node or one shape at a time, not {max(steps.made)}")
    check(plies[-1].Shape.Length < edge, "a steeper scarf is a smaller ply, its shape made once it is drawn")
    document.undo()
    wait_until(lambda: not redraw.waiting(), "drawing what was undone")
    check(abs(plies[-1].Shape.Length - edge) < 1e-6, "what is undone is drawn as it was")
    check(widget("Ratio").text() == "12 : 1", f"and shown in its field: {widget('Ratio').text()}")


window.run(main)
