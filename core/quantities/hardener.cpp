#include "core/quantities/hardener.h"

#include <cmath>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"

namespace tearline::quantities {

namespace {

Dose dose_of(Grams mass, const job::Resin& resin) {
    return {mass, mass / resin.hardener_density};
}

Dose dose_of(Millilitres volume, const job::Resin& resin) {
    return {volume * resin.hardener_density, volume};
}

/// Share b / (a + b) of the mixture, of its mass or of its volume.
Dose epoxy_dose(Grams mixture, const job::Resin& resin) {
    if (!resin.hardener_parts) throw std::logic_error("epoxy without hardener_parts");
    const auto [resin_parts, hardener_parts] = *resin.hardener_parts;
    const double share = hardener_parts / (resin_parts + hardener_parts);
    if (resin.hardener_basis == job::Basis::volume)
        return dose_of((mixture / resin.density) * share, resin);
    return dose_of(mixture * share, resin);
}

}  // namespace

std::optional<Dose> hardener_for(Grams resin_mass, const job::Resin& resin) {
    if (resin.kind == job::ResinKind::epoxy) return epoxy_dose(resin_mass, resin);
    if (!resin.hardener_percent) return std::nullopt;
    const double fraction = *resin.hardener_percent / 100.0;
    if (resin.hardener_basis == job::Basis::volume)
        return dose_of((resin_mass / resin.density) * fraction, resin);
    return dose_of(resin_mass * fraction, resin);
}

std::string reason_against_gel_time(const job::Job& job) {
    const job::Resin& resin = job.resin;
    if (!resin.gel_minutes || !resin.gel_at)
        return "resin.gel_minutes is not given, and no gel time is assumed";
    const double shop = job.shop.temperature.value(), at = resin.gel_at->temperature.value();
    if (!(std::abs(shop - at) <= tolerance::gel_temperature))
        return "resin.gel_minutes was measured at " + shortest(at) + " C and the shop is at " +
               shortest(shop) +
               " C: published temperature factors for 10 C run from 1.5 to 16, so none is trusted";
    if (resin.kind == job::ResinKind::epoxy) return {};
    if (!resin.hardener_percent) return "resin.hardener_percent is not given";
    // Percentages are written with one or two decimals: the limit itself counts as within.
    if (!(std::abs(*resin.hardener_percent - resin.gel_at->percent) <=
          tolerance::gel_percent + tolerance::decimal_rounding))
        return "resin.gel_minutes was measured with " + shortest(resin.gel_at->percent) +
               " % of hardener and resin.hardener_percent is " + shortest(*resin.hardener_percent);
    return {};
}

std::optional<Minutes> use_within(const job::Job& job) {
    if (!reason_against_gel_time(job).empty()) return std::nullopt;
    return *job.resin.gel_minutes * job.laminator.use_fraction;
}

}  // namespace tearline::quantities
