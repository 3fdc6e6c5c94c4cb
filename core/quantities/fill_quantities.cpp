#include <algorithm>
#include <iterator>

#include "core/base/numbers.h"
#include "core/quantities/cups.h"
#include "core/quantities/glass_and_resin.h"
#include "core/quantities/hardener.h"
#include "core/quantities/layup_sense.h"
#include "core/quantities/measuring.h"
#include "core/quantities/proud_scarf.h"
#include "core/quantities/quantities.h"
#include "core/quantities/resin_warnings.h"
#include "core/quantities/shopping.h"
#include "core/quantities/stage_words.h"
#include "core/quantities/stages.h"

namespace tearline::quantities {

namespace {

constexpr double mm3_a_mL = 1000.0;

double with_waste(double grams, const job::Job& job) {
    return grams * (1.0 + job.resin.waste);
}

void fill_totals(Plan& plan) {
    const job::Job& job = plan.job;
    Totals& totals = plan.totals;
    totals = Totals{};
    double glass_mm2 = 0.0, plies_resin_g = 0.0;
    for (const PlannedPly& ply : plan.plies) {
        glass_mm2 += ply.glass_area_mm2;
        totals.glass_g += ply.glass_g;
        plies_resin_g += ply.resin_g;
        totals.laid_thickness_mm += ply.thickness_mm;
    }
    totals.glass_area_m2 = square_metres_from_mm2(glass_mm2).value();
    const SquareMetres ground = square_metres_from_mm2(plan.scarf_area_mm2);
    totals.ground_area_m2 = ground.value();
    totals.prime_g = (ground * job.resin.prime).value();
    totals.resin_g = with_waste(plies_resin_g + totals.prime_g, job);
    const Recipe recipe = recipe_for(Grams(totals.resin_g), job.resin);
    if (recipe.hardener) totals.hardener_g = recipe.hardener->value();
    if (recipe.hardener_volume) totals.hardener_mL = recipe.hardener_volume->value();
    if (!takes_topcoat(job)) return;
    // mm over m2 is litres.
    const double litres =
        square_metres_from_mm2(plan.footprint_area_mm2).value() * job.topcoat.thickness;
    totals.topcoat_g = with_waste(litres * 1000.0 * job.topcoat.density.value(), job);
    const Recipe topcoat = topcoat_recipe(Grams(*totals.topcoat_g), job);
    if (topcoat.hardener) totals.topcoat_hardener_g = topcoat.hardener->value();
}

/// How proud the scarf ends, and what compound fills where it ends low.
void fill_scarf(Plan& plan) {
    const job::Job& job = plan.job;
    const double skim = plan.footprint_area_mm2 * job.shop.fairing_skim / mm3_a_mL;
    if (plan.volumes) {  // a dish known by soundings is no frustum: its field has told
        plan.totals.proud_mean_mm = plan.volumes->proud_mL * mm3_a_mL / plan.scarf_area_mm2;
        plan.totals.proud_max_mm = plan.volumes->proud_max_mm;
        plan.totals.fairing_mL = plan.volumes->fairing_mL + skim;
        return;
    }
    std::vector<ScarfStep> steps, with_covers;
    for (const PlannedPly& ply : plan.plies) {
        const double band =
            ply.kind == job::FabricKind::mat ? plan.job.fabrics.at(ply.fabric).tear_margin : 0.0;
        with_covers.push_back({ply.edge_offset_mm, ply.thickness_mm, band});
        if (!ply.cover) steps.push_back(with_covers.back());
    }
    const ProudScarf proud = proud_scarf(steps, plan.dish);
    plan.totals.proud_mean_mm = proud.mean_mm;
    plan.totals.proud_max_mm = proud.max_mm;
    const double below = job.topcoat.final_coat ? job.topcoat.thickness : 0.0;
    const double low =
        low_volume(with_covers, plan.dish, plan.damage_area_mm2, plan.damage_perimeter_mm, below);
    plan.totals.fairing_mL = low / mm3_a_mL + skim;
}

/// The plies stage by stage, without cups yet.
std::vector<Stage> laid_stages(const Plan& plan) {
    std::vector<double> thicknesses;
    for (const PlannedPly& ply : plan.plies) thicknesses.push_back(ply.thickness_mm);
    std::vector<Stage> stages;
    auto ply = plan.plies.begin();
    for (const std::size_t count : divide_into_stages(thicknesses, stage_limit(plan.job))) {
        Stage stage;
        for (const auto end = std::next(ply, static_cast<std::ptrdiff_t>(count)); ply != end;
             ++ply) {
            stage.plies.push_back(ply->number);
            stage.thickness_mm += ply->thickness_mm;
        }
        stages.push_back(std::move(stage));
    }
    return stages;
}

Batch batch_of(const Plan& plan, const Stage& stage) {
    double resin_g = 0.0, glass_mm2 = 0.0;
    for (const PlannedPly& ply : plan.plies) {
        if (std::find(stage.plies.begin(), stage.plies.end(), ply.number) == stage.plies.end())
            continue;
        resin_g += ply.resin_g;
        glass_mm2 += ply.glass_area_mm2;
    }
    return {Grams(with_waste(resin_g, plan.job)), square_metres_from_mm2(glass_mm2)};
}

bool all_measured(const std::vector<Cup>& cups) {
    return std::none_of(cups.begin(), cups.end(), too_small);
}

/// The priming coat, then the plies stage by stage, each with its cups. A priming coat too small to
/// be measured comes out of the first stage's cups.
void fill_stages(Plan& plan) {
    const job::Job& job = plan.job;
    std::vector<Stage> laid = laid_stages(plan);
    const Batch prime{Grams(with_waste(plan.totals.prime_g, job)),
                      SquareMetres(plan.totals.ground_area_m2)};
    plan.stages.clear();
    Batch besides;
    if (prime.resin.value() > 0.0) {
        Stage coat;
        coat.cups = cups_for(prime, job);
        if (!laid.empty() && !all_measured(coat.cups)) {
            coat.cups = {cup_of_another(prime.resin, job)};
            besides = prime;
        }
        plan.stages.push_back(std::move(coat));
    }
    for (Stage& stage : laid) {
        stage.cups = cups_for(batch_of(plan, stage), job, besides);
        stage.primes_g = besides.resin.value();
        besides = {};
        plan.stages.push_back(std::move(stage));
    }
    plan.topcoat_cups = topcoat_cups(Grams(plan.totals.topcoat_g.value_or(0.0)), job);
}

/// What no plan may be made with: each would end in a repair that fails.
Result<void> check_resin_fits(const job::Job& job) {
    if (!(job.shop.temperature >= job.resin.least_temperature))
        return bad_input(
            "shop.temperature: value " + shortest(job.shop.temperature.value()) +
            ": colder than resin.least_temperature, " +
            shortest(job.resin.least_temperature.value()) +
            " C; warm the shop, the hull and the resin, and never add more hardener instead");
    if (job.resin.kind == job::ResinKind::epoxy && !job.resin.hardener_parts)
        return bad_input("resin.hardener_parts: missing: epoxy needs its fixed ratio");
    const bool on_epoxy = job.old_laminate && job.old_laminate->resin == job::ResinKind::epoxy;
    if (on_epoxy && job.resin.kind != job::ResinKind::epoxy)
        return bad_input(
            "resin.kind: old_laminate.resin is epoxy, and polyester and vinylester do not bond "
            "reliably to cured epoxy: repair it with epoxy (resin.kind = \"epoxy\")");
    return {};
}

}  // namespace

Result<void> fill_quantities(Plan& plan) {
    if (auto good = check_resin_fits(plan.job); !good) return good;
    fill_glass_and_resin(plan);
    fill_totals(plan);
    fill_scarf(plan);
    fill_sanding(plan);
    fill_stages(plan);
    for (std::size_t i = 0; i < plan.stages.size(); ++i) plan.stages[i].then = after_stage(plan, i);
    for (const Warnings& warnings : {layup_warnings(plan), resin_warnings(plan)})
        plan.warnings.insert(plan.warnings.end(), warnings.begin(), warnings.end());
    return {};
}

}  // namespace tearline::quantities
