#include "core/quantities/cups.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/hardener.h"

namespace tearline::quantities {

namespace {

/// Least whole number of parts of at most `most` each; rounding of the quotient does not add one.
std::size_t parts_of_at_most(double whole, double most) {
    return static_cast<std::size_t>(
        std::max(1.0, std::ceil(whole / most - tolerance::decimal_rounding)));
}

}  // namespace

std::vector<Cup> cups_for(const Batch& batch, const job::Job& job) {
    if (!(batch.resin.value() > 0.0)) return {};
    std::size_t count = parts_of_at_most(batch.resin.value(), job.resin.cup.value());
    const auto minutes = use_within(job);
    if (minutes) {
        const double reach = minutes->value() * job.laminator.wet_out_rate;
        count = std::max(count, parts_of_at_most(batch.area.value(), reach));
    }
    Cup cup;
    cup.resin_g = batch.resin.value() / static_cast<double>(count);
    if (const auto dose = hardener_for(Grams(cup.resin_g), job.resin)) {
        cup.hardener_g = dose->mass.value();
        cup.hardener_mL = dose->volume.value();
    }
    if (minutes) cup.use_within_min = minutes->value();
    return std::vector<Cup>(count, cup);
}

std::vector<Cup> topcoat_cups(Grams topcoat, const job::Job& job) {
    if (!(topcoat.value() > 0.0)) return {};
    const std::size_t count = parts_of_at_most(topcoat.value(), job.resin.cup.value());
    Cup cup;
    cup.resin_g = topcoat.value() / static_cast<double>(count);
    cup.hardener_g = cup.resin_g * job.topcoat.hardener_percent / 100.0;
    // The hardener of an epoxy job is another liquid, of another density.
    if (job.resin.kind != job::ResinKind::epoxy)
        cup.hardener_mL = (Grams(*cup.hardener_g) / job.resin.hardener_density).value();
    return std::vector<Cup>(count, cup);
}

}  // namespace tearline::quantities
