"""A scan of the ground place, its marks clicked on it: see ../workbench_survey_test.py."""
import pathlib
import tempfile

import FreeCAD
import FreeCADGui

import ground_scan
import hand
import window
from at_panel import open_panel, planned, press_widget
from tearline_cad import api
from tearline_cad.document import ground_scans, plan_store, tables
from tearline_cad.panel import model_dialog
from tearline_cad.view.picture import Picture
from window import check, panel, picture, settle, wait_until, widget

Vector = FreeCAD.Vector
APART = 3.4  # [mm] between the scan's points (ground_scan.py)
PICKED = 5  # [pixels] about the mouse that FreeCAD takes a point in


def on_screen(thing, place):
    """A place of the panel where its scan shows it."""
    return thing.Placement.multVec(ground_scan.MOVED.multVec(place))


def marks_of(repair):
    return tables.all_of(repair, ground_scans.SCAN)[0].get("marks") or {}


def click_marks(repair, view):
    """Mark after mark; Escape stops without a mark, and the next time the first one missing is asked for."""
    thing, eye = repair.Scans[0], hand.View(view)
    press_widget("Ground scan 1 marks")
    check(panel().strip.kind == "pick" and panel().strip.words.text().endswith(" A"), panel().strip.words.text())
    eye.click(on_screen(thing, ground_scan.MARKS["A"]))
    settle(0.3)
    check(list(marks_of(repair)) == ["A"], f"{marks_of(repair)}")
    hand.key("Escape")
    settle(0.3)
    check(panel() is not None and panel().strip.kind != "pick", "Escape ends the picking, not the panel")
    press_widget("Ground scan 1 marks")
    check(panel().strip.words.text().endswith(" B"), panel().strip.words.text())
    picture("47-marks-on-the-scan")
    for name in "BC":
        eye.click(on_screen(thing, ground_scan.MARKS[name]))
        settle(0.3)
    pixel = view.getCameraNode().height.getValue() / view.getSize()[1]
    for name, place in ground_scan.MARKS.items():
        off = Vector(*marks_of(repair)[name]).distanceToPoint(ground_scan.MOVED.multVec(place))
        check(off < APART + PICKED * pixel, f"mark {name} lies {off:.1f} mm off, a pixel is {pixel:.1f}")


def main():
    window.tidy()
    document = window.new_document()
    with tempfile.TemporaryDirectory() as folder:
        job = ground_scan.write(pathlib.Path(folder), marked=False)
        repair = api.open_job(document, job)
        view = window.fit(document)
        open_panel(repair)
        # The two dialogs, of the file and of its unit, are Qt's own.
        model_dialog.ask = lambda title, endings: (str(job.with_name("ground.xyz")), "cm")
        press_widget("Add Ground scan")
        # The scan lies turned in space: seen square to it.
        view.setCameraOrientation(ground_scan.MOVED.Rotation * FreeCAD.Rotation(Vector(0, 1, 1), 180))
        wait_until(lambda: repair.Scans, "the scan")
    told = tables.all_of(repair, ground_scans.SCAN)
    check([each["model"] for each in told] == [repair.Scans[0].Name], f"{told}")
    wait_until(lambda: "made with" in repair.PlanState, "the engine asks what the scan was made with")
    kind = widget("Ground scan 1 kind")
    check(kind.currentData() == "", "which nobody guesses")
    kind.setCurrentIndex(kind.findData("light"))
    click_marks(repair, view)
    panel()._told("OutlineRound", "ground area")
    hand.fill(widget("Depth"), "")
    planned(repair)
    codes = [each["code"] for each in plan_store.plan(repair)["warnings"]]
    check("depth-taken" in codes, f"the depth is the scan's: {codes}")
    deep = Picture(repair).dish_top()
    check(abs(deep - ground_scan.DEPTH) < 0.25, f"{deep:.2f} mm deep, ground to 4 and scanned to 0.1 mm")
    FreeCADGui.runCommand("Tearline_Dish")
    picture("48-ground-scan")


window.run(main)
