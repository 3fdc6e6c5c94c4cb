#include "core/base/numbers.h"
#include "core/output/sheet_parts.h"
#include "core/output/sheet_words.h"
#include "core/output/svg.h"
#include "core/quantities/hardener.h"
#include "core/quantities/shopping.h"
#include "core/quantities/stages.h"

namespace tearline::output::sheet {

namespace {

std::string resin_of(const Plan& plan, const Cup& cup) {
    // What is mixed of epoxy holds its hardener: the resin alone goes on the scale.
    const bool epoxy = plan.job.resin.kind == job::ResinKind::epoxy;
    const double grams = cup.resin_g - (epoxy ? cup.hardener_g.value_or(0.0) : 0.0);
    return mass(plan, grams, grams < 100.0 ? 1 : 0);
}

std::string cup_rows(const Plan& plan, const std::vector<Cup>& cups, bool topcoat) {
    std::string out;
    for (std::size_t i = 0; i < cups.size(); ++i) {
        const Cup& cup = cups[i];
        const std::string resin =
            topcoat ? mass(plan, cup.resin_g, cup.resin_g < 100.0 ? 1 : 0) : resin_of(plan, cup);
        out += tag("tr",
                   left(tick_box()) +
                       left(keep("cup " + std::to_string(i + 1) + " of " +
                                 std::to_string(cups.size()))) +
                       cell(keep(tag("b", resin))) +
                       cell(keep(tag("b", dose(plan, cup, topcoat)))) + cell(blank(7)) +
                       cell(cup.use_within_min ? fixed(*cup.use_within_min, 0) + " min: " + blank(6)
                                               : blank(7)) +
                       cell(blank(7))) +
               "\n";
    }
    return out;
}

std::string plies_of(const Stage& stage) {
    if (stage.plies.empty()) return "priming coat on the ground glass";
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
         {Column{"Used", "6%", false}, Column{"Cup", "12%", false}, Column{"Resin", "20%", true},
          Column{"Hardener", "26%", true}, Column{"Mixed at", "12%", true},
          Column{"Use up by", "13%", true}, Column{"Gelled at", "11%", true}})
        out +=
            tag("th", column.words,
                "width=\"" + std::string(column.width) +
                    (column.figure ? "\" class=\"figure\" align=\"right\"" : "\" align=\"left\""));
    return tag("thead", tag("tr", out)) + "\n";
}

/// A row over the whole table.
std::string wide(const std::string& content, const std::string& style) {
    return tag("tr", tag("td", content, "colspan=\"7\" class=\"" + style + "\"")) + "\n";
}

std::string position_words(const Plan& plan) {
    const std::string limit =
        "At most " + thickness(plan, quantities::stage_limit(plan.job), 1) + " are laid wet on wet";
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
    const std::string reason =
        quantities::reason_against_gel_time(plan.job).plain(plan.job.display_units);
    if (!reason.empty())
        return tag("b", "No time is given for the cups:") + " " + escaped(reason) +
               ". Gel a test cup first, and use each cup within " +
               fixed(100.0 * plan.job.laminator.use_fraction, 0) + " % of the time it took.";
    return "Gel time " + fixed(plan.job.resin.gel_minutes->value(), 0) + " min at " +
           warmth(plan, plan.job.resin.gel_at->temperature) + "; each cup is used within " +
           fixed(100.0 * plan.job.laminator.use_fraction, 0) + " % of it.";
}

std::string range_words(const Plan& plan) {
    const job::Resin& resin = plan.job.resin;
    if (resin.kind == job::ResinKind::epoxy) {
        const auto [a, b] = resin.hardener_parts.value_or(std::array<double, 2>{0.0, 0.0});
        return "Epoxy by its fixed ratio only, " + shortest(a) + " : " + shortest(b) + " by " +
               (resin.hardener_basis == job::Basis::volume ? "volume" : "mass") +
               ": neither more nor less hardener changes its speed, it only fails to cure.";
    }
    const std::string basis = resin.hardener_basis == job::Basis::volume ? "volume" : "mass";
    if (!resin.hardener_percent)
        return "Hardener: the job gives no figure, and none is assumed. Take the data sheet's.";
    return "Hardener " + shortest(*resin.hardener_percent) + " % by " + basis + ", allowed " +
           shortest(resin.hardener_range[0]) + " to " + shortest(resin.hardener_range[1]) +
           " %; resin " + shortest(resin.density.value()) + " g/mL, hardener " +
           shortest(resin.hardener_density.value()) + " g/mL. Never add more to a laid laminate." +
           (resin.drops_per_mL ? "" : " No drops: count yours to 1 mL first.");
}

}  // namespace

std::string stages_page(const Plan& plan) {
    std::string out = section("Laying: stages and cups", true);
    out += tag("p", position_words(plan) +
                        " Mix one cup at a time, hardener last, and write the "
                        "time on it. " +
                        fixed(100.0 * plan.job.resin.waste, 0) +
                        " % is in the cups for what stays in pots, rollers and brushes.") +
           "\n";
    out += tag("p", time_words(plan)) + "\n" + tag("p", range_words(plan)) + "\n";
    out += "<table width=\"100%\" class=\"cups\">" + cups_head() + "<tbody>\n";
    for (std::size_t i = 0; i < plan.stages.size(); ++i) {
        const Stage& stage = plan.stages[i];
        const std::string thick =
            stage.plies.empty() ? "" : ", " + thickness(plan, stage.thickness_mm);
        out += wide(tag("b", "Stage " + std::to_string(i + 1) + ": " + plies_of(stage)) + thick,
                    "stage");
        out += cup_rows(plan, stage.cups, false);
        if (!stage.then.empty()) out += wide("Then: " + escaped(stage.then), "then");
    }
    if (!plan.topcoat_cups.empty() && quantities::takes_topcoat(plan.job)) {
        out += wide(tag("b", "Last: topcoat") + ", " +
                        (plan.job.topcoat.final_coat ? "final" : "sanded off again") + ", " +
                        shortest(plan.job.topcoat.hardener_percent) + " % of its own hardener",
                    "stage");
        out += cup_rows(plan, plan.topcoat_cups, true);
    }
    return out + "</tbody></table>\n";
}

}  // namespace tearline::output::sheet
