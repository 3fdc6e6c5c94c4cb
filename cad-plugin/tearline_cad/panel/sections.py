"""The sections of a repair's panel that stand folded below damage, plan and layup, and which of their fields matter."""
from tearline_cad.document import ground_scans, survey, tables
from tearline_cad.document.words import tr
from tearline_cad.panel import cloth_form, fields, places_box, scan_tables
from tearline_cad.view import look

LAP = {"LapOver", "EdgeTurn", "EdgeRadius"}
GEL = ["GelTemperature", "GelPercent", "GelMass"]
EPOXY, OTHERS = {"HardenerParts"}, {"HardenerPercent", "HardenerRange"}
SCAN_PLACES = ("BowPoints", "UpPoints", "LevelPoints")


def sections_of(repair, told, do, pick, pick_on):
    """[(title, form)].

    told(name, value)                       after a change of one property
    do(words, act)                          a change of several in one step to undo
    pick(words, count, on_picked)           places of the hull are clicked
    pick_on(thing, words, named, on_place)  a place of a scan is clicked
    """
    def form(name, names, shows=lambda repair, each: True):
        return fields.Form(name, repair, names, told, lambda each: shows(repair, each))

    def places(props):
        return places_box.PlacesForm(repair, props, told, pick)

    def table(path):
        return places_box.TableList(repair, path, told, pick)

    def seen_from():
        """Nobody can click a place that is off the hull: it is where the eye is now."""
        return places_box.PlacesForm(repair, ("SeenFrom",), told,
                                     lambda words, count, done: done([look.eye_place(repair)]))

    group = fields.names_of_group
    return [
        (tr("Own cloths"), cloth_form.ClothForm(repair, told)),
        (tr("Resin"), form("Resin", group("Resin") + GEL, _shows_resin)),
        (tr("Topcoat"), form("Topcoat", group("Topcoat"))),
        (tr("Shop and sheets"), form("Shop", ["Title", *group("Shop"), "SafetyFactor", "BondShear",
                                              "DisplayUnits"])),
        (tr("Hull"), form("Hull", ["Mirror", "Surface", "Skin", "Outward", "ExactMesh"])),
        (tr("Scan"), places_box.Surveyed("Scan", [
            form("ScanForm", group("Scan")), places(SCAN_PLACES), seen_from(),
            table(survey.TAPE), table(survey.CREASE)])),
        (tr("Scan of the ground"), places_box.Surveyed("GroundScans", [
            scan_tables.ScanTables(repair, path, told, do, pick_on)
            for path in ground_scans.PATHS])),
        (tr("Marks"), places_box.Surveyed("Marks", [table(tables.MARKS)])),
        (tr("Openings"), places_box.Surveyed("Openings", [table(survey.OPENING)])),
        (tr("End of the hull"), places_box.Surveyed("EndOfHull", [
            form("Ends", group("Ends"), _shows_end), places(("Within",))])),
        (tr("Right through"), form("Through", group("Through") + group("Backing"), _shows_through)),
        (tr("Core"), form("Core", group("Core"), _shows_core)),
    ]


def _shows_resin(repair, name):
    if name in GEL:
        return repair.GelMinutes > 0
    return name not in (OTHERS if repair.ResinKind == "epoxy" else EPOXY)


def _shows_end(repair, name):
    return name not in LAP or repair.AtEnd == "lap"


def _cored(repair):
    return repair.CoreThickness.Value > 0


def _shows_through(repair, name):
    return name == "Through" or repair.Through or _cored(repair) and name.startswith("Backing")


def _shows_core(repair, name):
    return name == "CoreThickness" or _cored(repair)
