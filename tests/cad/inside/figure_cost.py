"""Processor time of the window's own thread for a changed figure, for tests/bench/changed_figure.py: a line of JSON
each on FreeCAD's own output."""
import json
import statistics
import time

import window
from at_panel import answered, open_panel
from at_view import sample_boat
from figure_steps import change
from tearline_cad.document import plan_store
from tearline_cad.view import redraw
from window import settle, wait_until

# A field, and what is written into it by turns: figures of resin, of the scarf, and of the depth, which changes the plies.
FIGURES = [("Waste", "20 %", "10 %"), ("Ratio", "10", "12"), ("Depth", "7", "6.3")]
TURNS = 3


def seconds_to_read(plan):
    """What reading the plan takes Python's own reader of JSON: how fast this machine is just now."""
    begun = time.thread_time()
    json.loads(plan)
    return time.thread_time() - begun


def main():
    _, repair, view = sample_boat()
    window.look_at_port_chine(view)
    open_panel(repair)
    answered()
    wait_until(lambda: not redraw.waiting(), "the first drawing")
    settle(0.3)
    for name, *texts in FIGURES:
        for _ in range(TURNS):
            for text in texts:
                took, steps = change(repair, name, text)
                plan = plan_store.parts(repair)["plan.json"]
                yard = statistics.median(seconds_to_read(plan) for _ in range(5))
                shapes = sum(spent for spent, shaped in zip(steps.seconds, steps.shaped) if shaped)
                print("figure " + json.dumps({"name": name, "plan": took, "drawing": sum(steps.seconds) - shapes,
                                              "shapes": shapes, "step": max(steps.seconds), "yard": yard}), flush=True)


window.run(main)
