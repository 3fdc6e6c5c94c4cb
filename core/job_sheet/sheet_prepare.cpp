#include <algorithm>
#include <array>

#include "core/base/numbers.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/laminate/scarf_check.h"
#include "core/quantities/cups.h"
#include "core/quantities/dew_point.h"

namespace tearline::job_sheet {

namespace {

double scarf_reach(const Plan& plan) {
    return plan.place.dish.empty()
               ? laminate::scarf_width(plan.job.scarf.ratio, plan.job.damage.depth)
               : plan.place.dish.back().x();
}

std::string grind(const Plan& plan) {
    const job::Job& job = plan.job;
    return tag("b", "Grind") + " to " + thickness(plan, job.damage.depth) +
           " inside the outline, tapering to nothing " + length(plan, scarf_reach(plan)) +
           " outside it (" + shortest(job.scarf.ratio) +
           " : 1), by the rings of the grind guide; gel coat off to its outer line. Disc of grit "
           "P36 to P40 †. Skin measured: " +
           blank(8) + (job.hull.skin ? ", the job says " + thickness(plan, *job.hull.skin) : "") +
           ".";
}

/// What stays where it is: nothing is ground and no cloth laid there.
std::string fittings(const Plan& plan) {
    const auto& openings = plan.place.openings;
    std::string out =
        tag("b", "Fittings") + ": the cloth goes round " +
        (openings.size() == 1 ? "an opening" : std::to_string(openings.size()) + " openings") +
        ". First see whether each fitting can come out: take it out, and bed it anew "
        "when all is cured. " +
        tag("b", "A seacock or skin fitting: ask first.") + " What stays is masked.";
    for (std::size_t i = 0; i < openings.size(); ++i) {
        const damage::KeptOpening& opening = openings[i];
        out += " " + std::to_string(i + 1) + ": " + length(plan, opening.width) + " by " +
               length(plan, opening.height) + ", " +
               (opening.scarf_to == job::ScarfTo::opening ? "the scarf rises to nothing at its edge"
                                                          : "ground to full depth up to its edge") +
               ", cloth " + length(plan, opening.clear) + " clear of it" +
               (opening.slit ? ", each ply slit from that hole to its edge along the red line of "
                               "its template, the slits of one ply and the next apart"
                             : "") +
               ";";
    }
    out.back() = '.';
    return out;
}

/// What a part of a repair of several, or of a hole, is laid on.
std::string floor_of_part(const job::Job& job) {
    if (job.core && job.part.below == 0.0)
        return tag("b", "Floor:") +
               " the new core, hard, faired, square over its gap. Nothing is laid before.";
    if (job.scarf.from == job::ScarfFrom::both && job.damage.side != job.scarf.first)
        return tag("b", "Floor:") +
               " the back of the side laid first, cured, tapped, ground to clean glass everywhere. "
               "Where it sounds dull it comes off.";
    return tag("b", "Backing") +
           " in place, by the part on holes right through, and fixed so that it cannot move: "
           "nothing is laid before.";
}

std::string backing(const Plan& plan) {
    if (plan.job.part.on_new) return floor_of_part(plan.job);
    const std::string words =
        "the far face's shape, sealed and waxed, fixed so that it cannot move. Cored skin: sound "
        "dry core back in, both skins scarfed.";
    if (std::any_of(plan.warnings.begin(), plan.warnings.end(), is<warn::NoFloor>))
        return tag("b", "Backing: this dish goes right through.") + " Fix a temporary mould to " +
               words;
    return tag("b", "If it goes through:") + " a backing or temporary mould to " + words;
}

std::string degrease(const Plan& plan) {
    if (is_epoxy(plan))
        return tag("b", "Clean") +
               ": wash with water (blush, salt), abrade with P80 †, brush off the dust, wipe with "
               "clean solvent, let it dry.";
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

std::string degrees(const Plan& plan, double celsius) {
    return plan.job.display_units == job::Units::metric
               ? fixed(celsius, 1) + " °C"
               : fixed(us::fahrenheit(Celsius(celsius)), 1) + " °F";
}

/// The coldest surface that may be laid on, by air and humidity.
std::string dew_table(const Plan& plan) {
    constexpr std::array<double, 5> humidities = {50, 60, 70, 80, 90};
    constexpr std::array<double, 3> warmer = {-5, 0, 5};
    std::vector<std::string> words = {"<Air"};
    for (const double humidity : humidities)
        words.push_back("Humidity " + fixed(humidity, 0) + " %");
    std::string out = "<table width=\"100%\" class=\"dew\">" + head(words) + "<tbody>\n";
    for (const double more : warmer) {
        const Celsius air(plan.job.shop.temperature.value() + more);
        std::string cells = left(tag("b", degrees(plan, air.value())));
        for (const double humidity : humidities)
            cells += cell(degrees(plan, quantities::dew_point(air, Percent(humidity)).value() +
                                            quantities::least_above_dew_point));
        out += tag("tr", cells) + "\n";
    }
    return out + "</tbody></table>\n";
}

std::string dew_words(const Plan& plan) {
    const std::string above = plan.job.display_units == job::Units::metric
                                  ? fixed(quantities::least_above_dew_point, 0) + " °C"
                                  : fixed(1.8 * quantities::least_above_dew_point, 1) + " °F";
    return to_tick(tag("b", "Dew") + ": the surface at least " + above +
                   " above the dew point †, so at least as warm as in this table. Air " + blank(6) +
                   " humidity " + blank(6) + " surface " + blank(6) +
                   ". Humidity by the data sheet, else not above 80 % †.") +
           dew_table(plan) +
           tag("p", "Dew point by Magnus' formula (17.62, 243.12 °C), and " + above + " on top.",
               "class=\"quiet\"") +
           "\n";
}

std::string test_cup(const Plan& plan) {
    const quantities::Cup cup = quantities::test_cup(plan.job);
    return to_tick(tag("b", "Test cup") +
                   ", mixed as the others are: " + mixture(plan, cup.mix_resin_g) + " of " +
                   mixture_words(plan) + ". Resin " + in_line(poured(plan, cup)) + "; hardener " +
                   in_line(dose(cup)) + ". Gelled after " + blank(6) + " min at " + blank(6) +
                   ". Keep it as the witness of cure.");
}

}  // namespace

std::string practice_note() {
    return tag("p",
               "† common practice: a rule of thumb without a source. Figures without the mark are "
               "this job's own. The data sheet goes before both.",
               "class=\"quiet\"") +
           "\n";
}

std::string preparation(const Plan& plan) {
    std::string out = section("Before: survey and preparation") + practice_note();
    out += to_tick(tag("b", "Support the hull. Look behind") +
                   " the place for tanks, wiring, seacocks; open up and shield them.");
    out += to_tick(tag("b", "Survey") +
                   ": tap round the damage and mark where it sounds dull. "
                   "Moisture " +
                   blank(6) + " meter, scale " + blank(12) + " days ashore " + blank(5));
    if (!plan.place.openings.empty()) out += to_tick(fittings(plan));
    out += to_tick(tag("b", "Mark out") +
                   ": damage outline, scarf edge, datum cross and arrows to the bow, from the "
                   "grind guide; check two distances on the hull against it.");
    out += to_tick(tag("b", "Strip") +
                   (plan.job.damage.side == job::Side::outside
                        ? ": wet-sand antifouling, where there is any, off and collect it;"
                        : ": paint and grease off;") +
                   " sheet off what is not ground.");
    out += to_tick(tag("b", "Dry") +
                   " until the meter reads under the limit that the resin's "
                   "maker or the surveyor gives: limit " +
                   blank(7) + " from " + blank(12) + ". Two readings a week apart, " + blank(7) +
                   " and " + blank(7) + ": equal is not yet dry.");
    return out;
}

namespace {

/// What is done at the hull's end before cloth goes over it.
std::string round_the_edge(const Plan& plan, const plan::LapView& lap) {
    return to_tick(tag("b", "Round the hull's edge") +
                   " before anything is laid: the ground edge to a radius of " +
                   length(plan, lap.ground_radius_mm) +
                   ", even all along (the glass brings it to " + length(plan, lap.radius_mm) +
                   "), by a card cut to it " + blank(6) + ". It begins where " +
                   (plan.job.damage.end.empty() ? "the model ends" : "the end was measured") +
                   ". Behind it grind the face over " + length(plan, lap.ground_over_mm) +
                   " from where the round ends, to clean glass and no deeper.");
}

}  // namespace

std::string grinding(const Plan& plan) {
    std::string out = section("Grinding");
    out += to_tick(grind(plan));
    if (plan.place.lap) out += round_the_edge(plan, *plan.place.lap);
    out += to_tick(tag("b", "Voids") +
                   ": chip out every one that shows pale through the laminate; fill pits flush "
                   "with filler, and leave no skin of it under the glass †. Found and filled: " +
                   blank(10));
    out += to_tick(tag("b", "Feather by sanding") +
                   ", P40 on a pad, with suction, where the dust of a grinder is not wanted †.");
    out += to_tick(backing(plan));
    out += to_tick(degrease(plan));
    out += to_tick(warm_up(plan));
    out += dew_words(plan);
    out += test_cup(plan);
    return out;
}

}  // namespace tearline::job_sheet
