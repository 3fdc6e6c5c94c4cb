"""Every command of the workbench: a name, an icon, what it says and what it does."""
import FreeCAD
import FreeCADGui
from PySide import QtGui

from tearline_cad import api, importer
from tearline_cad.commands import flat_copy, print_window, selected
from tearline_cad.document import files, plan_store, plies
from tearline_cad.document import repair as repairs
from tearline_cad.document.words import tr
from tearline_cad.panel import (boat_panel, engine_panel, files_panel, hull_panel, measure_panel,
                                open_repair, variants_panel)
from tearline_cad.view import look
from tearline_cad.view.icons import icon


def tell(words):
    """Something that went wrong, in words."""
    FreeCAD.Console.PrintError(f"Tearline: {words}\n")
    QtGui.QMessageBox.warning(FreeCADGui.getMainWindow(), "Tearline", words)


class Command:
    """`checked(repair)`: of one that is on or off, which of both it is; `fits(repair)`: whether it has a use there."""

    def __init__(self, image, words, tip, act, needs_repair=True, shortcut="", checked=None, fits=None):
        self.image, self.words, self.tip, self.act = image, words, tip, act
        self.needs_repair, self.shortcut, self.checked = needs_repair, shortcut, checked
        self.fits = fits or (lambda repair: True)
        self.name = ""

    def GetResources(self):
        # FreeCAD itself translates them, by the command's name, and again when its language is switched.
        found = {"Pixmap": icon(self.image), "MenuText": self.words, "ToolTip": self.tip}
        if self.shortcut:
            found["Accel"] = self.shortcut
        if self.checked:
            found["Checkable"] = False
        return found

    def IsActive(self):
        if not self.needs_repair:
            return True
        repair = selected.repair()
        if self.checked:
            self._check(repair is not None and self.checked(repair))
        return repair is not None and self.fits(repair)

    def _check(self, on):
        """FreeCAD asks again and again whether a command can be used, and never whether it is on."""
        for action in FreeCADGui.Command.get(self.name).getAction():
            if action.isChecked() != on:
                action.blockSignals(True)
                action.setChecked(on)
                action.blockSignals(False)

    def Activated(self, *_):
        if self.needs_repair:
            self.act(selected.repair())
        else:
            self.act()


def _take_hull():
    if not engine_panel.at_hand():
        return
    document = FreeCAD.ActiveDocument or FreeCAD.newDocument()
    hull = selected.hull() or hull_panel.ask_for_file(document)
    if hull is not None:
        hull_panel.open_panel(hull)


def _mark(repair):
    if engine_panel.at_hand():
        open_repair.open_panel(repair, marking=True)


def _edit(repair):
    if engine_panel.at_hand():
        open_repair.open_panel(repair)


def _files(repair):
    if engine_panel.at_hand():
        files_panel.open_panel(repair)


def _print(repair):
    if engine_panel.at_hand():
        try:
            print_window.open_window(repair, tell)
        except Exception as error:  # incomplete or no hull: its words say which
            tell(str(error))


def _open_job():
    if not engine_panel.at_hand():
        return
    path, _ = QtGui.QFileDialog.getOpenFileName(FreeCADGui.getMainWindow(), tr("Job file"), "",
                                                tr("Job files") + " (*.toml)")
    if not path:
        return
    try:
        if FreeCAD.ActiveDocument is None:
            importer.take_into_new(path)
        else:
            importer.take(path, FreeCAD.ActiveDocument)
    except api.NotPlanned as error:
        tell(str(error))
        return
    FreeCADGui.SendMsgToActiveView("ViewFit")


def _save_job(repair):
    path, _ = QtGui.QFileDialog.getSaveFileName(FreeCADGui.getMainWindow(), tr("Job file"),
                                                "repair.toml", tr("Job files") + " (*.toml)")
    if path:
        try:
            files.save_job(repair, path)
        except OSError as error:
            tell(f"{error.filename}: {error.strerror}")
        except Exception as error:  # incomplete or no hull: its words say which
            tell(str(error))


def _boat():
    if FreeCAD.ActiveDocument is not None and engine_panel.at_hand():
        boat_panel.open_panel(FreeCAD.ActiveDocument, selected.repairs())


def _variants(repair):
    if engine_panel.at_hand():
        variants_panel.open_panel(repair)


def _is_up_to_date(repair):
    """Whether what is shown is the plan of what the repair is; says it where it is not."""
    if repair.PlanState != repairs.PLANNED:
        tell(f"{repair.Label}: {repair.PlanState}")
    return repair.PlanState == repairs.PLANNED


def _measure(repair):
    if repair.Hull is not None and _is_up_to_date(repair):
        measure_panel.open_panel(repair)


def _copied(make, words):
    """A command that copies the selected templates, or all of them."""
    def act(repair):
        if not _is_up_to_date(repair):
            return
        document, chosen = repair.Document, FreeCADGui.Selection.getSelection()
        document.openTransaction(tr(words))
        for made in selected.templates(repair):
            make(repair, made)
        document.recompute()
        document.commitTransaction()
        # Draft selects what it makes; the same templates may be meant once more.
        FreeCADGui.Selection.clearSelection()
        for each in chosen:
            FreeCADGui.Selection.addSelection(each)
    return act


def _cards(repair):
    repair.ViewObject.SectionCards = not repair.ViewObject.SectionCards


def _is_scan(repair):
    return bool((plan_store.plan(repair) or {}).get("scan"))


def _picture(image, words, tip, name, fits=None):
    """A command that shows one of the pictures, on while that one is shown."""
    def act(repair):
        repair.ViewObject.Picture = name

    return Command(image, words, tip, act, fits=fits,
                   checked=lambda repair: repair.ViewObject.Picture == name)


def _step_ply(by):
    """Shows the next ply in the order of laying, or the one before; all of them at the ends."""
    def act(repair):
        vobj = repair.ViewObject
        if vobj.Picture == "Dish depth":
            vobj.Picture = "Plies"
        vobj.ShownPly = (vobj.ShownPly + by) % (len(plies.made_by(repair, "ply")) + 1)
        FreeCADGui.updateGui()
    return act


def _all_plies(repair):
    repair.ViewObject.ShownPly = 0


def _labels(repair):
    repair.ViewObject.Labels = not repair.ViewObject.Labels


COMMANDS = {
    "Tearline_TakeHull": Command(
        "hull", "New repair...", "Take the selected shape or mesh, or a file, as the hull of a "
        "new repair", _take_hull, needs_repair=False),
    "Tearline_Mark": Command("mark", "Mark the damage...",
                             "Click round the damage on the hull, or drag its points", _mark),
    "Tearline_Edit": Command("repair", "Repair...",
                             "Depth, scarf, plies, resin and shop, with live totals", _edit),
    "Tearline_Plies": _picture("ply", "Show plies", "Plies in their colours", "Plies"),
    "Tearline_Strain": _picture("strain", "Show strain and shear",
                                "How much mat is stretched and cloth is sheared",
                                "Strain and shear"),
    "Tearline_Dish": _picture("dish", "Show dish depth", "How deep it is ground out, and where",
                              "Dish depth"),
    "Tearline_Guide": _picture("guide", "Show the grind guide", "The rings to grind by, as lines on the hull",
                               "Grind guide"),
    "Tearline_Scan": _picture("scan", "Show the scan's deviation",
                              "How far a scan lies off its fair surface, in colour", "Scan deviation", _is_scan),
    "Tearline_Cards": Command("cards", "Section cards", "The cards that check the faired surface, where they stand",
                              _cards, checked=lambda repair: repair.ViewObject.SectionCards),
    "Tearline_Measure": Command("measure", "Measure to a mark...",
                                "From a place on the hull to the edges of the plies, along the hull", _measure),
    "Tearline_Boat": Command("boat", "Boat...", "Several repairs of one boat with one nest and one shopping list",
                             _boat, needs_repair=False),
    "Tearline_Variants": Command("variants", "Variants...",
                                 "Every combination of a few values side by side; one can be taken over",
                                 _variants),
    "Tearline_ToDraft": Command("draft", "Template to Draft",
                                "Draft wires of the selected templates, or of all", _copied(
                                    flat_copy.to_draft, "Template to Draft")),
    "Tearline_ToSketch": Command("sketch", "Template to sketch",
                                 "A sketch of each selected template, or of all", _copied(
                                     flat_copy.to_sketch, "Template to sketch")),
    "Tearline_Next": Command("next", "Next ply", "One ply at a time in the order of laying",
                             _step_ply(1), shortcut="T, N"),
    "Tearline_Previous": Command("previous", "Ply before", "The ply that is laid before",
                                 _step_ply(-1), shortcut="T, P"),
    "Tearline_All": Command("all", "All plies", "All plies at once", _all_plies),
    "Tearline_Labels": Command("labels", "Labels", "Numbers of plies and names of templates",
                               _labels, checked=lambda repair: repair.ViewObject.Labels),
    "Tearline_LookDamage": Command("look", "Look at the damage",
                                   "From where the glass is laid, square to the hull",
                                   look.at_damage),
    "Tearline_LookTemplates": Command("flat", "Look at the templates",
                                      "The flat templates beside the hull, from above",
                                      look.at_templates),
    "Tearline_Files": Command("templates", "Templates and files...",
                              "Templates, grind guide, cutter files and job sheet", _files),
    "Tearline_Print": Command("print", "Print window...",
                              "Preview and print the templates at full size", _print),
    "Tearline_OpenJob": Command("job-in", "Open job file...",
                                "A repair from a job file, with its hull", _open_job,
                                needs_repair=False),
    "Tearline_SaveJob": Command("job", "Save job file...",
                                "The job file, with the hull beside it, for tearline plan",
                                _save_job),
    "Tearline_Engine": Command("engine", "Engine...", "Where the program is, and its version",
                               lambda: engine_panel.open_panel(), needs_repair=False),
}
WORK = ["Tearline_TakeHull", "Tearline_Mark", "Tearline_Edit"]
LOOK = ["Tearline_Plies", "Tearline_Strain", "Tearline_Dish", "Tearline_Guide", "Tearline_Scan",
        "Tearline_Previous", "Tearline_Next", "Tearline_All", "Tearline_Labels", "Tearline_Cards",
        "Tearline_LookDamage", "Tearline_LookTemplates", "Tearline_Measure"]
OUT = ["Tearline_Variants", "Tearline_Files", "Tearline_Boat", "Tearline_Print", "Tearline_ToDraft",
       "Tearline_ToSketch", "Tearline_OpenJob", "Tearline_SaveJob", "Tearline_Engine"]


def register():
    for name, command in COMMANDS.items():
        command.name = name
        FreeCADGui.addCommand(name, command)
