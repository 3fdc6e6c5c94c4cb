"""What a changed figure costs FreeCAD's window: see ../workbench_window_test.py.

Seconds depend on the machine: they are printed. What is held to is what is done at a time: while a person is at
work no shape is made in the recompute, and afterwards one node or one shape at a time, so that the window goes on
between.
"""
import window
from at_view import at_the_panel
from figure_steps import change
from sample_repair import parts
from tearline_cad.view import redraw
from window import check, wait_until, widget


def tell(name, took, steps):
    print(f"the window's own time for a changed {name}: {took:.3f} s for the plan, then {sum(steps.seconds):.3f} s in "
          f"{len(steps.seconds)} steps, {max(steps.seconds):.3f} s at most")


def main():
    document, repair, _ = at_the_panel()
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
