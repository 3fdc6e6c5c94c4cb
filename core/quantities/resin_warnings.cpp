#include "core/quantities/resin_warnings.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/base/tolerances.h"
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

void warn_of_hardener(const job::Resin& resin, Warnings& out) {
    if (resin.kind == job::ResinKind::polyester && !resin.hardener_given)
        out.push_back({warn::HardenerAssumed{*resin.hardener_percent}});
    if (resin.kind == job::ResinKind::epoxy && !resin.cured_density_given)
        out.push_back({warn::CuredDensityAssumed{resin.cured_density}});
}

/// An epoxy by one density alone, of which nothing can be made.
void warn_of_one_density(const job::Resin& resin, Warnings& out) {
    if (resin.kind != job::ResinKind::epoxy) return;
    if (resin.density.has_value() == resin.hardener_density.has_value()) return;
    out.push_back({warn::DensityMissing{resin.density.has_value(),
                                        resin.hardener_basis == job::Basis::volume}});
}

void warn_of_topcoat(const job::Job& job, Warnings& out) {
    if (!job.topcoat.hardener_percent || job.topcoat.hardener_given) return;
    out.push_back({warn::TopcoatHardenerAssumed{*job.topcoat.hardener_percent}});
}

/// Recoat time and old resin are known only where the job says them.
void warn_of_waits(const job::Job& job, std::ptrdiff_t laid_stages, Warnings& out) {
    const auto hours = job.shop.hours_between_stages;
    if (!hours || laid_stages < 2 || *hours <= job.resin.recoat_hours) return;
    out.push_back({warn::RecoatPassed{*hours, job.resin.recoat_hours}});
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
    out.push_back({warn::DoseSmall{Grams(worst->mix_resin_g), Grams(worst->left_g)}});
}

/// Peroxide beyond what any data sheet allows: a range that the job widens vouches for nothing.
void warn_of_high_percent(const std::optional<double>& percent, double most, bool topcoat,
                          Warnings& out) {
    if (!percent || !(*percent > most + tolerance::decimal_rounding)) return;
    out.push_back({warn::HardenerHigh{topcoat, *percent, most}});
}

void warn_of_heat_in_shop(const job::Job& job, Warnings& out) {
    if (job.shop.temperature <= hot_shop) return;
    out.push_back({warn::ShopHot{job.shop.temperature, hot_shop}});
}

/// A large cup whose gel time is not known here; where it is, `cup-over-gel-mass` judges it.
void warn_of_heat_in_cups(const job::Job& job, const std::vector<Cup>& cups,
                          const std::vector<Cup>& topcoat, Warnings& out) {
    const double largest = std::max(largest_of(topcoat), use_within(job) ? 0.0 : largest_of(cups));
    if (!(largest > large_cup.value() + tolerance::decimal_rounding)) return;
    out.push_back({warn::CupHeats{Grams(largest), large_cup}});
}

void warn_of_heat_in_stages(const std::vector<Stage>& stages, Warnings& out) {
    const Stage* thickest = nullptr;
    for (const Stage& stage : stages)
        if (thickest == nullptr || stage.thickness_mm > thickest->thickness_mm) thickest = &stage;
    if (thickest == nullptr || !(thickest->thickness_mm > thick_stage + tolerance::level)) return;
    out.push_back({warn::StageHeats{thickest->thickness_mm, thick_stage}});
}

/// Doses that no tool shows inside the range: none is given rather than one that leaves it.
void warn_of_missing_tools(const std::vector<Cup>& all, Warnings& out) {
    const auto cup = std::find_if(all.begin(), all.end(), lacks_tool);
    if (cup == all.end()) return;
    out.push_back({warn::DoseWithoutTool{Grams(cup->mix_resin_g)}});
}

/// Cups pooled into larger ones than the user wants to mix at once.
void warn_of_large_cups(const job::Resin& resin, double largest, Warnings& out) {
    if (!(largest > resin.cup.value() + tolerance::decimal_rounding)) return;
    out.push_back({warn::DoseOverCup{
        Grams(largest), resin.cup, recipe_for(resin.cup, resin).hardener,
        resin.kind == job::ResinKind::epoxy, resin.hardener_density && !density_assumed(resin)}});
}

/// Doses aimed at inside the range's end, and a range that leaves no room to aim.
void warn_of_aim(const job::Job& job, const std::vector<Cup>& all, Warnings& out) {
    if (std::any_of(all.begin(), all.end(), [](const Cup& cup) { return cup.moved_inward; }))
        out.push_back({warn::DoseMoved{}});
    const auto narrow = [](const std::optional<std::array<double, 2>>& range) {
        return range && !((*range)[0] < (*range)[1]);
    };
    if (narrow(job.resin.hardener_range) || narrow(job.topcoat.hardener_range))
        out.push_back({warn::HardenerRangeNarrow{}});
}

void warn_of_gel_time(const job::Job& job, double largest, Warnings& out) {
    if (const auto reason = reason_against_gel_time(job)) {
        out.push_back({warn::TestCup{*reason}});
        return;
    }
    if (largest > job.resin.gel_at->mass.value())
        out.push_back({warn::CupOverGelMass{Grams(largest), job.resin.gel_at->mass}});
}

/// Mat that epoxy does not wet: each fabric once, with every ply of it.
void warn_of_binders(const Repair& repair, Warnings& out) {
    std::map<std::string, std::vector<int>> plies;
    for (const templates::LaidPly& ply : repair.plies)
        if (!binder_warnings(repair.job.fabrics.at(ply.fabric), repair.job.resin).empty())
            plies[ply.fabric].push_back(ply.number);
    for (const auto& [fabric, numbers] : plies) {
        out.push_back({warn::EmulsionMatInEpoxy{repair.job.fabrics.at(fabric).name, numbers}});
        if (numbers.size() == 1) out.back().ply = numbers.front();
    }
}

void warn_of_chemistry(const Repair& repair, const std::vector<Stage>& stages, Warnings& out) {
    const job::Resin& resin = repair.job.resin;
    if (resin.kind == job::ResinKind::epoxy) {
        warn_of_binders(repair, out);
        out.push_back({warn::PolyesterOnEpoxy{repair.job.topcoat_given}});
    }
    const auto laid = std::count_if(stages.begin(), stages.end(),
                                    [](const Stage& stage) { return !stage.plies.empty(); });
    if (resin.waxed && laid > 1) out.push_back({warn::WaxedBetweenStages{}});
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
        out.push_back({warn::GlassContentUnlikely{ply.fabric, ply.kind, content, range.nominal,
                                                  range.least}});
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
    out.push_back({warn::ResinRange{likely, Grams(more * (1.0 + repair.job.resin.waste))}});
}

void warn_of_thick_plies(const Repair& repair, Warnings& out) {
    const double limit = stage_limit(repair.job);
    for (const templates::LaidPly& ply : repair.plies) {
        if (!(ply.thickness_mm > limit)) continue;
        out.push_back({.cause = warn::PlyOverStage{limit}, .ply = ply.number});
    }
}

void warn_of_proud_bands(const Repair& repair, const ProudScarf& scarf, Warnings& out) {
    const auto& plies = repair.plies;
    const bool overlap = std::any_of(plies.begin(), plies.end(), [&](const auto& ply) {
        return !ply.cover && ply.kind == job::FabricKind::mat &&
               repair.job.fabrics.at(ply.fabric).tear_margin > 0.0;
    });
    if (overlap && !warn::proud_words(scarf.mean_mm, scarf.max_mm).told.empty())
        out.push_back({warn::ScarfProud{scarf.mean_mm, scarf.max_mm}});
}

}  // namespace

double least_content(job::FabricKind kind) {
    return kind == job::FabricKind::mat ? 0.25 : 0.36;
}

Warnings binder_warnings(const job::Fabric& fabric, const job::Resin& resin) {
    if (resin.kind != job::ResinKind::epoxy || fabric.kind != job::FabricKind::mat ||
        fabric.binder != "emulsion")
        return {};
    return {{warn::EmulsionMatInEpoxy{fabric.name, {}}}};
}

Warnings mixing_warnings(const job::Job& job, const std::vector<Cup>& cups,
                         const std::vector<Cup>& topcoat) {
    std::vector<Cup> all = topcoat;
    all.insert(all.end(), cups.begin(), cups.end());
    Warnings out;
    warn_of_hardener(job.resin, out);
    warn_of_high_percent(job.resin.hardener_percent, most_hardener_percent, false, out);
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
        warn_of_high_percent(job.topcoat.hardener_percent, most_topcoat_percent, true, out);
    warn_of_chemistry(repair, quantities.stages, out);
    warn_of_contents(repair, out);
    warn_of_range(repair, quantities.plies, out);
    warn_of_thick_plies(repair, out);
    warn_of_heat_in_stages(quantities.stages, out);
    warn_of_proud_bands(repair, quantities.proud, out);
    return out;
}

}  // namespace tearline::quantities
