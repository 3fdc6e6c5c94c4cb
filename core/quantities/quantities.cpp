#include "core/quantities/quantities.h"

#include <algorithm>
#include <iterator>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/quantities/cups.h"
#include "core/quantities/finish_amounts.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"
#include "core/quantities/shopping.h"
#include "core/quantities/stage_words.h"
#include "core/quantities/volume_units.h"

namespace tearline::quantities {

namespace {

Grams with_waste(Grams resin, const job::Job& job) {
    return resin * (1.0 + job.resin.waste);
}

/// Every ply as a step of the scarf, covers too or not.
std::vector<ScarfStep> scarf_steps(const Repair& repair, bool covers) {
    std::vector<ScarfStep> steps;
    for (const templates::LaidPly& ply : repair.plies) {
        if (ply.cover && !covers) continue;
        const double band =
            ply.kind == job::FabricKind::mat ? repair.job.fabrics.at(ply.fabric).tear_margin : 0.0;
        steps.push_back({ply.edge_offset_mm, ply.thickness_mm, band});
    }
    return steps;
}

/// How proud the scarf ends. A dish known by soundings is no frustum: its field has told.
ProudScarf proud_of(const Repair& repair) {
    if (const auto& volumes = repair.volumes)
        return {volumes->proud_mL * mm3_per_millilitre / repair.areas.scarf_mm2,
                volumes->proud_max_mm};
    return proud_scarf(scarf_steps(repair, false), repair.dish);
}

/// Compound that fills where the scarf ends low, and the skim over all.
Millilitres fairing_of(const Repair& repair) {
    const job::Job& job = repair.job;
    const Areas& areas = repair.areas;
    const Millilitres skim(areas.touched_mm2() * job.shop.fairing_skim / mm3_per_millilitre);
    if (repair.volumes) return Millilitres(repair.volumes->fairing_mL) + skim;
    const double below = job.topcoat.final_coat ? job.topcoat.thickness : 0.0;
    return low_volume(scarf_steps(repair, true), repair.dish, areas.damage_mm2,
                      areas.damage_perimeter_mm, below) +
           skim;
}

Totals totals_of(const Repair& repair, const std::vector<PlyAmounts>& plies) {
    const job::Job& job = repair.job;
    Totals totals;
    double glass_mm2 = 0.0, plies_resin_g = 0.0;
    for (const PlyAmounts& ply : plies) {
        glass_mm2 += ply.glass_area_mm2;
        totals.glass_g += ply.glass_g;
        plies_resin_g += ply.resin_g;
    }
    for (const templates::LaidPly& ply : repair.plies) totals.laid_thickness_mm += ply.thickness_mm;
    totals.glass_area_m2 = square_metres_from_mm2(glass_mm2).value();
    const SquareMetres ground = square_metres_from_mm2(repair.areas.ground_mm2());
    totals.ground_area_m2 = ground.value();
    totals.prime_g = (ground * job.resin.prime).value();
    totals.resin_g = with_waste(Grams(plies_resin_g + totals.prime_g), job).value();
    const Recipe recipe = recipe_for(Grams(totals.resin_g), job.resin);
    if (recipe.hardener) totals.hardener_g = recipe.hardener->value();
    if (recipe.hardener_volume) totals.hardener_mL = recipe.hardener_volume->value();
    totals.fairing_mL = fairing_of(repair).value();
    if (!takes_topcoat(job)) return totals;
    const Grams film = topcoat_film(job, repair.areas);
    totals.topcoat_g = film.value();
    const Recipe topcoat = topcoat_recipe(film, job);
    if (topcoat.hardener) totals.topcoat_hardener_g = topcoat.hardener->value();
    return totals;
}

/// Plies that are laid in one go, with what they take.
struct LaidTogether {
    Stage stage;  ///< without cups yet
    Batch batch;
};

/// The plies stage by stage.
std::vector<LaidTogether> laid_together(const Repair& repair,
                                        const std::vector<PlyAmounts>& amounts) {
    std::vector<double> thicknesses;
    for (const templates::LaidPly& ply : repair.plies) thicknesses.push_back(ply.thickness_mm);
    // A skin coat cures to tack on its gel coat before anything lies on it.
    const std::size_t alone = repair.job.part.skin_coat ? 1 : 0;
    auto counts =
        divide_into_stages(std::span(thicknesses).subspan(alone), stage_limit(repair.job));
    counts.insert(counts.begin(), alone, 1);
    std::vector<LaidTogether> all;
    std::size_t ply = 0;
    for (const std::size_t count : counts) {
        LaidTogether laid;
        double resin_g = 0.0, glass_mm2 = 0.0;
        for (const std::size_t end = ply + count; ply != end; ++ply) {
            laid.stage.plies.push_back(repair.plies[ply].number);
            laid.stage.thickness_mm += repair.plies[ply].thickness_mm;
            resin_g += amounts[ply].resin_g;
            glass_mm2 += amounts[ply].glass_area_mm2;
        }
        laid.batch = {with_waste(Grams(resin_g), repair.job), square_metres_from_mm2(glass_mm2)};
        all.push_back(std::move(laid));
    }
    return all;
}

bool all_measured(const std::vector<Cup>& cups) {
    return std::none_of(cups.begin(), cups.end(), too_small);
}

/// The priming coat, then the plies stage by stage, each with its cups. A priming coat too small to
/// be measured comes out of the first stage's cups.
std::vector<Stage> stages_of(std::vector<LaidTogether> laid, const Totals& totals,
                             const job::Job& job) {
    const Batch prime{with_waste(Grams(totals.prime_g), job), SquareMetres(totals.ground_area_m2)};
    std::vector<Stage> stages;
    Batch besides;
    if (prime.resin.value() > 0.0) {
        Stage coat;
        coat.of = Stage::Of::ground;
        coat.cups = cups_for(prime, job);
        if (!laid.empty() && !all_measured(coat.cups)) {
            coat.cups = {cup_of_another(prime.resin, job)};
            besides = prime;
        }
        stages.push_back(std::move(coat));
    }
    for (auto& [stage, batch] : laid) {
        stage.cups = cups_for(batch, job, besides);
        stage.primes_g = besides.resin.value();
        besides = {};
        stages.push_back(std::move(stage));
    }
    return stages;
}

/// What no plan may be made with: each would end in a repair that fails.
Result<void> check_resin_fits(const job::Job& job) {
    if (!(job.shop.temperature >= job.resin.least_temperature))
        return bad_input(
            "shop.temperature",
            "value " + shortest(job.shop.temperature.value()) +
                ": colder than resin.least_temperature, " +
                shortest(job.resin.least_temperature.value()) +
                " C; warm the shop, the hull and the resin, and never add more hardener instead");
    if (job.resin.kind == job::ResinKind::epoxy && !job.resin.hardener_parts)
        return bad_input("resin.hardener_parts", "missing: epoxy needs its fixed ratio");
    const bool on_epoxy = job.old_laminate && job.old_laminate->resin == job::ResinKind::epoxy;
    if (on_epoxy && job.resin.kind != job::ResinKind::epoxy)
        return bad_input("resin.kind",
                         "old_laminate.resin is epoxy, and polyester and vinylester do not bond "
                         "reliably to cured epoxy: repair it with epoxy (resin.kind = \"epoxy\")");
    return {};
}

}  // namespace

Result<Quantities> quantities_of(const Repair& repair) {
    const job::Job& job = repair.job;
    if (auto good = check_resin_fits(job); !good) return tl::unexpected(good.error());
    Quantities out;
    out.plies = glass_and_resin(repair.plies, job);
    out.totals = totals_of(repair, out.plies);
    out.proud = proud_of(repair);
    out.sanding = sanding_of(repair);
    out.stages = stages_of(laid_together(repair, out.plies), out.totals, job);
    out.topcoat_cups = topcoat_cups(Grams(out.totals.topcoat_g.value_or(0.0)), job);
    for (std::size_t i = 0; i < out.stages.size(); ++i)
        out.stages[i].then = after_stage(job, out, i);
    return out;
}

const Stage* stage_of(const Quantities& quantities, Stage::Of what) {
    for (const Stage& stage : quantities.stages)
        if (stage.of == what) return &stage;
    return nullptr;
}

const PlyAmounts& amounts_of(const Quantities& quantities, int ply) {
    for (const PlyAmounts& amounts : quantities.plies)
        if (amounts.ply == ply) return amounts;
    throw std::logic_error("amounts_of: a ply of another repair");
}

}  // namespace tearline::quantities
