#include "core/base/numbers.h"
#include "core/laminate/scarf_check.h"
#include "core/output/cautions.h"
#include "core/output/sheet_parts.h"
#include "core/output/sheet_words.h"
#include "core/output/svg.h"
#include "core/quantities/proud_scarf.h"
#include "core/quantities/stage_words.h"

namespace tearline::output::sheet {

namespace {

std::string caution_list(const Plan& plan) {
    std::string out = section("Cautions, the gravest first", true) + "<ol class=\"cautions\">\n";
    for (const Caution& caution : cautions(plan.job))
        out += tag("li", tag("b", escaped(caution.heading)) + " " + escaped(caution.words)) + "\n";
    return out + "</ol>\n";
}

/// Whether the plan warns of something.
bool warns_of(const Plan& plan, const std::string& code) {
    for (const Warning& warning : plan.warnings)
        if (warning.code == code) return true;
    return false;
}

double scarf_reach(const Plan& plan) {
    return plan.dish.empty() ? laminate::scarf_width(plan.job.scarf.ratio, plan.job.damage.depth)
                             : plan.dish.back().x();
}

std::string grind(const Plan& plan) {
    const job::Job& job = plan.job;
    return tag("b", "Grind") + " to " + length(plan, job.damage.depth) +
           " inside the outline, tapering to nothing " + length(plan, scarf_reach(plan)) +
           " outside it (" + fixed(job.scarf.ratio, 0) +
           " : 1), by the rings of the grind guide; gel coat off to its outer line. Skin "
           "measured: " +
           blank(8) + (job.hull.skin ? ", the job says " + length(plan, *job.hull.skin) : "") + ".";
}

std::string backing(const Plan& plan) {
    const std::string words =
        "the far face's shape, sealed and waxed, fixed so that it cannot move. Cored skin: sound "
        "dry core back in, both skins scarfed.";
    if (warns_of(plan, "no-floor"))
        return tag("b", "Backing: this dish goes right through.") + " Fix a temporary mould to " +
               words;
    return tag("b", "If it goes through:") + " a backing or temporary mould to " + words;
}

std::string degrease(const Plan& plan) {
    if (plan.job.resin.kind == job::ResinKind::epoxy)
        return tag("b", "Clean") +
               ": wash with water (blush, salt), abrade, brush off the dust, wipe with clean "
               "solvent, let it dry.";
    return tag("b", "Clean") +
           ": brush and suck off all dust, wipe with clean acetone, let it dry. Acetone and its "
           "rags go away before the hardener is opened.";
}

std::string warm_up(const Plan& plan) {
    const job::Resin& resin = plan.job.resin;
    return tag("b", "Warm") + ": shop, hull and resin at " +
           warmth(plan, plan.job.shop.temperature) + ", never below " +
           warmth(plan, resin.least_temperature) + ". Air " + blank(6) + " hull " + blank(6) +
           " resin " + blank(6);
}

}  // namespace

std::string care_page(const Plan& plan) {
    return caution_list(plan) + warning_list(plan);
}

std::string preparation(const Plan& plan) {
    const std::string side = plan.job.damage.side == job::Side::outside ? "outside" : "inside";
    std::string out = section("Before: survey and preparation", true);
    out += to_tick(tag("b", "Support the hull. Look behind") +
                   " the place for tanks, wiring, seacocks; open up and shield them.");
    out += to_tick(tag("b", "Survey") +
                   ": tap round the damage and mark where it sounds dull. "
                   "Moisture " +
                   blank(6) + " meter, scale " + blank(12) + " days ashore " + blank(5));
    out += to_tick(tag("b", "Mark out") +
                   ": damage outline, scarf edge, datum cross and arrows to the bow, from the "
                   "grind guide; check two distances on the hull against it.");
    out += to_tick(tag("b", "Strip") +
                   ": wet-sand antifouling off and collect it; sheet off what is not ground.");
    out += to_tick(grind(plan));
    out += to_tick(tag("b", "Dry") + " until two readings a week apart agree: " + blank(8) + " " +
                   blank(8));
    out += to_tick(backing(plan));
    out += to_tick(tag("b", "Dry fit") + ", laid from the " + side +
                   ": every piece in order, its number and this-side-up towards you, arrow to the "
                   "bow, match marks meeting. Stack them in the order of laying.");
    out += to_tick(degrease(plan));
    out += to_tick(warm_up(plan));
    out += to_tick(tag("b", "Test cup") + ": 100 g mixed as the cups are. Gelled after " +
                   blank(6) + " min at " + blank(6) + ". Keep it as the witness of cure.");
    return out;
}

std::string finish(const Plan& plan) {
    const job::Job& job = plan.job;
    const Totals& t = plan.totals;
    const bool epoxy = job.resin.kind == job::ResinKind::epoxy;
    const std::string proud =
        quantities::proud_words({t.proud_mean_mm, t.proud_max_mm}).plain(job.display_units);
    std::string out = section("After: cure, fairing and finish");
    out += to_tick(tag("b", "Cure") + " at least 48 h at " + warmth(plan, Celsius(18.0)) +
                   " or more before load, longer in the cold. Barcol " + blank(6) + " " + blank(6) +
                   " " + blank(6));
    if (epoxy)
        out += to_tick(tag("b", "Wash off the blush") + " with water before any sanding.");
    else if (!job.topcoat.final_coat)
        out += to_tick(tag("b", "Sealed") + " by topcoat, " +
                       quantities::film_text(job.topcoat.thickness, job.display_units) +
                       " wet, or by film: tacky resin clogs the paper and stays soft.");
    out += to_tick(tag("b", "Sand") + " " + thickness(plan, t.sanding_mm) +
                   " off over the floor, back to the fair surface: " + thickness(plan, t.kept_mm) +
                   " of fresh laminate stay (" + std::to_string(t.kept_plies) + " plies)." +
                   (proud.empty() ? "" : " Under the covers the scarf ends " + proud + "."));
    out += to_tick(tag("b", "Fair") + ": about " + volume(plan, t.fairing_mL, 0) +
                   " of compound for what lies low and for pits; sand with a long board.");
    if (epoxy)
        out += to_tick(tag("b", "Finish") +
                       " with a system that bonds to epoxy; polyester gel "
                       "coat needs a tie coat that its maker names.");
    else
        out +=
            to_tick(tag("b", job.topcoat.final_coat ? "Final topcoat" : "Gel coat or paint") +
                    (job.topcoat.final_coat
                         ? ": " + quantities::film_text(job.topcoat.thickness, job.display_units) +
                               " wet, waxed or under film; the glass ends that much lower."
                         : ": wet film by its data sheet, about 20 mil = 0.51 mm, with its own "
                           "hardener percentage " +
                               blank(6) + ", waxed in the last coat."));
    out += to_tick(tag("b", "Records") +
                   " filed with the boat: this sheet, lot numbers, "
                   "quantities used, pictures before and after.");
    return out;
}

}  // namespace tearline::output::sheet
