#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/dose_tools.h"
#include "core/quantities/hardener.h"
#include "core/quantities/layup_warnings.h"
#include "core/quantities/measuring.h"
#include "core/quantities/work_time.h"

namespace tearline::job_sheet {

namespace {

constexpr double bend_radius_mm = 300.0;  // common practice: rolled from its own line below this

const templates::LaidPly* ply_of(const Plan& plan, int number) {
    for (const templates::LaidPly& ply : plan.plies)
        if (ply.number == number) return &ply;
    return nullptr;
}

/// A part of a layer as one pours it: "half of", "the rest of"; empty for all of it.
std::string part_words(const quantities::CupShare& share) {
    constexpr double about_all = 0.92;
    const double part = share.to - share.from;
    if (part > about_all) return "";
    if (share.to > about_all) return "the rest of ";
    struct Part {
        double value;
        const char *article, *words;
    };
    const std::array<Part, 7> parts = {{{0.1, "a ", "tenth of "},
                                        {0.25, "a ", "quarter of "},
                                        {1.0 / 3.0, "a ", "third of "},
                                        {0.5, "", "half of "},
                                        {2.0 / 3.0, "", "two thirds of "},
                                        {0.75, "", "three quarters of "},
                                        {0.9, "", "nine tenths of "}}};
    const auto nearest = std::min_element(parts.begin(), parts.end(), [&](auto& a, auto& b) {
        return std::abs(a.value - part) < std::abs(b.value - part);
    });
    return (share.from > 1.0 - about_all ? "another " : nearest->article) +
           std::string(nearest->words);
}

std::string cup_words(const std::vector<quantities::CupShare>& shares) {
    constexpr double too_little = 0.04;  // of a layer: what the last cup leaves serves for it
    std::string out;
    for (const quantities::CupShare& share : shares) {
        if (share.to - share.from < too_little && shares.size() > 1) continue;
        out += (out.empty() ? "" : ", ") + part_words(share) +
               (share.ply == 0 ? std::string("the ground") : "ply " + std::to_string(share.ply));
    }
    return out;
}

std::string cups_of(const Plan& plan, std::size_t index) {
    if (const int cup = plan.quantities.stages[index].boat_cup; cup > 0)
        return tag("b", boat_cup_words(cup)) + ": " +
               cup_words(quantities::cup_shares(plan.quantities, index).front());
    const quantities::Stage& stage = plan.quantities.stages[index];
    const std::size_t mixed = quantities::cups_mixed(plan.quantities, index);
    if (stage.of == quantities::Stage::Of::release) return "none: by its data sheet";
    if (mixed == 0) return "out of the next stage's first cup";
    if (stage.plies.empty() && stage.of != quantities::Stage::Of::ground)
        return (mixed == 1 ? std::string("its cup") : "its " + std::to_string(mixed) + " cups") +
               " all over it";
    const auto shares = quantities::cup_shares(plan.quantities, index);
    std::string out;
    for (std::size_t i = 0; i < shares.size(); ++i)
        out += (i == 0 ? "" : "<br/>") + tag("b", "cup " + std::to_string(i + 1)) + ": " +
               cup_words(shares[i]);
    return out;
}

std::string pieces_of(const Plan& plan, const quantities::Stage& stage) {
    std::string ids, ringed;
    bool all_ringed = true;
    for (const int number : stage.plies)
        if (const templates::LaidPly* ply = ply_of(plan, number))
            for (const templates::LaidPiece& piece : ply->pieces) {
                ids += (ids.empty() ? "" : " ") + piece.piece.id;
                if (piece.piece.press_first)
                    ringed += " " + piece.piece.id;
                else
                    all_ringed = false;
            }
    if (ringed.empty()) return ids;
    return ids + "<br/>press" + (all_ringed ? " each" : ringed) + " down at its ring first";
}

std::string stage_name(const quantities::Stage& stage) {
    if (stage.of == quantities::Stage::Of::ground) return "ground";
    if (stage.plies.empty()) return stage.part;
    if (stage.plies.size() == 1) return "ply " + std::to_string(stage.plies.front());
    return "plies " + std::to_string(stage.plies.front()) + " to " +
           std::to_string(stage.plies.back());
}

std::string resin_on_glass(const Plan& plan, const quantities::Stage& stage) {
    double resin = 0.0, glass = 0.0;
    for (const int number : stage.plies) {
        const quantities::PlyAmounts& ply = quantities::amounts_of(plan.quantities, number);
        resin += ply.resin_g;
        glass += ply.glass_g;
    }
    if (!(glass > 0.0)) return "";
    const bool by_volume = plan.job.resin.hardener_basis == job::Basis::volume;
    return unbroken(mixture(plan, resin)) + "<br/>" + unbroken("on " + mass(plan, glass)) +
           "<br/>" +
           unbroken("= " + fixed(resin / glass, 2) + " : 1" + (by_volume ? " by weight" : ""));
}

std::string minutes_words(const Plan& plan, const quantities::WorkTime& time, std::size_t index) {
    if (!quantities::use_within(plan.job)) return blank(5);
    const quantities::Stage& stage = plan.quantities.stages[index];
    if (stage.of == quantities::Stage::Of::release) return blank(5);
    if (stage.boat_cup == 0 && quantities::cups_mixed(plan.quantities, index) == 0)
        return "with stage " + std::to_string(index + 2);
    return unbroken(fixed(time.stage_minutes[index], 0) + " min") + " planned,<br/>took&#160;" +
           blank(5);
}

std::string left_words(const Plan& plan, double laid) {
    const double left_mm = plan.quantities.sanding.floor_mm - laid;
    return left_mm >= 0.0 ? thickness(plan, left_mm) + " low"
                          : thickness(plan, -left_mm) + " proud";
}

/// Widths are set so that where a cup goes stands on a line of its own.
std::string stage_head() {
    struct Column {
        const char *words, *width;
        bool figure;
    };
    std::string out;
    for (const Column& column :
         {Column{"Stage", "12%", false}, Column{"Ready before its first cup", "10%", false},
          Column{"Which cup goes where", "27%", false}, Column{"Resin on glass", "15%", true},
          Column{"Built up, and the top then", "17%", true}, Column{"Measured", "8%", false},
          Column{"Minutes", "11%", true}})
        out +=
            tag("th", column.words,
                "width=\"" + std::string(column.width) +
                    (column.figure ? "\" class=\"figure\" align=\"right\"" : "\" align=\"left\""));
    return tag("thead", tag("tr", out)) + "\n";
}

std::string stage_table(const Plan& plan) {
    const quantities::WorkTime time =
        quantities::work_time(plan.job, plan.place.areas, plan.quantities);
    std::string out = "<table width=\"100%\" class=\"laying\">" + stage_head() + "<tbody>\n";
    double laid = plan.built ? plan.built->built_mm : 0.0;
    for (std::size_t i = 0; i < plan.quantities.stages.size(); ++i) {
        const quantities::Stage& stage = plan.quantities.stages[i];
        laid += stage.thickness_mm;
        const bool cloth = !stage.plies.empty();
        out += tag("tr", left(tag("b", std::to_string(i + 1)) + ": " + stage_name(stage)) +
                             left(cloth ? pieces_of(plan, stage) : "brush, roller") +
                             left(cups_of(plan, i)) + cell(resin_on_glass(plan, stage)) +
                             cell(cloth ? unbroken(thickness(plan, laid)) + "<br/>" +
                                              unbroken(left_words(plan, laid))
                                        : "") +
                             left(cloth ? blank(6) : "") + cell(minutes_words(plan, time, i))) +
               "\n";
    }
    return out + "</tbody></table>\n" +
           tag("p",
               "Resin on glass is what the plies hold; the cups hold " +
                   fixed(100.0 * plan.job.resin.waste, 0) +
                   " % more. Built up over the floor: a straightedge over the place and a depth "
                   "gauge show how low the top still is." +
                   (quantities::use_within(plan.job)
                        ? " Minutes: wetting out and 5 for each cup †."
                        : " Minutes are not known without the gel time: write yours."),
               "class=\"quiet\"") +
           "\n";
}

/// Fabrics in the order of laying with their resin by weight.
std::string ratios(const Plan& plan) {
    std::vector<std::string> seen;
    std::string out;
    for (const templates::LaidPly& ply : plan.plies) {
        if (std::find(seen.begin(), seen.end(), ply.fabric) != seen.end()) continue;
        seen.push_back(ply.fabric);
        const auto& amounts = quantities::amounts_of(plan.quantities, ply.number);
        if (amounts.glass_g > 0.0)
            out += (out.empty() ? "" : ", ") + fixed(amounts.resin_g / amounts.glass_g, 2) +
                   " : 1 for " + formats::escaped(ply.fabric);
    }
    return out;
}

/// Where the tightest bend under the plies is, for the hand that rolls.
std::string bend_words(const Plan& plan) {
    std::optional<double> tightest;
    for (const templates::LaidPly& ply : plan.plies)
        for (const auto& radius : {ply.convex_radius_mm, ply.concave_radius_mm})
            if (radius) tightest = std::min(tightest.value_or(*radius), *radius);
    if (!tightest || *tightest > bend_radius_mm) return {};
    return *tightest < 1.0 ? "the hull's sharp edge"
                           : "the bend of " + length(plan, *tightest, 0) + " radius";
}

/// By what the ground's resin is taken out of a mixed cup.
std::string by_tool(const Plan& plan) {
    const auto tool = quantities::ground_tool(plan.job.resin, plan.quantities);
    if (!tool) return "by eye";
    if (*tool == quantities::Tool::scale) return "by the scale under that cup";
    return "by a " + std::string(quantities::facts_of(*tool).words) + " for nothing else";
}

std::string wet_ground(const Plan& plan) {
    if (!(plan.quantities.totals.prime_g > 0.0) || plan.quantities.stages.empty()) return {};
    const auto& stages = plan.quantities.stages;
    const auto coat = std::find_if(stages.begin(), stages.end(), [](const auto& stage) {
        return stage.of == quantities::Stage::Of::ground;
    });
    const auto primed = coat - stages.begin() + 1;  // behind what lies on a mould
    const std::string from = quantities::primed_from_next(plan.quantities)
                                 ? " out of the first cup of stage " + std::to_string(primed + 1) +
                                       ", " + by_tool(plan) + ","
                                 : " out of the cups of stage " + std::to_string(primed) + ",";
    const Grams ground = quantities::ground_resin(plan.job.resin, plan.quantities.totals);
    return to_tick(tag("b", "Wet the ground") + ": " + mixture(plan, ground.value()) + " of " +
                   mixture_words(plan) + from + " on " +
                   square(plan, plan.quantities.totals.ground_area_m2) +
                   ", brushed into the scratches; the first ply goes into it wet.");
}

std::string one_fluid_ounce(const Plan& plan) {
    const job::Resin& resin = plan.job.resin;
    if (!resin.hardener_percent || !resin.density) return {};
    // No scale that reads 0.1 g shows so little: mL for the syringe wherever they are known.
    const quantities::Recipe recipe = quantities::recipe_for(
        Millilitres(us::millilitres_per_fluid_ounce) * *resin.density, resin);
    if (!recipe.hardener_volume) return {};
    // As the syringe shows it: no cup of fluid ounces does.
    const std::string amount = fixed(recipe.hardener_volume->value(), 2) + " mL (" +
                               fixed(us::fluid_ounces(*recipe.hardener_volume), 3) + " fl oz)";
    return to_tick(tag("b", "A small cup:") + " one fluid ounce of resin at " +
                   shortest(*resin.hardener_percent) + " % takes " + amount +
                   " of hardener, by syringe. Drops only as counted from your own bottle, " +
                   (resin.drops_per_mL ? shortest(*resin.drops_per_mL) : blank(5)) +
                   " to 1 mL (10 to 12 an ounce at 1 to 1.25 % †).");
}

}  // namespace

std::string mixing(const Plan& plan) {
    std::string out = section("Mixing");
    out += to_tick(tag("b", "Stir the can to its bottom") +
                   " before the first cup and again before each stage: what has settled is part "
                   "of the resin †.");
    if (is_epoxy(plan)) {
        out += to_tick(tag("b", "Stir two minutes") +
                       ", scraping sides and bottom of the cup; pour it into a second clean cup "
                       "and stir again †. Streaks or clouds mean that it is not mixed.");
        out += to_tick(tag("b", "Pour it out into a flat tray:") +
                       " in the cup it heats itself and goes off early †.");
        return out;
    }
    out +=
        to_tick(tag("b", "Stir one to two minutes") + ", scraping sides and bottom of the cup †.");
    out += to_tick(tag("b", "Watch the colour:") +
                   " a promoted resin changes it as the hardener goes in †. No change: too little "
                   "hardener, or none. At once: too much. Lay neither. In the test cup it went "
                   "from " +
                   blank(8) + " to " + blank(8));
    return out + one_fluid_ounce(plan);
}

std::string laying(const Plan& plan) {
    const std::string bend = bend_words(plan);
    std::string out = section("Laying, stage by stage");
    out += to_tick(tag("b", "Nothing is mixed") +
                   " until the pieces of the stage lie torn or cut, in order, within reach.");
    out += wet_ground(plan);
    out += to_tick(tag("b", "Lay") + " low spots first" +
                   (bend.empty() ? "" : ", and along " + bend + ", the tightest here") +
                   ", then outwards.");
    out += to_tick(tag("b", "Wet out") +
                   ": tap resin in with the brush, never drag the glass †. Resin to glass by "
                   "weight " +
                   ratios(plan) + ".");
    out += to_tick(tag("b", "Roll") + " from the middle" +
                   (bend.empty() ? "" : " (at " + bend + " from its line)") +
                   " to the edge, slowly, until no white is left †.");
    out += stage_table(plan);
    out += to_tick(tag("b", "Between stages wait for tack, not for cure") +
                   ": a gloved finger leaves its print and comes away clean †" +
                   (plan.job.resin.waxed
                        ? "; but this resin is waxed: let it cure and sand it."
                        : ", within " + shortest(plan.job.resin.recoat_hours.value()) + " h."));
    return out;
}

}  // namespace tearline::job_sheet
