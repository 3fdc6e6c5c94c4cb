"""The workbench in German and French, switched as FreeCAD is: see ../workbench_window_test.py."""
import FreeCADGui
from PySide import QtGui

import sample_repair
import window
from window import check, panel, picture, press, settle, wait_until, widget

# Language of FreeCAD; what the strip and a field say in it (resources/translations).
WORDS = [("German", "Geplant", "Schäftverhältnis"), ("French", "Planifié", "Rapport de biseau"),
         ("English", "Planned", "Ratio")]


def main():
    window.tidy()
    document = window.new_document()
    repair = sample_repair.sample_repair(document)
    window.fit(document)
    for language, planned, ratio in WORDS:
        FreeCADGui.setLocale(language)
        settle(0.3)
        FreeCADGui.Selection.addSelection(repair)
        FreeCADGui.runCommand("Tearline_Edit")
        wait_until(panel, "the panel")
        settle(0.6)
        check(widget("PlanState").text() == planned, widget("PlanState").text())
        labels = [label.text() for label in panel().form.findChildren(QtGui.QLabel)]
        check(ratio in labels, f"{ratio} in {labels}")
        check(repair.PlanState == "Planned", "what the file holds is the same in every language")
        picture("40-" + language.lower())
        press({"German": "Abbrechen", "French": "Annuler"}.get(language, "Cancel"))
        settle(0.3)


window.run(main)
