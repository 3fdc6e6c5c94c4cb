#include "core/quantities/cups.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"

namespace tearline::quantities {

namespace {

/// Least whole number of parts of at most `most` each; rounding of the quotient does not add one.
std::size_t parts_of_at_most(double whole, double most) {
    return static_cast<std::size_t>(
        std::max(1.0, std::ceil(whole / most - tolerance::decimal_rounding)));
}

template <class Amount>
std::optional<double> bare(const std::optional<Amount>& amount) {
    if (!amount) return std::nullopt;
    return amount->value();
}

void fill_doses(const Recipe& recipe, Cup& cup) {
    cup.hardener_g = bare(recipe.hardener);
    cup.hardener_mL = bare(recipe.hardener_volume);
}

}  // namespace

std::vector<Cup> cups_for(const Batch& batch, const job::Job& job, const Batch& besides) {
    if (!(batch.resin.value() > 0.0)) return {};
    const Batch all{batch.resin + besides.resin, batch.area + besides.area};
    std::size_t count = parts_of_at_most(all.resin.value(), job.resin.cup.value());
    const auto minutes = use_within(job);
    if (minutes) {
        const double reach = minutes->value() * job.laminator.wet_out_rate;
        count = std::max(count, parts_of_at_most(all.area.value(), reach));
    }
    Cup cup;
    cup.resin_g = batch.resin.value() / static_cast<double>(count);
    fill_doses(recipe_for(Grams(cup.resin_g), job.resin), cup);
    fill_mixing(all.resin.value() / static_cast<double>(count), resin_mixture(job.resin), cup);
    if (minutes) cup.use_within_min = minutes->value();
    return std::vector<Cup>(count, cup);
}

Cup cup_of_another(Grams resin, const job::Job& job) {
    Cup cup;
    cup.resin_g = resin.value();
    fill_doses(recipe_for(resin, job.resin), cup);
    return cup;
}

std::vector<Cup> topcoat_cups(Grams topcoat, const job::Job& job) {
    if (!(topcoat.value() > 0.0)) return {};
    const std::size_t count = parts_of_at_most(topcoat.value(), job.resin.cup.value());
    Cup cup;
    cup.resin_g = topcoat.value() / static_cast<double>(count);
    fill_doses(topcoat_recipe(Grams(cup.resin_g), job), cup);
    fill_mixing(cup.resin_g, topcoat_mixture(job), cup);
    return std::vector<Cup>(count, cup);
}

}  // namespace tearline::quantities
