"""The workbench in German and French, switched as FreeCAD is: see ../workbench_window_test.py."""
import FreeCADGui
from PySide import QtGui

import hand
import sample_repair
import sizes
import window
from tearline_cad.view import redraw
from window import check, panel, picture, press, settle, wait_until, widget

# Language of FreeCAD; what the strip, a field, its tip, a command and the legend say in it (resources/translations).
WORDS = [("German", "Geplant", "Schäftverhältnis", "mm nach außen je mm nach oben", "Schaden anzeichnen...",
          "Lagen in der Reihenfolge des Legens"),
         ("French", "Planifié", "Rapport de biseau", "mm vers l'extérieur par mm de hauteur", "Marquer le dommage...",
          "Plis dans l'ordre de pose"),
         ("English", "Planned", "Ratio", "mm out for each mm up", "Mark the damage...", "Plies in the order of laying")]


# What a field says to a figure that cannot be read.
UNCLEAR = {"German": "eine Zahl", "French": "un nombre", "English": "a number"}


def unclear(language):
    ratio = widget("Ratio")
    hand.fill(ratio, "ten")
    check(UNCLEAR[language] in ratio.property("fault"), ratio.property("fault"))
    hand.fill(ratio, "12")


# What the warning of an unknown gel time begins with; in English it is the engine's own sentence.
TEST_CUP = {"German": "Zu tun: Zuerst einen Probebecher anmischen: the job gives no gel time",
            "French": "À faire : D’abord un gobelet d’essai: the job gives no gel time",
            "English": "Do this: the job gives no gel time"}


def warned(language):
    told = widget("Warnings")
    lines = [told.item(k).text() for k in range(told.count())]
    check(any(line.startswith(TEST_CUP[language]) for line in lines), f"{TEST_CUP[language]} in {lines}")


TABLES = ["[[hull.scan.tape]]", "from = [2400, 1044, 520]", "to = [2950, 1030, 520]", "length = 550",
          "[[hull.scan.crease]]", "points = [[2400, 1044, 520], [2600, 1040, 520], [2950, 1030, 520]]",
          "[[damage.opening]]", "centre = [2700, 1030, 480]", "radius = 30", "keep = true",
          *(line for k, x in zip("ABC", (2400, 2500, 2600)) for line in (f"[marks.{k}]", f"at = [{x}, 1044, 520]")),
          "[[fabric]]", 'name = "yard mat"', 'kind = "mat"', 'weight = "380 g/m2"']


def everything(repair, language):
    """All that the panel can show, nothing of it cut where it is narrow."""
    repair.FurtherTables, repair.ResinKind, repair.CoreThickness = TABLES, "epoxy", 12
    repair.Through, repair.AtEnd, repair.GelMinutes = True, "lap", 20
    panel()._follow()
    for section in panel().form.area.widget().children():
        if hasattr(section, "unfold"):
            section.unfold()
    wait_until(lambda: not panel().plan.busy, "a refusal or a plan")
    picture("41-narrow-" + language.lower())
    sizes.check(panel().form, language)
    wide_buttons(language)


def wide_buttons(language):
    """Some of FreeCAD's themes leave less room for a button's words: then two stand below each other."""
    application = QtGui.QApplication.instance()
    had = application.styleSheet()
    application.setStyleSheet("QPushButton { padding: 3px 16px; border: 1px solid #808080 }")
    settle(0.5)
    panel().form.reveal(widget("MarkOnHull"))
    for name in ("MarkOnHull", "MarkAnew"):
        check(not sizes.cut_button(widget(name)), f"{language}: {widget(name).text()} is whole in a theme of wide buttons")
    picture("42-wide-buttons-" + language.lower())
    application.setStyleSheet(had)
    settle(0.2)


def other_panels(repair, language):
    for command in ("Files", "Variants", "Boat", "Measure", "Engine"):
        FreeCADGui.Selection.clearSelection()
        FreeCADGui.Selection.addSelection(repair)
        FreeCADGui.runCommand("Tearline_" + command)
        settle(0.3)
        sizes.check(task_form(), f"{language}: {command}")
        FreeCADGui.Control.closeDialog()
        settle(0.1)


def task_form():
    """What a task panel shows, by what each of them has."""
    for name in ("Folder", "VariantsState", "BoatState", "Measured", "EngineState"):
        for found in FreeCADGui.getMainWindow().findChildren(QtGui.QWidget, name):
            if found.isVisible():
                return found.parentWidget()
    raise AssertionError("no task panel")


def main():
    window.tidy()
    window.narrow(sizes.NARROW)
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    window.fit(document)
    wait_until(lambda: not redraw.waiting(), "the first drawing")
    for language, planned, ratio, tip, command, plies in WORDS:
        FreeCADGui.setLocale(language)
        settle(0.3)
        wait_until(lambda: widget("TearlineLegend").sections[0][0] == plies, f"the legend in {language}", 20)
        FreeCADGui.Selection.addSelection(repair)
        FreeCADGui.runCommand("Tearline_Edit")
        wait_until(panel, "the panel")
        settle(0.6)
        check(widget("PlanState").text() == planned, widget("PlanState").text())
        labels = [label.text() for label in panel().form.findChildren(QtGui.QLabel)]
        check(ratio in labels, f"{ratio} in {labels}")
        check(widget("Ratio").toolTip() == tip, widget("Ratio").toolTip())
        told = FreeCADGui.Command.get("Tearline_Mark").getAction()[0].text()
        check(told == command, f"the menu says {told}")
        warned(language)
        unclear(language)
        check(repair.PlanState == "Planned", "what the file holds is the same in every language")
        picture("40-" + language.lower())
        everything(repair, language)
        press({"German": "Abbrechen", "French": "Annuler"}.get(language, "Cancel"))
        settle(0.3)
        if language != "English":  # whose words are the shortest
            other_panels(repair, language)


window.run(main)
