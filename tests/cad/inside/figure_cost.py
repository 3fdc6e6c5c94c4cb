"""Processor time of the window's own thread for a changed figure, for tests/bench/changed_figure.py: a line of JSON
each on FreeCAD's own output."""
import json
import statistics
import time

import window
from at_view import at_the_panel
from figure_steps import change
from tearline_cad.document import plan_store

# A field, and what is written into it by turns: figures of resin, of the scarf, and of the depth, which changes the plies.
FIGURES = [("Waste", "20 %", "10 %"), ("Ratio", "10", "12"), ("Depth", "7", "6.3")]
TURNS = 3


def seconds_to_read(plan):
    """What reading the plan takes Python's own reader of JSON: how fast this machine is just now."""
    begun = time.thread_time()
    json.loads(plan)
    return time.thread_time() - begun


def main():
    _, repair, _ = at_the_panel()
    for name, *texts in FIGURES:
        for _ in range(TURNS):
            for text in texts:
                took, steps = change(repair, name, text)
                plan = plan_store.parts(repair)["plan.json"]
                yard = statistics.median(seconds_to_read(plan) for _ in range(5))
                shapes = sum(spent for spent, shaped in zip(steps.seconds, steps.shaped) if shaped)
                print("figure " + json.dumps({"name": name, "plan": took, "drawing": sum(steps.seconds) - shapes,
                                              "shapes": shapes, "step": max(steps.seconds), "beside": steps.beside, "yard": yard}), flush=True)


window.run(main)
