"""Nothing of an older plan stays, and nothing of a deleted repair: see ../workbench_window_test.py."""
import window
from at_view import sample_boat
from sample_repair import parts
from window import check

# Each made thing beside the hull and the repair: outlines, the group of templates, the guide.
BESIDE = 5


def count_what_is_there(document, repair):
    made = 2 * repair.PlyCount + BESIDE
    names = [each.Name for each in document.Objects]
    check(len(names) == made, f"{made} objects for {repair.PlyCount} plies, not {names}")
    check([made.Number for made in parts(repair, "ply")] == list(range(1, repair.PlyCount + 1)),
          "plies are numbered in the order of laying")


def deeper_and_shallower(document, repair):
    """As many objects as there are plies, after every change, its undoing and its redoing."""
    counts = []
    for depth in (6, 9, 6, 3, 9):
        document.openTransaction("Depth")
        repair.Depth = depth
        document.recompute()
        document.commitTransaction()
        count_what_is_there(document, repair)
        counts.append(repair.PlyCount)
    check(counts[1] > counts[0] > counts[3], f"deeper is more plies: {counts}")
    for count in counts[-2::-1]:
        document.undo()
        check(repair.PlyCount == count, "undone")
        count_what_is_there(document, repair)
    for count in counts[1:]:
        document.redo()
        check(repair.PlyCount == count, "redone")
        count_what_is_there(document, repair)


def main():
    document, repair, _ = sample_boat()
    deeper_and_shallower(document, repair)


window.run(main)
