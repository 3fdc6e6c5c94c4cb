"""What a person does wrong is said in words, never as the way through our code: see ../workbench_daily_test.py,
which looks at all that was printed."""
import pathlib
import tempfile

import FreeCAD
import FreeCADGui
from PySide import QtCore, QtGui

import hand
import sample_repair
import window
from at_panel import answered, open_panel
from tearline_cad.engine import client, find_program
from window import check, panel, press, settle, wait_until, widget

FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="tearline-test-"))
NOT_A_FOLDER = FOLDER / "file" / "inside"


def choose(*things):
    FreeCADGui.Selection.clearSelection()
    for thing in things:
        FreeCADGui.Selection.addSelection(thing)


def dialogs():
    return [each for each in QtGui.QApplication.topLevelWidgets() if isinstance(each, QtGui.QDialog) and each.isVisible()]


def say_yes(written, said):
    """Answers a dialog for a file by writing its path, then the box that says what is wrong with it."""
    def go():
        for each in dialogs():
            if isinstance(each, QtGui.QMessageBox):
                said.append(each.text())
                hand.click(hand.middle_of(each.button(QtGui.QMessageBox.Ok)))
            elif isinstance(each, QtGui.QFileDialog) and not written_already:
                written_already.append(True)
                hand.key("a", "Control_L")
                hand.write(str(written))
                hand.key("Return")
            elif isinstance(each, QtGui.QInputDialog):
                hand.key("Return")
        if not said:
            QtCore.QTimer.singleShot(300, go)

    written_already = []
    QtCore.QTimer.singleShot(500, go)


def hull_that_is_none():
    """A file that is no model, chosen in FreeCAD's own dialog."""
    for name in ("nothing.step", "nothing.stl", "nothing.ply"):
        (FOLDER / name).write_text("this is no model")
        document = FreeCAD.newDocument("Empty")
        said = []
        say_yes(FOLDER / name, said)
        FreeCADGui.runCommand("Tearline_TakeHull")
        wait_until(lambda: said, "words on the file", 20)
        check(name in said[0] and "\n" not in said[0] and "{" not in said[0], f"{said}")
        check(not document.Objects, "nothing is in the document")
        FreeCAD.closeDocument(document.Name)


def job_to_nowhere(repair):
    choose(repair)
    said = []
    say_yes(NOT_A_FOLDER / "job.toml", said)
    FreeCADGui.runCommand("Tearline_SaveJob")
    wait_until(lambda: said, "words on the folder", 20)
    check(str(NOT_A_FOLDER) in said[0] and "Errno" not in said[0], f"{said}")


def files_to_nowhere(repair):
    choose(repair)
    FreeCADGui.runCommand("Tearline_Files")
    settle(0.3)
    foreign = FOLDER / "foreign"
    foreign.mkdir()
    (foreign / "mine.txt").write_text("a person's own")
    for folder, words in ((NOT_A_FOLDER, "file"), (foreign, "mine.txt")):
        widget("Folder").setText(str(folder))
        settle(0.4)  # what was said before takes its room
        hand.click(hand.middle_of(widget("Write", QtGui.QPushButton)))
        wait_until(lambda: widget("Write", QtGui.QPushButton).text() == "Write"
                   and not widget("FilesState").text().startswith("Writing"), "words on the folder")
        check(words in widget("FilesState").text(), widget("FilesState").text())
    press("Close")
    check((foreign / "mine.txt").read_text() == "a person's own", "what is a person's own stays")


def boat_to_nowhere(repair):
    choose(repair)
    FreeCADGui.runCommand("Tearline_Boat")
    settle(0.3)
    widget("BoatFolder").setText(str(NOT_A_FOLDER / "boat"))
    hand.click(hand.middle_of(widget("Plan the boat")))
    wait_until(lambda: widget("BoatState").text(), "words on the folder")
    check(str(NOT_A_FOLDER) in widget("BoatState").text(), widget("BoatState").text())
    press("Close")


def variants_of_nonsense(repair):
    choose(repair)
    FreeCADGui.runCommand("Tearline_Variants")
    settle(0.3)
    widget("Values 0").setText("ten, twelve")
    hand.click(hand.middle_of(widget("Compare")))
    wait_until(lambda: widget("VariantsState").text() not in ("", "Planning"), "words on the values")
    check("ten" in widget("VariantsState").text(), widget("VariantsState").text())
    press("Close")


# What FreeCAD's property editor or a macro may set, with a word of what is said then.
NONSENSE = [("Depth", -3.0, "depth"), ("Ratio", 0.0, "ratio"), ("Stack", ["mat 451"], "451"),
            ("Stack", ["roving 600 @ north"], "north"), ("Fill", ["@", ""], "layup"), ("Temperature", 500.0, "temperature"),
            ("HardenerPercent", 99.0, "hardener"), ("FurtherKeys", ["resin.colour = ", "no key"], ""),
            ("FurtherKeys", ["resin.colour = 3"], "colour"), ("FurtherTables", ["no table", "x = 1"], ""),
            ("FurtherTables", ["[[fabric]]", "name = 3", "kind ="], ""), ("FurtherTables", ["[marks.A]", "at = 3", "[marks.B]", "at = 4"], "marks.A"),
            ("FurtherTables", ["[[hull.scan.tape]]", "from = 3"], ""), ("FurtherTables", ["[[damage.opening]]", "radius = \"wide\""], ""),
            ("Outline", [FreeCAD.Vector(0, 0, 0)] * 3, ""), ("Outline", [FreeCAD.Vector(float("nan"), 0, 0)] * 4, ""),
            ("Bow", FreeCAD.Vector(0, 0, 0), "bow"), ("Up", FreeCAD.Vector(1, 0, 0), "up"),
            ("HullFile", "/nowhere/hull.step", ""), ("PressFirst", [FreeCAD.Vector(0, 0, 9e9)], "")]


def recompute(document, shown):
    """As FreeCAD does after its property editor; `shown`: with the panel open, which plans by itself."""
    if shown:
        settle(0.05)
        answered()
        settle(0.05)
    document.recompute()


def set_elsewhere(document, repair, shown):
    """Each nonsense is refused in the state, and taken back the repair is planned as before."""
    wrong = []
    for name, value, word in NONSENSE[::4] if shown else NONSENSE:
        had, hull = getattr(repair, name), repair.Hull
        had = getattr(had, "Value", had)
        if name == "HullFile":
            repair.Hull = None
        setattr(repair, name, value)
        recompute(document, shown)
        state = repair.PlanState
        if state == "Planned" or word not in state or "\n" in state.strip() or not repair.isValid():
            wrong.append(f"{name} = {value}: {state}")
        repair.Hull = hull
        setattr(repair, name, had)
        recompute(document, shown)
        if repair.PlanState != "Planned":
            wrong.append(f"after {name} = {value}: {repair.PlanState}")
    check(not wrong, "\n".join(wrong))


def written_nonsense(repair):
    """Whatever is written into a figure."""
    for name, right in (("Depth", "6.3"), ("HardenerPercent", "")):
        for text in ("ten", "1/0", "1e999", "5 kg"):
            hand.fill(widget(name), text)
        hand.fill(widget(name), right)
    answered()
    check(repair.PlanState == "Planned", repair.PlanState)


def no_program(document, repair):
    client.engine().stop()
    find_program.set_program("/nowhere/tearline")
    for command in ("Edit", "Mark", "Files", "Print", "Boat", "Variants", "OpenJob", "TakeHull"):
        choose(repair)
        FreeCADGui.runCommand("Tearline_" + command)
        settle(0.3)
        check("There is no program at /nowhere/tearline" in widget("EngineState").text(), command)
        press("Close")
    repair.Ratio = 11
    document.recompute()
    check("/nowhere/tearline" in repair.PlanState, repair.PlanState)
    find_program.set_program("")
    document.recompute()
    check(repair.PlanState == "Planned", repair.PlanState)


def hull_deleted_under_the_panel(document, repair):
    open_panel(repair)
    settle(0.2)
    document.openTransaction("Delete")
    document.removeObject(repair.Hull.Name)
    document.commitTransaction()
    settle(0.5)
    check(panel() is None or panel().strip.kind == "refused", "it is refused, or the panel has gone")
    if panel() is not None:
        press("Cancel")
    settle(0.3)


def main():
    window.tidy()
    (FOLDER / "file").write_text("no folder")
    hull_that_is_none()
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    window.fit(document)
    job_to_nowhere(repair)
    files_to_nowhere(repair)
    boat_to_nowhere(repair)
    variants_of_nonsense(repair)
    set_elsewhere(document, repair, False)
    open_panel(repair)
    written_nonsense(repair)
    set_elsewhere(document, repair, True)
    press("OK")
    no_program(document, repair)
    hull_deleted_under_the_panel(document, repair)


window.run(main)
