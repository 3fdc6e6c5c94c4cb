#include <cmath>
#include <map>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/dose_tools.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"
#include "core/quantities/shopping.h"
#include "core/quantities/stages.h"

namespace tearline::job_sheet {

namespace {

/// Whole minutes, never more than there are.
std::string use_up_by(double minutes) {
    return fixed(std::floor(minutes + tolerance::decimal_rounding), 0) + " min: " + blank(6);
}

std::string cup_row(const Plan& plan, const quantities::Cup& cup, const std::string& name) {
    return tag("tr", left(tick_box()) + left(keep(name)) + cell(poured(plan, cup)) +
                         cell(dose(cup)) + cell(blank(7)) +
                         cell(cup.use_within_min ? use_up_by(*cup.use_within_min) : blank(7)) +
                         cell(blank(7))) +
           "\n";
}

/// A row over the whole table.
std::string wide(const std::string& content, const std::string& style) {
    return tag("tr", tag("td", content, "colspan=\"7\" class=\"" + style + "\"")) + "\n";
}

/// What is left of each of some equal cups, where it is anything to speak of.
std::string left_over_row(const Plan& plan, const quantities::Cup& cup, bool topcoat) {
    const auto amount = [&](double grams) {
        return topcoat ? mass(plan, grams, grams < 100.0 ? 1 : 0) : mixture(plan, grams);
    };
    constexpr double shown = 0.05;  // [g] less is 0.0
    if (!(cup.left_g >= shown)) return {};
    return wide("The job needs " + amount(cup.mix_resin_g - cup.left_g) + " of " +
                    (topcoat ? "topcoat" : mixture_words(plan)) + " a cup; " +
                    (!topcoat && quantities::rounded_up(cup, plan.job.resin)
                         ? "its doses are rounded up to what the tools show. "
                         : "less than this cannot be measured. ") +
                    tag("b", amount(cup.left_g) + " is left over") +
                    " of each: let it cure outdoors.",
                "then");
}

/// A batch of equal cups: of resin, or of topcoat, which is weighed whatever the resin's basis.
std::string cup_rows(const Plan& plan, const std::vector<quantities::Cup>& cups,
                     bool topcoat = false) {
    std::string out;
    for (std::size_t i = 0; i < cups.size(); ++i)
        if (cups[i].mix_resin_g > 0.0)
            out += cup_row(plan, cups[i],
                           "cup " + std::to_string(i + 1) + " of " + std::to_string(cups.size()));
    if (cups.empty()) return out;
    const quantities::Cup& cup = cups.front();
    if (!(cup.mix_resin_g > 0.0))
        return wide("No cup of its own, its hardener could not be measured: take " +
                        tag("b", mixture(plan, cup.resin_g)) + " of " + mixture_words(plan) +
                        " out of the first cup of the next stage, brush it on, and go on at once.",
                    "then");
    return out + left_over_row(plan, cup, topcoat);
}

/// A cup that several places take of is dosed in one place alone: on the boat's sheet.
std::string boat_cup_row(const Plan& plan, const quantities::Stage& stage) {
    double resin_g = 0.0;
    for (const quantities::Cup& cup : stage.cups) resin_g += cup.resin_g;
    return wide(tag("b", boat_cup_words(stage.boat_cup)) + ": take " +
                    tag("b", mixture(plan, resin_g)) +
                    " of it, mixed. Its doses stand there; mix "
                    "nothing here.",
                "then");
}

std::string plies_of(const quantities::Stage& stage) {
    using Of = quantities::Stage::Of;
    switch (stage.of) {
        case Of::ground:
            return "priming coat on the ground glass";
        case Of::release:
            return "release agent on the mould";
        case Of::gel_coat:
            return "gel coat on the mould";
        case Of::backing:
            return "the backing and its bond";
        case Of::core:
            return "the core sealed on all its faces";
        case Of::plies:
            break;
    }
    if (stage.plies.size() == 1) return "ply " + std::to_string(stage.plies.front());
    return "plies " + std::to_string(stage.plies.front()) + " to " +
           std::to_string(stage.plies.back());
}

/// Widths are set so that no dose breaks over two lines, where it could be misread.
std::string cups_head() {
    struct Column {
        const char *words, *width;
        bool figure;
    };
    std::string out;
    for (const Column& column :
         {Column{"Used", "5%", false}, Column{"Cup", "11%", false}, Column{"Resin", "18%", true},
          Column{"Hardener", "36%", true}, Column{"Mixed at", "10%", true},
          Column{"Use up by", "11%", true}, Column{"Gelled at", "9%", true}})
        out +=
            tag("th", column.words,
                "width=\"" + std::string(column.width) +
                    (column.figure ? "\" class=\"figure\" align=\"right\"" : "\" align=\"left\""));
    return tag("thead", tag("tr", out)) + "\n";
}

std::string position_words(const Plan& plan) {
    // Tenths of a mm, rounded down: it is the most.
    const double most =
        std::floor(10.0 * quantities::stage_limit(plan.job) + tolerance::decimal_rounding) / 10.0;
    const std::string limit = "At most " + thickness(plan, most, 1) + " are laid wet on wet";
    switch (plan.job.layup.position) {
        case job::Position::flat:
            return limit + ".";
        case job::Position::vertical:
            return limit +
                   ", three quarters of the flat figure, for work on a wall (common "
                   "practice): roll drier, watch for sagging.";
        case job::Position::overhead:
            return limit +
                   ", half of the flat figure, for work overhead (common practice): roll "
                   "dry, small pieces, watch for falling edges.";
    }
    return limit;
}

std::string time_words(const Plan& plan) {
    if (const auto reason = quantities::reason_against_gel_time(plan.job))
        return tag("b", "No time is given for the cups:") + " " +
               formats::escaped(reason->words().plain(plan.job.display_units)) +
               ". Gel a test cup first, and use each cup within " +
               fixed(100.0 * plan.job.laminator.use_fraction, 0) + " % of the time it took.";
    return "Gel time " + shortest(plan.job.resin.gel_minutes->value()) + " min at " +
           warmth(plan, plan.job.resin.gel_at->temperature) + "; each cup is used within " +
           fixed(100.0 * plan.job.laminator.use_fraction, 0) + " % of it.";
}

std::string grams_a_mL(const std::optional<GramsPerMillilitre>& density) {
    return fixed(density->value(), 2) + " g/mL";
}

std::string given_densities(const job::Resin& resin) {
    return (resin.density ? "Resin " + grams_a_mL(resin.density) + ". " : "") +
           (resin.hardener_density ? "Hardener " + grams_a_mL(resin.hardener_density) + ". " : "");
}

/// The densities that the figures rest on, for every kind of resin.
std::string density_words(const job::Resin& resin) {
    const std::string cured =
        "Cured resin " + fixed(resin.cured_density, 2) + " g/cm³" +
        (resin.kind == job::ResinKind::epoxy && !resin.cured_density_given ? " (from memory)"
                                                                           : "") +
        ".";
    if (quantities::densities_known(resin))
        return "Densities used: resin " + grams_a_mL(resin.density) + ", hardener " +
               grams_a_mL(resin.hardener_density) + ". " + cured;
    const std::string lacks = "Without " + quantities::missing_densities(resin) + " ";
    if (resin.hardener_basis != job::Basis::volume)
        return lacks + "both are shown by mass only: weigh. " + given_densities(resin) + cured;
    if (resin.kind != job::ResinKind::epoxy && resin.density)
        return lacks + "its dose is shown by volume only. " + given_densities(resin) + cured;
    return lacks + "cups are shown by volume only: grams / " +
           grams_a_mL(quantities::sizing_density) +
           " (from memory), which can only make a cup too large or too small, never its ratio "
           "wrong. " +
           given_densities(resin) + cured;
}

std::string range_words(const Plan& plan) {
    const job::Resin& resin = plan.job.resin;
    const std::string basis = resin.hardener_basis == job::Basis::volume ? "volume" : "mass";
    if (resin.kind == job::ResinKind::epoxy) {
        const auto [a, b] = resin.hardener_parts.value_or(std::array<double, 2>{0.0, 0.0});
        return "Epoxy by its fixed ratio only, " + shortest(a) + " : " + shortest(b) + " by " +
               basis +
               ": neither more nor less hardener changes its speed, it only fails to cure. " +
               density_words(resin);
    }
    if (!resin.hardener_percent)
        return "Hardener: the job gives no figure, and none is assumed. Take the data sheet's.";
    std::string out = "Hardener " + shortest(*resin.hardener_percent) + " % by " + basis;
    if (resin.hardener_range)
        out += ", allowed " + shortest((*resin.hardener_range)[0]) + " to " +
               shortest((*resin.hardener_range)[1]) + " %";
    const std::string assumed = quantities::assumed_density_words(resin);
    return out + ". " + density_words(resin) + (assumed.empty() ? "" : " " + assumed) +
           " Never add more to a laid laminate." +
           (resin.drops_per_mL ? "" : " No drops: count yours to 1 mL first.");
}

/// The tools that the table asks for, with their divisions and what each measures.
std::string tool_words(const Plan& plan) {
    std::map<quantities::Tool, std::string> used;
    for (const auto& [tool, liquid] : quantities::dose_tools(plan.job, plan.quantities)) {
        std::string& liquids = used[tool];
        liquids += (liquids.empty() ? "" : ", ") + std::string(quantities::liquid_words(liquid));
    }
    std::string out;
    for (const auto& [tool, liquids] : used) {
        const quantities::ToolFacts& facts = quantities::facts_of(tool);
        out += (out.empty() ? "" : "; ") + std::string(facts.words) + ", " +
               std::string(facts.marked) + " (" + liquids + ")";
    }
    return out.empty() ? out
                       : tag("p", tag("b", "Tools for the doses: ") + out +
                                      ". Half a division is at most 5 % of each dose. A syringe or "
                                      "jug goes into one liquid only.") +
                             "\n";
}

}  // namespace

std::string cup_table(const Plan& plan, const std::vector<NamedCup>& cups) {
    std::string out = "<table width=\"100%\" class=\"cups\">" + cups_head() + "<tbody>\n";
    for (const NamedCup& one : cups)
        out += wide(one.heading, "stage") + cup_row(plan, one.cup, one.name) +
               left_over_row(plan, one.cup, false);
    return out + "</tbody></table>\n";
}

std::string stages_page(const Plan& plan) {
    std::string out = section("Laying: stages and cups");
    out += tag("p", position_words(plan) +
                        " Mix one cup at a time, hardener last, and write the "
                        "time on it. " +
                        fixed(100.0 * plan.job.resin.waste, 0) +
                        " % is in the cups for what stays in pots, rollers and brushes.") +
           "\n";
    out +=
        tag("p", time_words(plan)) + "\n" + tag("p", range_words(plan)) + "\n" + tool_words(plan);
    out += "<table width=\"100%\" class=\"cups\">" + cups_head() + "<tbody>\n";
    for (std::size_t i = 0; i < plan.quantities.stages.size(); ++i) {
        const quantities::Stage& stage = plan.quantities.stages[i];
        const std::string thick =
            stage.plies.empty() ? "" : ", " + thickness(plan, stage.thickness_mm);
        const bool skin = plan.job.part.skin_coat && !stage.plies.empty() &&
                          stage.plies.front() == plan.plies.front().number;
        const std::string first =
            stage.primes_g > 0.0
                ? "; of its first cup " + mixture(plan, stage.primes_g) + " go on the ground first"
                : "";
        out += wide(tag("b", "Stage " + std::to_string(i + 1) + ": " + plies_of(stage) +
                                 (skin ? ", the skin coat" : "")) +
                        thick + first,
                    "stage");
        out += stage.boat_cup > 0 ? boat_cup_row(plan, stage) : cup_rows(plan, stage.cups);
        out += cup_rows(plan, stage.gel_cups, true);
        if (!stage.then.empty()) out += wide("Then: " + formats::escaped(stage.then), "then");
    }
    if (!plan.quantities.topcoat_cups.empty() && quantities::takes_topcoat(plan.job)) {
        out +=
            wide(tag("b", "Last: topcoat") + ", " +
                     (plan.job.topcoat.final_coat ? "final" : "a sealing coat, sanded off again") +
                     ", " +
                     (plan.job.topcoat.hardener_percent
                          ? shortest(*plan.job.topcoat.hardener_percent) + " % of its own hardener"
                          : "hardener by its data sheet"),
                 "stage");
        out += cup_rows(plan, plan.quantities.topcoat_cups, true);
    }
    return out + "</tbody></table>\n";
}

}  // namespace tearline::job_sheet
