#include <cmath>

#include "core/base/numbers.h"
#include "core/closing/ring_stack.h"
#include "core/formats/svg.h"
#include "core/job/given.h"
#include "core/job/sides.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/stage_words.h"

namespace tearline::job_sheet {

namespace {

std::string count_words(const std::vector<quantities::Cup>& cups) {
    return cups.size() == 1 ? "one cup" : std::to_string(cups.size()) + " cups";
}

/// "2 cups, each 250 g of resin, hardener ..."
std::string cups_words(const Plan& plan, const quantities::Stage& stage) {
    if (stage.cups.empty()) return "no cup";
    return count_words(stage.cups) + " of " + in_line(poured(plan, stage.cups.front())) +
           ", hardener " + in_line(dose(stage.cups.front()));
}

/// Whether the outer face is laid against what comes off again: a mould, whatever the resin. With
/// polyester that is job::against_mould().
bool comes_off_outside(const Plan& plan) {
    const bool epoxy = is_epoxy(plan);
    return epoxy
               ? plan.job.scarf.from == job::ScarfFrom::inside && !plan.core && !plan.backing->stays
               : job::against_mould(plan.job);
}

/// From inside the outer face is laid first, against the mould.
std::string mould_words(const Plan& plan) {
    std::string out = to_tick(tag("b", "Mould outside:") +
                              " release agent on it first, by its data sheet, and a test of it.");
    if (is_epoxy(plan))
        return out + to_tick("No polyester gel coat under epoxy: the outside is painted.");
    out += to_tick(tag("b", "Gel coat") +
                   " on the mould, unwaxed: " + mass(plan, plan.backing->gel_g) + ", " +
                   quantities::film_text(plan.job.topcoat.thickness, plan.job.display_units) +
                   " wet, then the " + tag("b", "skin coat") + ", ply " +
                   std::to_string(plan.plies.front().number) + ", " +
                   formats::escaped(plan.plies.front().fabric) +
                   ", rolled free of air: each a stage with its cups and its wait.");
    return out + to_tick(
                     "The glass ends lower by the gel coat. Outside no topcoat goes on; inside "
                     "the repair ends with its sealing coat.");
}

bool is_hole(const Plan& plan) {
    return plan.job.damage.through || plan.backing;
}

std::string who_decides() {
    return tag("p",
               tag("b", "A hole right through: ask before any work.") +
                   " Near a keel, floors, a rudder, rig or engine bed, and in a panel of the "
                   "bottom that slams, a surveyor or the designer decides first whether it is "
                   "repaired, from which side, and with what laminate.",
               "class=\"warning rank-stop\"") +
           "\n";
}

std::string way_row(const Plan& plan, const plan::Way& way) {
    const std::string name = way.chosen ? tag("b", way.from + ", this plan") : way.from;
    if (way.refused)
        return tag("tr", left(name) + tag("td", "no plan: " + formats::escaped(*way.refused),
                                          "colspan=\"6\"")) +
               "\n";
    std::string scarf = "no strength of a bond given";
    if (way.scarf_check && way.scarf_check->required_ratio)
        scarf = fixed(way.scarf_check->ratio, 1) + " : 1, asked for " +
                fixed(*way.scarf_check->required_ratio, 1) + " : 1";
    return tag("tr", left(name) + cell(length(plan, way.ground_radius_mm, 0)) +
                         cell(mass(plan, way.glass_g)) + cell(mass(plan, way.resin_g)) +
                         cell(fixed(way.hours, 1) + " h") + left(formats::escaped(way.access)) +
                         left(scarf)) +
           "\n";
}

std::string ways_table(const Plan& plan) {
    if (plan.ways.empty()) return {};
    std::string out = "<table width=\"100%\" class=\"ways\">" +
                      head({"<Laid from", "Ground, as a disc of radius", "Glass", "Resin, waste in",
                            "Work", "<Who gets where", "<Scarf, for screening"}) +
                      "<tbody>\n";
    for (const plan::Way& way : plan.ways) out += way_row(plan, way);
    return out + "</tbody></table>\n" +
           tag("p",
               "The ground radius is that of the larger face. The others are planned as this one, "
               "with its cloths in turn until the depth is full. The backing is in none of them.",
               "class=\"quiet\"") +
           "\n";
}

/// The depths of the two sides and the split that whole plies really reach.
std::string split_words(const Plan& plan) {
    if (plan.core || plan.parts.size() != 2) return {};
    double laid = 0.0, outside = 0.0;
    for (const Plan& part : plan.parts) {
        double own = 0.0;
        for (const templates::LaidPly& ply : part.plies)
            if (!ply.cover) own += ply.thickness_mm;
        laid += own;
        if (part.job.damage.side == job::Side::outside) outside += own;
    }
    const bool given = job::is_given(plan.job, "scarf.grind_back");
    return tag("p", "Of the skin, " + thickness(plan, plan.job.hull.skin.value()) + ", " +
                        fixed(100.0 * plan.job.scarf.share, 0) +
                        " % is laid from outside; whole plies make that " +
                        fixed(100.0 * outside / laid, 0) + " % of " + thickness(plan, laid) +
                        ". The side laid second is ground " +
                        thickness(plan, plan.job.scarf.grind_back) +
                        " deeper, into the back of the first" + (given ? "" : " †") + ".") +
           "\n";
}

std::string kind_words(const plan::BackingPlan& backing) {
    const std::string strain = fixed(100.0 * backing.strain, 2) + " %";
    switch (backing.kind) {
        case job::BackingKind::sheet:
            return "A sheet in one piece, template backing. Flat on the table it strains by " +
                   strain + " where it lies.";
        case job::BackingKind::petals:
            return "A sheet cut into petals, template backing: whole it would strain by " + strain +
                   ". Tape the cuts when it lies.";
        case job::BackingKind::stations:
            return "Station cards and battens: a sheet would strain by " + strain + ". " +
                   std::to_string(backing.stations.size()) +
                   " cards, numbered, all from one straight base line, cut to the far face" +
                   (backing.thickness_mm ? " less the sheet" : "") +
                   "; take battens and release film off besides. They are turned over, to stand "
                   "behind the hull. Checked on the opposite side of the boat, each is turned over "
                   "once more; a mould taken off that side is of no use, it is the wrong hand.";
        default:
            return {};
    }
}

std::string preform_words(const Plan& plan, const plan::BackingPlan& backing) {
    if (!backing.preformed) return {};
    return to_tick(
        tag("b", "Preform it:") + " the far face is rounder (radius down to " +
        length(plan, backing.least_radius_mm.value_or(0.0), 0) +
        ") than a flat sheet takes. Lay it up on sound skin of the same side beside the "
        "hole, or on a sister boat; never on the opposite side, which is the wrong hand.");
}

std::string passing_words(const Plan& plan, const plan::BackingPlan& backing) {
    if (!backing.passing) return {};
    const plan::ThroughHole& hole = *backing.passing;
    const std::string needs = std::isfinite(hole.least_length_mm)
                                  ? length(plan, hole.least_length_mm)
                                  : std::string("no length: it is thicker than the hole is wide");
    std::string out = tag("b", "Through its own hole") + ", " + length(plan, hole.length_mm) +
                      " by " + length(plan, hole.width_mm) + ": ";
    if (hole.passes)
        return to_tick(out + "edge first, then turned a quarter (a hole of this width needs " +
                       needs + "). Hold it by screws or strings and draw it up into its paste.");
    out += "it does not pass (needs " + needs + "). Three other ways: ";
    if (std::isfinite(hole.least_length_mm))
        out += "cut the hole to an oval of that length, " +
               square(plan, square_metres_from_mm2(hole.cut_area_mm2).value()) +
               " more of sound skin; ";
    return to_tick(out + "roll the sheet to a radius of " + length(plan, hole.roll_radius_mm) +
                   " and let it open inside; or pass two halves and join them inside with a strip "
                   "of its own laminate.");
}

/// What a backing that stays is laid up of.
std::string laid_words(const Plan& plan, const plan::BackingPlan& backing) {
    const std::string sheet = square(plan, square_metres_from_mm2(backing.area_mm2).value());
    const quantities::Stage* laid =
        quantities::stage_of(plan.quantities, quantities::Stage::Of::backing);
    const std::string cups = laid ? cups_words(plan, *laid) : std::string("no cup");
    if (backing.plies == 0)
        return "Its thickness is not given: have " + sheet +
               " of sheet ready, or write it and plan again. Its bond takes " + cups +
               "; in the totals and the shopping list.";
    return "Laid up of " + std::to_string(backing.plies) +
           (backing.plies == 1 ? " ply" : " plies") + " of " + plan::backing_mat + ", " + sheet +
           " each, " + mass(plan, backing.glass_g) + ", with " + cups +
           ", its bond in; in the totals and the shopping list.";
}

/// From inside what stays is on the hull's outer face.
std::string proud_words(const Plan& plan) {
    if (plan.job.scarf.from != job::ScarfFrom::inside || plan.core) return {};
    return "It stands proud of the outer face, lap and all: where that has to be fair, lay against "
           "a "
           "mould that comes off, or from outside. ";
}

std::string stays_words(const Plan& plan, const plan::BackingPlan& backing) {
    if (!backing.stays)
        return to_tick(tag("b", "It comes out again:") + " release film or wax on it, held to " +
                       (plan.job.scarf.from == job::ScarfFrom::both
                            ? "the face laid second over a shim as thick as the other half, " +
                                  thickness(plan, plan.job.hull.skin.value() -
                                                      plan.parts.front().job.damage.depth) +
                                  ", cut to the hole, so that the first side ends at its share."
                            : std::string("the far face.")));
    return to_tick(tag("b", "It stays:") +
                   " of the same resin family; the far face ground clean over the lap, " +
                   length(plan, backing.lap_mm, 0) +
                   " all round, bonded with the same resin. It counts neither as thickness nor as "
                   "strength. " +
                   proud_words(plan) + laid_words(plan, backing));
}

std::string backing_part(const Plan& plan) {
    if (!plan.backing) {
        if (plan.job.backing && plan.job.backing->kind == job::BackingKind::none)
            return to_tick(
                tag("b", "Backing:") +
                " none is planned. Something has to give the far face its shape: " + blank(20));
        return {};
    }
    const plan::BackingPlan& backing = *plan.backing;
    std::string out = section("Backing");
    if (!plan.core)
        out += to_tick(tag("b", "Cut out first:") +
                       " the damaged laminate along the outline (the grind guide's DAMAGE line), "
                       "right through; nothing that sounds dull stays. Look behind before the saw "
                       "goes in: tanks, pipes, wiring.");
    out += to_tick(kind_words(backing));
    out += preform_words(plan, backing) + passing_words(plan, backing);
    out += stays_words(plan, backing);
    if (comes_off_outside(plan)) out += mould_words(plan);
    return out;
}

std::string core_row(const std::string& step, const std::string& amount, const std::string& cups,
                     const std::string& then) {
    return tag("tr", left(tick_box()) + left(step) + left(amount) + left(cups) + left(then)) + "\n";
}

std::string seal_cups(const Plan& plan) {
    const quantities::Stage* seal =
        quantities::stage_of(plan.quantities, quantities::Stage::Of::core);
    return seal == nullptr ? blank(8) : cups_words(plan, *seal);
}

/// How far the core that is wet lies inside its ring, and what is filled solid.
std::string wet_words(const Plan& plan, const plan::CorePlan& made) {
    const job::Core& core = *plan.job.core;
    const std::string margin = length(plan, core.wet_margin, 0);
    std::string out =
        "Where the sandwich runs out into single skin its edge tapers 2 mm out per mm or flatter. "
        "Moisture " +
        blank(6) + ": ";
    out += core.wet_edge
               ? "the last wet place was told " + length(plan, *core.wet_edge, 0) +
                     " outside the damage; the ring lies at least " + margin + " beyond it."
               : "every wet place lies at least " + margin +
                     " inside this ring, or plan again with where the last one lies.";
    if (made.filled_mm2 > 0.0)
        out += " Along the end of the hull " + length(plan, core.edge_fill, 0) +
               " are filled solid, " +
               square(plan, square_metres_from_mm2(made.filled_mm2).value()) +
               ": the plug's template ends there.";
    return out;
}

std::string rings_row(const Plan& plan, const plan::CorePlan& made) {
    const job::Core& core = *plan.job.core;
    const auto rings = closing::ring_stack(plan.job.damage.reaches.value(), plan.job.damage.side,
                                           core, plan.job.scarf.ratio);
    return core_row(tag("b", "Core back") + " to " + length(plan, rings.core_bottom) +
                        " outside the damage on the far skin, " + length(plan, rings.core_top) +
                        " under the near one" +
                        (made.chamfer_mm > 0.0 ? ", its edge " + fixed(core.chamfer, 1) + " : 1"
                                               : ", cut square"),
                    "", "", wet_words(plan, made));
}

std::string core_steps(const Plan& plan, const plan::CorePlan& made) {
    const job::Core& core = *plan.job.core;
    const bool styrene = !is_epoxy(plan);
    std::string out = "<table width=\"100%\" class=\"core\">" +
                      head({"<Done", "<Step", "<How much", "<Cups", "<Then"}) + "<tbody>\n";
    out += rings_row(plan, made);
    out += core_row(tag("b", "Far skin") + " cured, abraded dull, dusted off", "", "its own stages",
                    "Waited from " + blank(6) + " to " + blank(6));
    out += core_row(
        tag("b", "Fit the plug dry") + ", template core: " + formats::escaped(core.material) +
            ", the same material and density",
        thickness(plan, made.plug_mm, 1) + " thick, gap " + length(plan, core.gap, 0), "",
        "It rocks nowhere; stands off at most " + thickness(plan, made.stand_off_mm));
    out += core_row(tag("b", "Seal the core") + " on all its faces",
                    made.seal_g ? mixture(plan, *made.seal_g) : "by its maker " + blank(6),
                    seal_cups(plan), "Until it drinks no more; bed it before that has cured.");
    out +=
        core_row(tag("b", "Bed it in paste") + (styrene ? ", mat against it on both faces" : ""),
                 volume(plan, made.paste_mL, 0) + " of paste, bed " + thickness(plan, core.bed, 1),
                 "paste and its hardener by its tin " + blank(8),
                 "Under vacuum or weights, until paste stands out of every kerf or bleed hole.");
    out += core_row(tag("b", "Tap it") + " when cured; fill what sounds hollow through holes", "",
                    "", "Faired to the near skin's old inner face, square over the gap.");
    out += core_row(tag("b", "Near skin"), "", "its own stages", "Not before the paste is hard.");
    return out + "</tbody></table>\n";
}

std::string sandwich_table(const plan::CorePlan& made) {
    const auto line = [](const std::string& name, double old, double now, int decimals) {
        return tag("tr", left(name) + cell(fixed(old, decimals)) + cell(fixed(now, decimals)) +
                             cell(fixed(100.0 * now / old, 0) + " %")) +
               "\n";
    };
    constexpr double kN = 1000.0;
    std::string out = "<table width=\"100%\" class=\"sandwich\">" +
                      head({"<The sandwich, for screening", "Old", "New", "New / old"}) +
                      "<tbody>\n";
    out += line("Bending stiffness, kN mm", made.before.bending_stiffness / kN,
                made.after.bending_stiffness / kN, 1);
    out += line("Moment at which a skin fails, N", made.before.moment, made.after.moment, 1);
    out += line("Shear in the core for 1 N/mm, MPa", made.before.core_shear(1.0),
                made.after.core_shear(1.0), 4);
    return out + "</tbody></table>\n" +
           tag("p",
               "Skins as membranes about their common neutral axis, their own bending in, the "
               "core's "
               "left out. First to fail: old " +
                   made.before.first_to_fail + ", new " + made.after.first_to_fail + ". " +
                   tag("b",
                       "Whether a cored structure may be repaired like this is decided by "
                       "licensed practice: surveyor, designer or class."),
               "class=\"quiet\"") +
           "\n";
}

}  // namespace

std::string hole_page(const Plan& plan) {
    if (!is_hole(plan)) return {};
    std::string out = section("Right through") + who_decides();
    out += split_words(plan) + ways_table(plan) + backing_part(plan);
    return out;
}

std::string core_page(const Plan& plan) {
    if (!plan.core) return {};
    return section("The core", !plan.parts.empty()) + core_steps(plan, *plan.core) +
           sandwich_table(*plan.core);
}

}  // namespace tearline::job_sheet
