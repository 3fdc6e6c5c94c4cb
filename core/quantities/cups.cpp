#include "core/quantities/cups.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/bare.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"

namespace tearline::quantities {

namespace {

/// Least whole number of parts of at most `most` each; rounding of the quotient does not add one.
std::size_t parts_of_at_most(double whole, double most) {
    return static_cast<std::size_t>(
        std::max(1.0, std::ceil(whole / most - tolerance::decimal_rounding)));
}

void fill_doses(const Recipe& recipe, Cup& cup) {
    cup.hardener_g = bare(recipe.hardener);
    cup.hardener_mL = bare(recipe.hardener_volume);
}

/// Within what a batch is parted.
struct Limits {
    Grams most;              ///< `resin.cup`
    std::size_t fewest = 1;  ///< by the gel time: fewer could not be spread in time
};

/// How many equal cups a batch goes into.
///
/// The fewest within the limits. Where the tools do not show the doses of so small a cup, fewer and
/// larger ones: as many as leave no more than `most_left_over` of the batch over.
std::size_t count_of(Grams batch, const Limits& limits, const Mixture& mixture) {
    const auto mixed = [&](std::size_t count) {
        return mixed_cup(batch / static_cast<double>(count), mixture);
    };
    const std::size_t within =
        std::max(parts_of_at_most(batch.value(), limits.most.value()), limits.fewest);
    // One more where rounding the doses up would overfill them.
    for (const std::size_t count : {within, within + 1})
        if (const Cup cup = mixed(count);
            !too_small(cup) && cup.mix_resin_g <= limits.most.value() + tolerance::decimal_rounding)
            return count;
    // No smaller cup than this one can be measured, so no more of them leave little over.
    const double pooled = (1.0 + most_left_over) * batch.value() / mixed(within).mix_resin_g;
    std::size_t count = std::min(within, static_cast<std::size_t>(std::max(1.0, pooled)));
    while (count > limits.fewest && too_small(mixed(count))) --count;
    return std::max(count, limits.fewest);
}

}  // namespace

std::vector<Cup> cups_for(const Batch& batch, const job::Job& job, const Batch& besides) {
    if (!(batch.resin.value() > 0.0)) return {};
    const Batch all{batch.resin + besides.resin, batch.area + besides.area};
    Limits limits{job.resin.cup};
    const auto minutes = use_within(job);
    if (minutes)
        limits.fewest =
            parts_of_at_most(all.area.value(), minutes->value() * job.laminator.wet_out_rate);
    const Mixture mixture = resin_mixture(job.resin);
    const std::size_t count = count_of(all.resin, limits, mixture);
    Cup cup = mixed_cup(all.resin / static_cast<double>(count), mixture);
    cup.resin_g = batch.resin.value() / static_cast<double>(count);
    fill_doses(recipe_for(Grams(cup.resin_g), job.resin), cup);
    if (minutes) cup.use_within_min = minutes->value();
    return std::vector<Cup>(count, cup);
}

Cup cup_of_another(Grams resin, const job::Job& job) {
    Cup cup;
    cup.resin_g = resin.value();
    fill_doses(recipe_for(resin, job.resin), cup);
    return cup;
}

Cup test_cup(const job::Job& job) {
    constexpr Grams resin(100.0);
    Cup cup = mixed_cup(resin, resin_mixture(job.resin));
    cup.resin_g = resin.value();
    fill_doses(recipe_for(resin, job.resin), cup);
    return cup;
}

std::vector<Cup> topcoat_cups(Grams topcoat, const job::Job& job) {
    if (!(topcoat.value() > 0.0)) return {};
    const Mixture mixture = topcoat_mixture(job);
    const std::size_t count = count_of(topcoat, {job.resin.cup}, mixture);
    const Grams each = topcoat / static_cast<double>(count);
    Cup cup = mixed_cup(each, mixture);
    cup.resin_g = each.value();
    fill_doses(topcoat_recipe(each, job), cup);
    return std::vector<Cup>(count, cup);
}

}  // namespace tearline::quantities
