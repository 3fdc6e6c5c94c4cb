#include <algorithm>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/consumables.h"
#include "core/quantities/cups.h"
#include "core/quantities/finish_amounts.h"
#include "core/quantities/proud_scarf.h"
#include "core/quantities/stage_words.h"
#include "core/quantities/work_time.h"

namespace tearline::job_sheet {

namespace {

constexpr double board_radius_mm = 1000.0;  // common practice: a long board bends to no less
// In 1 m2 a litre.
constexpr double us_ft2_a_gallon =
    128.0 * us::millilitres_per_fluid_ounce * 1e3 / (us::mm_per_foot * us::mm_per_foot);
constexpr double edge_radius_mm = 3.0;  // tighter than this is an edge to the hand

/// "P320, P400, P600": the grits from the first that is at least `from` to `to`.
std::string grits(const Plan& plan, int from, int to) {
    std::string out;
    for (const int grit : quantities::sanding_grits(plan.job))
        if (grit >= from && grit <= to) out += (out.empty() ? "P" : ", P") + std::to_string(grit);
    return out;
}

/// The widest ply: the hull as a board goes over it.
const templates::LaidPly* widest_ply(const Plan& plan) {
    const templates::LaidPly* widest = nullptr;
    for (const templates::LaidPly& ply : plan.plies)
        if (widest == nullptr || ply.edge_offset_mm > widest->edge_offset_mm) widest = &ply;
    return widest;
}

std::string board_at(const Plan& plan, const std::optional<double>& radius, bool hollow) {
    if (!radius || *radius >= board_radius_mm) return {};
    if (*radius < edge_radius_mm)
        return hollow ? " Into the inside corner a rod with paper round it, along the corner."
                      : " To the edge from both sides, never across it; a soft pad rounds it last.";
    const std::string tool =
        hollow ? "a pad or pipe a little rounder than that" : "a soft pad that bends round";
    return std::string(hollow ? " In the hollow" : " On the bend") + ", radius down to " +
           length(plan, *radius, 0) + ": " + tool + ", and strokes along its line.";
}

std::string board(const Plan& plan) {
    const templates::LaidPly* widest = widest_ply(plan);
    std::string special;
    if (widest != nullptr)
        special = board_at(plan, widest->convex_radius_mm, false) +
                  board_at(plan, widest->concave_radius_mm, true);
    return tag("b", "Long board") + " with strokes crossing each other at 45 degrees †." +
           (special.empty() ? " No bend here is too tight for it." : special);
}

std::string sand(const Plan& plan) {
    const quantities::Sanding& t = plan.quantities.sanding;
    const std::string proud =
        warn::proud_words(plan.quantities.proud.mean_mm, plan.quantities.proud.max_mm)
            .plain(plan.job.display_units);
    constexpr double shown = 0.005;  // [mm] less is 0.00
    const std::string off = t.sanding_mm >= shown
                                ? " " + thickness(plan, t.sanding_mm) +
                                      " off over the floor, back to "
                                      "the fair surface,"
                                : std::string(
                                      " dull: over the floor nothing stands above the fair "
                                      "surface,");
    return tag("b", "Sand") + off + " with " + grits(plan, 40, 80) +
           " †: " + thickness(plan, t.kept_mm) + " of fresh laminate stay (" +
           std::to_string(t.kept_plies) + " plies)." +
           (proud.empty() ? "" : " Under the covers the scarf ends " + proud + ".");
}

std::string filler(const Plan& plan) {
    const job::Resin& resin = plan.job.resin;
    std::string out = tag("b", "Fill and fair") + ": about " +
                      volume(plan, plan.quantities.totals.fairing_mL, 0) +
                      " of compound for what lies low and for pits. ";
    if (is_epoxy(plan) && resin.hardener_parts)
        out += "Mix resin and hardener " + shortest((*resin.hardener_parts)[0]) + " : " +
               shortest((*resin.hardener_parts)[1]) + " by " +
               (resin.hardener_basis == job::Basis::volume ? "volume" : "mass") +
               " first, then stir in the powder, as stiff as peanut butter †.";
    else
        out += "Its own hardener: " + blank(5) +
               " % by its tin (2 % by weight is usual †), weighed " + blank(6) + " on " + blank(6) +
               ", mixed until no streak shows.";
    return out + " Sand with " + grits(plan, 80, 180) +
           " †, a dusting of dark powder showing what "
           "is low.";
}

/// "one cup of 34.1 g scale with 0.59 mL 1-mL syringe of its own hardener (2 %, ...)", or a box
/// where the job has no figure.
std::string gel_coat_cups(const Plan& plan, double grams) {
    const std::vector<quantities::Cup> cups = quantities::topcoat_cups(Grams(grams), plan.job);
    if (cups.empty()) return {};
    const std::string coat =
        (cups.size() == 1 ? "one cup of " : std::to_string(cups.size()) + " cups, each of ") +
        in_line(poured(plan, cups.front())) + " with ";
    const auto& percent = plan.job.topcoat.hardener_percent;
    if (!percent) return coat + blank(5) + " % of its own hardener, by its data sheet";
    return coat + in_line(dose(cups.front())) + " of its own hardener (" + shortest(*percent) +
           " %; by its data sheet " + blank(5) + " %)";
}

std::string gel_coat(const Plan& plan) {
    const job::Topcoat& topcoat = plan.job.topcoat;
    const double grams = quantities::gel_coat(plan.job, plan.place.areas)->value();
    std::string out =
        tag("b", topcoat.final_coat ? "Final topcoat" : "Gel coat") + ": " + mass(plan, grams) +
        (topcoat.final_coat ? ", the last of the table of cups,"
                            : ", besides the sealing coat that was sanded off,") +
        " for " + square(plan, square_metres_from_mm2(plan.place.areas.touched_mm2()).value()) +
        ", " + quantities::film_text(topcoat.thickness, plan.job.display_units) + " wet, " +
        gel_coat_cups(plan, grams) + ", waxed in the last coat or under film.";
    if (topcoat.final_coat) out += " The glass ends that much lower.";
    return out + " Overnight, then wet with " + grits(plan, 320, 1200) + " †, and polish.";
}

/// What may go over epoxy, and the topcoat where the job names one.
std::string over_epoxy(const Plan& plan) {
    const std::string never = tag("b", "Polyester gel coat never goes over epoxy") +
                              ", unless on a tie coat that its maker names: ";
    if (!plan.quantities.totals.topcoat_g) return never + "paint it.";
    return never + "the topcoat of this job, " + mass(plan, *plan.quantities.totals.topcoat_g) +
           ", has to be one that its maker names for epoxy. Or paint.";
}

std::string paint(const Plan& plan) {
    constexpr double ft2_a_gallon = quantities::paint_m2_a_litre * us_ft2_a_gallon;
    return tag("b", is_epoxy(plan) ? "Paint" : "Or paint") + ": sand to " + grits(plan, 180, 320) +
           ", then " + fixed(quantities::paint_coats, 0) + " coats, " +
           volume(plan, quantities::paint(plan.place.areas).value(), 0) + " in all at " +
           both(plan, fixed(quantities::paint_m2_a_litre, 0) + " m² a litre",
                fixed(ft2_a_gallon, 0) + " ft² a gallon") +
           " and coat †; by its tin " + blank(8) + ".";
}

std::string cure_check(const Plan& plan) {
    std::string out =
        tag("b", "Is it cured?") + " Hardness by the data sheet " + blank(6) + ", measured " +
        blank(6) + " " + blank(6) + " " + blank(6) +
        ". Without a tester: a rag with acetone held on for 30 seconds leaves nothing "
        "sticky, and the edge of a coin no white line †. ";
    return out + (is_epoxy(plan) ? "Water and suction first, flames and sparks away."
                                 : "No hardener stands open where there is acetone.");
}

std::string sealing(const Plan& plan) {
    const job::Job& job = plan.job;
    if (is_epoxy(plan))
        return tag("b", "Wash off the blush") + " with water and a pad before any sanding †.";
    if (job.resin.waxed)
        return tag("b", "Sealed by its own wax") + ": sand it off before anything else goes on.";
    return tag("b", "Seal it") +
           (job.topcoat.final_coat
                ? " by film rolled free of air, or with waxed resin as the last coat †: "
                : " by a sealing coat of topcoat, " +
                      quantities::film_text(job.topcoat.thickness, job.display_units) +
                      " wet, by film rolled free of air, or with waxed resin as the last coat "
                      "†: ") +
           "tacky resin clogs the paper and stays soft.";
}

}  // namespace

std::string cure(const Plan& plan) {
    std::string out = section("Cure");
    out += to_tick(sealing(plan));
    out += to_tick(tag("b", "Cure") + " at least " + fixed(quantities::cure_hours, 0) + " h at " +
                   warmth(plan, Celsius(18.0)) + " or more before load, longer in the cold. From " +
                   blank(10) + " to " + blank(10));
    out += to_tick(cure_check(plan));
    return out;
}

std::string finish(const Plan& plan) {
    std::string out = section("Finish");
    const auto cut = [](const Warning& warning) {
        const auto* at_end = std::get_if<warn::CutAtHullEnd>(&warning.cause);
        return at_end != nullptr && !at_end->measured;
    };
    if (std::any_of(plan.warnings.begin(), plan.warnings.end(), cut))
        out += to_tick(tag("b", "Hull's end") +
                       ": trim the cloth flush where the templates say HULL ENDS HERE, and seal "
                       "the cut edge with resin: bare ends of glass draw water.");
    if (plan.place.lap)
        out +=
            to_tick(tag("b", "Ends of the laps") +
                    " behind the hull's edge: sand them out to nothing, and seal all of that face "
                    "with resin: bare ends of glass draw water.");
    out += to_tick(sand(plan));
    out += to_tick(board(plan));
    out += to_tick(filler(plan));
    if (is_epoxy(plan))
        out += to_tick(over_epoxy(plan));
    else
        out += to_tick(gel_coat(plan));
    if (!plan.job.topcoat.final_coat || is_epoxy(plan)) out += to_tick(paint(plan));
    return out;
}

std::string disposal(const Plan& plan) {
    std::string out = section("Afterwards");
    const std::string dust = plan.job.damage.side == job::Side::outside
                                 ? "dust bagged, that of old antifouling apart as poison"
                                 : "dust bagged";
    out += to_tick(tag("b", "Waste") +
                   ": leftovers gel outdoors and go with solid waste when cold and hard; liquid "
                   "resin, hardener and solvent to the collecting point, each in its own can; " +
                   dust + "; never a drain, the sea or a bin.");
    out +=
        to_tick(tag("b", "Rags") +
                (is_epoxy(plan) ? " with solvent into the metal can with water."
                                : " with hardener into their own metal can with water, those with "
                                  "acetone into the other: never both in one."));
    out +=
        to_tick(tag("b", "Records") +
                " filed with the boat: this sheet, lot numbers, quantities used, pictures before "
                "and after.");
    return out;
}

}  // namespace tearline::job_sheet
