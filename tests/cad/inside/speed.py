"""What a changed figure costs FreeCAD's window: see ../workbench_window_test.py."""
import time

import sample_repair
import window
from tearline_cad.document import ask_plan
from tearline_cad.view import redraw
from window import check, settle, wait_until


def cost(document, repair, prop, value):
    """[s] of the window's own thread for a changed property, its plan at hand; its redraw included."""
    setattr(repair, prop, value)
    ask_plan.plan_of(ask_plan.job_of(repair)[0])
    settle(0.3)
    begun = time.thread_time()
    document.recompute()
    wait_until(lambda: not redraw.waiting(), "drawing")
    return time.thread_time() - begun


def main():
    window.tidy()
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    view = window.fit(document)
    window.look_at_port_chine(view)
    first = repair.Group[0].Shape
    # The least of a few: the machine may be busy.
    resin = min(cost(document, repair, "Waste", waste) for waste in (0.2, 0.15, 0.25, 0.3))
    check(repair.Group[0].Shape.isSame(first), "a figure of resin makes no ply anew")
    ratio = cost(document, repair, "Ratio", 10)
    print(f"the window's own time for changed waste {resin:.3f} s, for a changed ratio {ratio:.3f} s")
    check(resin < 0.1, f"a figure of resin costs the window {resin:.3f} s")


window.run(main)
