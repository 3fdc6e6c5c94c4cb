"""Templates on a chosen paper, with the state of the writing in sight all the while: see ../workbench_daily_test.py."""
import pathlib
import re
import tempfile

import FreeCADGui
from PySide import QtCore, QtGui

import hand
import window
from at_view import sample_boat
from held_printer import HeldPrinter
from window import check, picture, press, settle, wait_until, widget

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tearline-test-"))
POINT = 25.4 / 72  # [mm] of a PDF's own unit
# The paper chosen, those the engine makes beside it (core/files/write_plan.h): a roll is no sheet for a job sheet.
MADE = ["templates-A4.pdf", "templates-roll-610-mm.pdf", "job-sheet-A4.pdf"]


def progress_bar():
    """The bar, in sight or not."""
    return FreeCADGui.getMainWindow().findChild(QtGui.QProgressBar, "FilesBar")


def words():
    return widget("FilesState").text()


def button():
    return widget("Write", QtGui.QPushButton).text()


def tick(name):
    """Clicks the little box of a format."""
    box = widget("Format " + name, QtGui.QCheckBox)
    hand.click(box.mapToGlobal(QtCore.QPoint(8, box.height() // 2)))
    wait_until(box.isChecked, f"a tick at {name}")


def choose_paper(first_letter, wanted):
    """By the keys alone: the way from the last tick to the list, then its first letter."""
    box = widget("Paper", QtGui.QComboBox)
    for _ in range(10):
        if box.hasFocus():
            break
        hand.key("Tab")
    hand.key(first_letter)
    wait_until(lambda: box.currentText() == wanted, lambda: f"{wanted}, not {box.currentText()}")


def press_write():
    hand.click(hand.middle_of(widget("Write", QtGui.QPushButton)))


def pages_mm(path):
    """[(width, height)] of the pages of a PDF."""
    found = re.findall(rb"/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", path.read_bytes())
    return [(float(width) * POINT, float(height) * POINT) for width, height in found]


def told_of(name, share):
    """A PDF is named while it is made, with a share of the whole, and can be stopped."""
    wait_until(lambda: words() == f"Writing: {name}", lambda: f"{name} being made, not {words()}", 120)
    bar = progress_bar()
    check(bar.isVisible() and bar.maximum() == 100 and bar.value() == int(100 * share),
          f"{name}: {bar.value()} of {bar.maximum()}, not {share}")
    check(button() == "Stop", f"{name}: {button()}")


def nothing_on_its_way(said):
    wait_until(lambda: button() == "Write", "the end of the writing", 120)
    check(not progress_bar().isVisible(), "the bar has gone")
    check(words() == said, words())


def stays(name):
    """Where a button is; steady() checks that it is there still, as FreeCAD lays the panel out anew a while later."""
    at = hand.middle_of(widget(name, QtGui.QPushButton))

    def steady():
        settle(0.5)
        now = hand.middle_of(widget(name, QtGui.QPushButton))
        check(now == at, f"{name} has moved from {at} to {now} under the mouse")

    return steady


def write_on_a_roll(printer):
    widget("Folder").setText(str(FOLDER / "cut"))
    tick("pdf")
    choose_paper("r", "roll 610")
    steady = stays("Write")
    press_write()
    for number, name in enumerate(MADE):
        told_of(name, number / len(MADE))
        if "roll" in name:
            picture("60-writing-a-pdf")
        printer.let_one_go()
    nothing_on_its_way(f"Written to {FOLDER / 'cut'}")
    steady()
    check(sorted(path.name for path in (FOLDER / "cut").glob("*.pdf")) == sorted(MADE), "and nothing else is made")
    for name, width in zip(MADE, (210, 610, 210)):
        pages = pages_mm(FOLDER / "cut" / name)
        # A PDF of Qt's rounds its pages to whole points.
        check(pages and all(abs(page[0] - width) < POINT for page in pages), f"{name}: {pages}, {width} mm wide")
    picture("61-written")


def stop_writing(printer):
    """Stopped, the files of before stay; they can be written anew after that."""
    before = {path.name: path.stat().st_mtime_ns for path in (FOLDER / "cut").iterdir()}
    steady = stays("Write")
    press_write()
    told_of(MADE[0], 0)
    steady()
    press_write()
    printer.let_one_go()  # the engine stops before the next one; it is ended where that takes long
    nothing_on_its_way("stopped as asked")
    steady()
    check({path.name: path.stat().st_mtime_ns for path in (FOLDER / "cut").iterdir()} == before,
          "the files of before stay")
    press_write()
    for number, name in enumerate(MADE):
        told_of(name, number / len(MADE))
        printer.let_one_go()
    nothing_on_its_way(f"Written to {FOLDER / 'cut'}")
    check({path.name: path.stat().st_mtime_ns for path in (FOLDER / "cut").iterdir()} != before, "written after all")


def main():
    document, repair, _ = sample_boat()
    printer = HeldPrinter(tempfile.mkdtemp(prefix="tearline-test-"))
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Files")
    settle(0.3)
    write_on_a_roll(printer)
    stop_writing(printer)
    press("Close")


window.run(main)
