"""What a changed figure costs FreeCAD's window: see ../workbench_window_test.py.

Seconds depend on the machine: they are printed. What is held to is what is done at a time: while the panel is open
no shape is made but of what is selected, and none of an older plan stays; nodes are made one at a time, so that the
window goes on between, of arrays that were reckoned beside it.
"""
import math

import FreeCADGui

import window
from at_view import at_the_panel
from figure_steps import change
from sample_repair import parts
from tearline_cad.document import plan_store
from tearline_cad.view import redraw
from window import check, press, wait_until, widget


def tell(name, took, steps):
    print(f"the window's own time for a changed {name}: {took:.3f} s for the plan, then {sum(steps.seconds):.3f} s in "
          f"{len(steps.seconds)} steps, {max(steps.seconds):.3f} s at most")


def taken_up(document, plies, edge):
    """What is selected is there for FreeCAD's own tools."""
    FreeCADGui.Selection.addSelection(plies[-1])
    wait_until(lambda: not redraw.waiting(), "the shape of what is selected")
    check(0 < plies[-1].Shape.Length < edge, "a steeper scarf is a smaller ply, its shape made once it is selected")
    check(plies[0].Shape.isNull(), "and its alone")
    FreeCADGui.Selection.clearSelection()


def main():
    document, repair, _ = at_the_panel()
    plies = parts(repair, "ply")
    outer = plan_store.plan(repair)["plies"][-1]["outlines_3d"][0]["outer"]
    edge = sum(math.dist(one, other) for one, other in zip(outer, [*outer[1:], outer[0]]))
    took, steps = change(repair, "Waste", "20 %")
    tell("waste", took, steps)
    check(steps.shapes.calls == 0, "a figure of resin makes no ply anew")
    check(sum(each.calls for each in steps.nodes) == 0, "and draws nothing anew")
    took, steps = change(repair, "Ratio", "10")
    tell("ratio", took, steps)
    check(max(steps.made) == 1, f"one node or one shape at a time, not {max(steps.made)}")
    check(steps.beside > 0, "arrays are reckoned beside the window")
    check(steps.shapes.calls == 0, "no shape is made while more may be changed")
    made = [*plies, *parts(repair, "outlines"), *parts(repair, "template"), *parts(repair, "grind guide")]
    check(all(each.Shape.isNull() for each in made), "and none of the plan before is left to be taken up")
    taken_up(document, plies, edge)
    document.undo()
    wait_until(lambda: not redraw.waiting(), "drawing what was undone")
    check(all(each.Shape.isNull() for each in made), "what is undone brings no shape of a plan that is not shown")
    check(widget("Ratio").text() == "12 : 1", f"and shown in its field: {widget('Ratio').text()}")
    change(repair, "Ratio", "10")
    press("OK")
    wait_until(lambda: not redraw.waiting(), "the shapes")
    check(0 < plies[-1].Shape.Length < edge, "with the panel closed every ply has its shape")
    check(not any(each.Shape.isNull() for each in made), "and all else")
    document.undo()
    wait_until(lambda: not redraw.waiting(), "drawing what was undone")
    check(abs(plies[-1].Shape.Length - edge) < 1e-3, "what is undone is drawn as it was")  # mm, of a metre and more


window.run(main)
