#include "core/quantities/resin_warnings.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/base/us_units.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/given.h"
#include "core/laminate/ply_thickness.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"
#include "core/quantities/proud_scarf.h"
#include "core/quantities/shopping.h"
#include "core/quantities/stages.h"

namespace tearline::quantities {

namespace {

Warning warning(std::string code, Sentence words) {
    return warning_of(std::move(code), std::move(words));
}

/// A mass: grams, and ounces before them, since scales show both.
Sentence said_mass(double grams, int decimals = 0) {
    const std::string metric = fixed(grams, decimals) + " g";
    return {metric, metric, us::mass_text(Grams(grams)) + " (" + metric + ")"};
}

void warn_of_hardener(const job::Resin& resin, Warnings& out) {
    if (resin.kind == job::ResinKind::polyester && !resin.hardener_given)
        out.push_back(warning(
            "hardener-assumed",
            plainly("resin.hardener_percent is not given: ",
                    "the hardener's percentage is not yours: ") +
                shortest(*resin.hardener_percent) +
                " % is the middle of common practice, 1 to 2 % by data sheet; write your own "
                "resin's figure"));
    if (resin.kind == job::ResinKind::epoxy && !resin.cured_density_given)
        out.push_back(warning(
            "cured-density-assumed",
            plainly("resin.cured_density is not given: ", "the cured density is not yours: ") +
                shortest(resin.cured_density) +
                " g/cm3 is taken for cured epoxy, from memory; the thickness of "
                "a ply follows from it: write your data sheet's figure"));
}

/// An epoxy by one density alone, of which nothing can be made.
void warn_of_one_density(const job::Resin& resin, Warnings& out) {
    if (resin.kind != job::ResinKind::epoxy) return;
    if (resin.density.has_value() == resin.hardener_density.has_value()) return;
    const bool resins = resin.density.has_value();
    const Sentence given = resins ? plainly("resin.density", "the resin's density")
                                  : plainly("resin.hardener_density", "the hardener's density");
    const Sentence lacks = resins ? plainly("resin.hardener_density", "the hardener's")
                                  : plainly("resin.density", "the resin's");
    out.push_back(warning("density-missing",
                          given + " is given and " + lacks +
                              " is not: one alone is not used, and the cups stand only by " +
                              (resin.hardener_basis == job::Basis::volume ? "volume" : "mass") +
                              "; write both for the other way too"));
}

void warn_of_topcoat(const job::Job& job, Warnings& out) {
    if (!job.topcoat.hardener_percent || job.topcoat.hardener_given) return;
    out.push_back(warning("topcoat-hardener-assumed",
                          plainly("topcoat.hardener_percent is not given: ",
                                  "the topcoat's percentage is not yours: ") +
                              shortest(*job.topcoat.hardener_percent) +
                              " % is the nominal figure of published sheets, 1.2 to 3 %; gel coat "
                              "and topcoat have a percentage of their own, not the resin's: write "
                              "your own product's figure"));
}

/// Recoat time and old resin are known only where the job says them.
void warn_of_waits(const job::Job& job, std::ptrdiff_t laid_stages, Warnings& out) {
    const auto hours = job.shop.hours_between_stages;
    if (!hours || laid_stages < 2 || *hours <= job.resin.recoat_hours) return;
    out.push_back(warning(
        "recoat-passed",
        plainly("shop.hours_between_stages: ", "between two stages ") + shortest(hours->value()) +
            plainly(" h is past resin.recoat_hours, ",
                    " h are planned, more than the resin's recoat time of ") +
            shortest(job.resin.recoat_hours.value()) +
            " h: the next stage would not bond chemically; wash and abrade all over before it, or "
            "plan the stages closer together"));
}

std::vector<Cup> resin_cups(const std::vector<Stage>& stages) {
    std::vector<Cup> all;
    for (const Stage& stage : stages) all.insert(all.end(), stage.cups.begin(), stage.cups.end());
    return all;
}

/// What the fullest of cups holds [g].
double largest_of(const std::vector<Cup>& cups) {
    double largest = 0.0;
    for (const Cup& cup : cups) largest = std::max(largest, cup.mix_resin_g);
    return largest;
}

/// Cups that hold far more than the job needs, since less cannot be measured.
void warn_of_small_doses(const std::vector<Cup>& all, Warnings& out) {
    const Cup* worst = nullptr;
    for (const Cup& cup : all)
        if (too_small(cup) && (worst == nullptr || cup.left_g > worst->left_g)) worst = &cup;
    if (worst == nullptr) return;
    out.push_back(warning_of(
        "dose-small", "a cup needs " + said_mass(worst->mix_resin_g - worst->left_g, 1) +
                          " only, whose doses no tools show well enough: mix the " +
                          said_mass(worst->mix_resin_g, 1) + " of the table and set the " +
                          said_mass(worst->left_g, 1) + " left over aside to cure outdoors"));
}

/// Peroxide beyond what any data sheet allows: a range that the job widens vouches for nothing.
void warn_of_high_percent(const std::optional<double>& percent, double most, const Sentence& key,
                          const std::string& what, Warnings& out) {
    if (!percent || !(*percent > most + tolerance::decimal_rounding)) return;
    out.push_back(warning_of(
        "hardener-high", key + " of " + shortest(*percent) + " % is more than the " +
                             shortest(most) + " % that published data sheets of " + what +
                             " allow at most: the cup can boil, smoke and burn, and the laminate "
                             "stays weak; look at the data sheet and the decimal point again"));
}

void warn_of_high_percents(const job::Job& job, Warnings& out) {
    warn_of_high_percent(job.resin.hardener_percent, most_hardener_percent,
                         plainly("resin.hardener_percent", "the hardener's percentage"), "resins",
                         out);
}

void warn_of_heat_in_shop(const job::Job& job, Warnings& out) {
    if (job.shop.temperature <= hot_shop) return;
    out.push_back(warning_of(
        "shop-hot",
        plainly("shop.temperature of ", "the shop at ") + said_warmth(job.shop.temperature) +
            " is above " + said_warmth(hot_shop) +
            ": resin and laminate start warm, heat each other up and gel before they are spread; "
            "work in the cool of the day and out of the sun, cool the resin, mix smaller cups, and "
            "never take less hardener than the data sheet allows"));
}

/// A large cup whose gel time is not known here; where it is, `cup-over-gel-mass` judges it.
void warn_of_heat_in_cups(const job::Job& job, const std::vector<Cup>& cups,
                          const std::vector<Cup>& topcoat, Warnings& out) {
    const double largest = std::max(largest_of(topcoat), use_within(job) ? 0.0 : largest_of(cups));
    if (!(largest > large_cup.value() + tolerance::decimal_rounding)) return;
    out.push_back(warning_of(
        "cup-heats",
        "the largest cup holds " + said_mass(largest) + ", more than " +
            said_mass(large_cup.value()) +
            ", and no gel time is known for it here: so much heats itself up in the cup, gels "
            "early and can smoke and burn; choose a smaller " +
            plainly("resin.cup", "cup") + ", or pour it out flat at once and time a test cup"));
}

void warn_of_heat_in_stages(const std::vector<Stage>& stages, Warnings& out) {
    const Stage* thickest = nullptr;
    for (const Stage& stage : stages)
        if (thickest == nullptr || stage.thickness_mm > thickest->thickness_mm) thickest = &stage;
    if (thickest == nullptr || !(thickest->thickness_mm > thick_stage + tolerance::level)) return;
    out.push_back(warning_of(
        "stage-heats",
        said_thickness(thickest->thickness_mm, 1) + " are laid wet on wet in one go, more than " +
            said_thickness(thick_stage, 0) +
            ": so thick a laminate heats up as it gels, and can warp, crack, burn or come off; "
            "choose a smaller " +
            plainly("shop.stage_thickness", "thickness of a stage")));
}

/// Doses that no tool shows inside the range: none is given rather than one that leaves it.
void warn_of_missing_tools(const std::vector<Cup>& all, Warnings& out) {
    const auto cup = std::find_if(all.begin(), all.end(), lacks_tool);
    if (cup == all.end()) return;
    out.push_back(warning_of(
        "dose-without-tool",
        "no tool shows the hardener of a cup of " + said_mass(cup->mix_resin_g) +
            " inside what is allowed, half a division more or less, so no dose is given: mix " +
            plainly("cups of another size (resin.cup)", "cups of another size") +
            ", use a finer tool, or ask the maker for a wider range"));
}

/// What shows the hardener of a smaller cup, to buy or to count.
Sentence finer_tools(const job::Resin& resin) {
    if (resin.kind == job::ResinKind::epoxy) return "a scale that reads 0.01 g";
    const bool own = resin.hardener_density && !density_assumed(resin);
    return "a scale that reads 0.01 g, a finer syringe or drops that you have counted to 1 mL" +
           (own ? Sentence()
                : plainly(" with resin.hardener_density in the job",
                          " with your hardener's own density in the job"));
}

/// Cups pooled into larger ones than the user wants to mix at once.
void warn_of_large_cups(const job::Resin& resin, double largest, Warnings& out) {
    if (!(largest > resin.cup.value() + tolerance::decimal_rounding)) return;
    const Recipe recipe = recipe_for(resin.cup, resin);
    const Sentence dose = recipe.hardener ? " takes " + said_mass(recipe.hardener->value(), 2) +
                                                " of hardener: measure that with "
                                          : Sentence(" needs its hardener measured with ");
    out.push_back(warning_of(
        "dose-over-cup",
        "a cup of the table holds " + said_mass(largest) + ", more than " +
            plainly("resin.cup, ", "you want to mix at once, ") + said_mass(resin.cup.value()) +
            ", because no tool of the table shows the doses of a smaller one well enough: a bigger "
            "cup heats up and gels sooner, so pour it out flat at once; or stay with your own cup, "
            "which" +
            dose + finer_tools(resin)));
}

/// Doses aimed at inside the range's end, and a range that leaves no room to aim.
void warn_of_aim(const job::Job& job, const std::vector<Cup>& all, Warnings& out) {
    if (std::any_of(all.begin(), all.end(), [](const Cup& cup) { return cup.moved_inward; }))
        out.push_back(warning_of(
            "dose-moved",
            plainly("hardener_percent stands at an end of hardener_range",
                    "the hardener's percentage stands near an end of what its data sheet allows") +
                ": doses of the table are moved inwards, so that half a division of the tool more "
                "or less stays inside"));
    const auto narrow = [](const std::optional<std::array<double, 2>>& range) {
        return range && !((*range)[0] < (*range)[1]);
    };
    if (narrow(job.resin.hardener_range) || narrow(job.topcoat.hardener_range))
        out.push_back(
            warning_of("hardener-range-narrow",
                       plainly("hardener_range is a single figure",
                               "what the data sheet allows of hardener is a single figure") +
                           ": no tool meets it exactly; ask the maker how far it may be missed"));
}

void warn_of_gel_time(const job::Job& job, double largest, Warnings& out) {
    if (const Sentence reason = reason_against_gel_time(job); !reason.told.empty()) {
        out.push_back(
            warning("test-cup", reason + ": mix a test cup of " + said_mass(100.0) +
                                    " at the shop's temperature, time its gel, "
                                    "and write it " +
                                    plainly("as resin.gel_minutes with gel_at", "into the job") +
                                    "; until then no time is given for the cups"));
        return;
    }
    if (largest > job.resin.gel_at->mass.value())
        out.push_back(warning("cup-over-gel-mass",
                              "the largest cup holds " + said_mass(largest) + " and " +
                                  plainly("resin.gel_minutes", "the gel time") +
                                  " was measured in " + said_mass(job.resin.gel_at->mass.value()) +
                                  ": more resin in a cup heats itself and "
                                  "gels sooner; pour it out flat at once, or "
                                  "time a test cup of that size"));
}

/// Mat that epoxy does not wet: each fabric once, with every ply of it.
void warn_of_binders(const Repair& repair, Warnings& out) {
    std::map<std::string, std::vector<int>> plies;
    for (const templates::LaidPly& ply : repair.plies)
        if (!binder_warnings(repair.job.fabrics.at(ply.fabric), repair.job.resin).empty())
            plies[ply.fabric].push_back(ply.number);
    for (const auto& [fabric, numbers] : plies) {
        Warning told = binder_warnings(repair.job.fabrics.at(fabric), repair.job.resin).front();
        std::string list;
        for (const int number : numbers)
            list += (list.empty() ? "" : ", ") + std::to_string(number);
        say_more(told,
                 (numbers.size() == 1 ? "; so it is with ply " : "; so it is with plies ") + list);
        out.push_back(std::move(told));
        if (numbers.size() == 1) out.back().ply = numbers.front();
    }
}

void warn_of_chemistry(const Repair& repair, const std::vector<Stage>& stages, Warnings& out) {
    const job::Resin& resin = repair.job.resin;
    if (resin.kind == job::ResinKind::epoxy) {
        warn_of_binders(repair, out);
        const Sentence own = repair.job.topcoat_given
                                 ? plainly("[topcoat] goes over epoxy; ",
                                           "the topcoat of this job goes over epoxy; ")
                                 : Sentence();
        out.push_back(
            warning("polyester-on-epoxy",
                    own + "polyester topcoat or gel coat does not bond reliably to cured epoxy: "
                          "use an epoxy-compatible finish, or a tie coat that its maker names"));
    }
    const auto laid = std::count_if(stages.begin(), stages.end(),
                                    [](const Stage& stage) { return !stage.plies.empty(); });
    if (resin.waxed && laid > 1)
        out.push_back(
            warning("waxed-between-stages",
                    plainly("resin.waxed: wax", "the resin is waxed: wax") +
                        " rises to the surface of each stage and the next one "
                        "does not bond to it; sand between stages, or use unwaxed resin for "
                        "all but the last"));
    warn_of_waits(repair.job, laid, out);
}

/// Glass content that hand lay-up gives.
struct Contents {
    double least, nominal, most;
};

/// Nominal and, on complex shapes, least. No figure is known for the most: as far above the nominal
/// one as the least lies below it.
Contents contents_of(job::FabricKind kind) {
    const double least = least_content(kind);
    const double nominal = job::fabric_of_kind(kind).glass_content;
    return {least, nominal, 2.0 * nominal - least};
}

bool is_likely(double content, const Contents& range) {
    return content >= range.least && content <= range.most;
}

void warn_of_contents(const Repair& repair, Warnings& out) {
    std::set<std::string> told;
    for (const templates::LaidPly& ply : repair.plies) {
        const double content = repair.job.fabrics.at(ply.fabric).glass_content;
        const Contents range = contents_of(ply.kind);
        if (is_likely(content, range) || !told.insert(ply.fabric).second) continue;
        out.push_back(warning(
            "glass-content-unlikely",
            plainly("fabric.glass_content ", "a glass content of ") + shortest(content) + " of \"" +
                ply.fabric + "\" is not what hand lay-up gives: about " + fixed(range.nominal, 2) +
                " for " + std::string(job::kind_word(ply.kind)) + ", " + fixed(range.least, 2) +
                " on complex shapes (common practice, from memory); thickness, number of plies "
                "and resin follow from it: look at the data sheet again"));
    }
}

/// More resin than planned where glass contents are the nominal ones, by the wettest lay-up.
void warn_of_range(const Repair& repair, const std::vector<PlyAmounts>& amounts, Warnings& out) {
    double more = 0.0;
    bool likely = true;
    for (std::size_t i = 0; i < repair.plies.size(); ++i) {
        const templates::LaidPly& ply = repair.plies[i];
        const job::Fabric& fabric = repair.job.fabrics.at(ply.fabric);
        const Contents range = contents_of(ply.kind);
        // A figure that no data sheet of hand lay-up has vouches for nothing.
        const bool stands = is_likely(fabric.glass_content, range);
        if (stands && job::is_given(repair.job, fabric, "glass_content")) continue;
        likely = likely && stands;
        more += std::max(
            0.0, amounts[i].glass_g * laminate::resin_per_glass(range.least) - amounts[i].resin_g);
    }
    if (!(more > 0.0)) return;
    out.push_back(
        warning("resin-range",
                std::string(likely ? "glass contents are nominal ones, not your cloth's data sheet"
                                   : "a glass content is higher than common practice") +
                    ": hand lay-up on complex shapes can hold up to " +
                    said_mass(more * (1.0 + repair.job.resin.waste)) +
                    plainly(" more resin than totals.resin_g", " more resin than is worked out") +
                    "; keep it at hand, unmixed"));
}

void warn_of_thick_plies(const Repair& repair, Warnings& out) {
    const double limit = stage_limit(repair.job);
    for (const templates::LaidPly& ply : repair.plies) {
        if (!(ply.thickness_mm > limit)) continue;
        out.push_back(warning("ply-over-stage", "this ply alone is thicker than a stage may be, " +
                                                    said_thickness(limit, 2) +
                                                    ": it may overheat; use lighter cloth"));
        out.back().ply = ply.number;
    }
}

void warn_of_proud_bands(const Repair& repair, const ProudScarf& scarf, Warnings& out) {
    const auto& plies = repair.plies;
    const bool overlap = std::any_of(plies.begin(), plies.end(), [&](const auto& ply) {
        return !ply.cover && ply.kind == job::FabricKind::mat &&
               repair.job.fabrics.at(ply.fabric).tear_margin > 0.0;
    });
    const Sentence proud = proud_words(scarf);
    if (!overlap || proud.told.empty()) return;
    out.push_back(warning("scarf-proud", "the torn bands leave the scarf " + proud +
                                             ", before cover plies: sand that back to the fair "
                                             "surface, never into the floor"));
}

}  // namespace

double least_content(job::FabricKind kind) {
    return kind == job::FabricKind::mat ? 0.25 : 0.36;
}

Warnings binder_warnings(const job::Fabric& fabric, const job::Resin& resin) {
    if (resin.kind != job::ResinKind::epoxy || fabric.kind != job::FabricKind::mat ||
        fabric.binder != "emulsion")
        return {};
    return {warning("emulsion-mat-in-epoxy",
                    plainly("fabric \"" + fabric.name + "\"", fabric.name) +
                        " has an emulsion binder, which epoxy does not dissolve: it stays dry "
                        "inside; use powder-bound mat" +
                        plainly(" (binder = \"powder\")", "") + ", or cloth")};
}

Warnings mixing_warnings(const job::Job& job, const std::vector<Cup>& cups,
                         const std::vector<Cup>& topcoat) {
    std::vector<Cup> all = topcoat;
    all.insert(all.end(), cups.begin(), cups.end());
    Warnings out;
    warn_of_hardener(job.resin, out);
    warn_of_high_percents(job, out);
    warn_of_one_density(job.resin, out);
    warn_of_gel_time(job, largest_of(cups), out);
    warn_of_small_doses(all, out);
    warn_of_large_cups(job.resin, largest_of(all), out);
    warn_of_missing_tools(all, out);
    warn_of_heat_in_shop(job, out);
    warn_of_heat_in_cups(job, cups, topcoat, out);
    warn_of_aim(job, all, out);
    return out;
}

Warnings resin_warnings(const Repair& repair, const Quantities& quantities) {
    const job::Job& job = repair.job;
    Warnings out = mixing_warnings(job, resin_cups(quantities.stages), quantities.topcoat_cups);
    warn_of_topcoat(job, out);
    if (takes_topcoat(job) && job.resin.kind != job::ResinKind::epoxy)
        warn_of_high_percent(job.topcoat.hardener_percent, most_topcoat_percent,
                             plainly("topcoat.hardener_percent", "the topcoat's percentage"),
                             "gel coats and topcoats", out);
    warn_of_chemistry(repair, quantities.stages, out);
    warn_of_contents(repair, out);
    warn_of_range(repair, quantities.plies, out);
    warn_of_thick_plies(repair, out);
    warn_of_heat_in_stages(quantities.stages, out);
    warn_of_proud_bands(repair, quantities.proud, out);
    return out;
}

}  // namespace tearline::quantities
