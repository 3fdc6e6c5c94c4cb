"""Templates on a chosen paper, with the state of the writing in sight all the while: see ../workbench_daily_test.py."""
import pathlib
import re
import tempfile

import FreeCADGui
from PySide import QtCore, QtGui

import hand
import sample_repair
import window
from window import check, picture, press, settle, wait_until, widget

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tearline-test-"))
POINT = 25.4 / 72  # [mm] of a PDF's own unit
# The paper chosen, those the engine makes beside it (core/files/write_plan.h): a roll is no sheet for a job sheet.
MADE = ["templates-A4.pdf", "templates-roll-610-mm.pdf", "job-sheet-A4.pdf"]


def progress_bar():
    """The bar, in sight or not."""
    return FreeCADGui.getMainWindow().findChild(QtGui.QProgressBar, "FilesBar")


class Watch:
    """What the panel shows, a hundred times a second."""

    def __init__(self):
        self.seen = []
        self._timer = QtCore.QTimer()
        self._timer.timeout.connect(self._look)
        self._timer.start(10)

    def _look(self):
        bar = progress_bar()
        told = (widget("FilesState").text(), bar.isVisible(), bar.value() if bar.maximum() else None,
                widget("Write", QtGui.QPushButton).text())
        if not self.seen or self.seen[-1] != told:
            self.seen.append(told)
        if len(self.seen) > 2 and not (FOLDER / "seen").exists() and "roll" in told[0]:
            (FOLDER / "seen").touch()
            QtGui.QApplication.primaryScreen().grabWindow(0).save(str(window.PICTURES / "60-writing-a-pdf.png"))

    def end(self):
        self._look()  # as it is left
        self._timer.stop()
        return self.seen


def tick(name):
    """Clicks the little box of a format."""
    box = widget("Format " + name, QtGui.QCheckBox)
    hand.click(box.mapToGlobal(QtCore.QPoint(8, box.height() // 2)))


def choose_paper(first_letter, wanted):
    """Goes to a paper by its first letter; a busy machine, which hears the click's release late, closes the list again."""
    box = widget("Paper", QtGui.QComboBox)
    hand.click(hand.middle_of(box))
    settle(0.3)
    hand.key(first_letter)
    if box.view().isVisible():
        hand.key("Return")
    wait_until(lambda: box.currentText() == wanted, f"{wanted}, not {box.currentText()}")


def press_write():
    hand.click(hand.middle_of(widget("Write", QtGui.QPushButton)))


def pages_mm(path):
    """[(width, height)] of the pages of a PDF."""
    found = re.findall(rb"/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", path.read_bytes())
    return [(float(width) * POINT, float(height) * POINT) for width, height in found]


def write_on_a_roll():
    """Each PDF is named while it is made, the bar goes on with each, and the window with both."""
    widget("Folder").setText(str(FOLDER / "cut"))
    tick("pdf")
    check(widget("Format pdf").isChecked(), "pages are ticked")
    choose_paper("r", "roll 610")
    watch = Watch()
    press_write()
    wait_until(lambda: widget("FilesState").text().startswith("Written"), "the files", 120)
    seen = watch.end()
    for number, name in enumerate(MADE):
        shares = [share for words, visible, share, _ in seen if visible and words == f"Writing: {name}"]
        check(int(100 * number / 3) in shares, f"{name} is told of, a share of {number} in 3 done: {seen}")
    check(all(button == "Stop" for words, _, _, button in seen if words.startswith("Writing:")),
          f"it can be stopped: {seen}")
    check(seen[-1][1] is False and seen[-1][3] == "Write", f"then nothing is on its way any more: {seen[-1]}")
    check(widget("FilesState").text() == f"Written to {FOLDER / 'cut'}", widget("FilesState").text())
    check(sorted(path.name for path in (FOLDER / "cut").glob("*.pdf")) == sorted(MADE), "and nothing else is made")
    for name, width in zip(MADE, (210, 610, 210)):
        pages = pages_mm(FOLDER / "cut" / name)
        # A PDF of Qt's rounds its pages to whole points.
        check(pages and all(abs(page[0] - width) < POINT for page in pages), f"{name}: {pages}, {width} mm wide")
    picture("61-written")


def stop_writing():
    """Stopped, the files of before stay."""
    before = {path.name: path.stat().st_mtime_ns for path in (FOLDER / "cut").iterdir()}
    press_write()
    wait_until(lambda: ".pdf" in widget("FilesState").text(), "the first PDF")
    press_write()
    wait_until(lambda: widget("Write", QtGui.QPushButton).text() == "Write", "the end of it")
    check(widget("FilesState").text() == "stopped as asked", widget("FilesState").text())
    check(not progress_bar().isVisible(), "the bar has gone")
    check({path.name: path.stat().st_mtime_ns for path in (FOLDER / "cut").iterdir()} == before,
          "the files of before stay")
    press_write()
    wait_until(lambda: widget("FilesState").text().startswith("Written"), "written after all", 120)


def main():
    window.tidy()
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    window.fit(document)
    FreeCADGui.Selection.addSelection(repair)
    FreeCADGui.runCommand("Tearline_Files")
    settle(0.3)
    write_on_a_roll()
    stop_writing()
    press("Close")


window.run(main)
