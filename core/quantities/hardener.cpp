#include "core/quantities/hardener.h"

#include <cmath>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/laminate/us_units.h"

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

/// A temperature: C as it was given, or whole F.
Sentence said_warmth(Celsius temperature) {
    const std::string given = shortest(temperature.value());
    return {given + " C", given + " °C", fixed(us::fahrenheit(temperature), 0) + " °F"};
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

Sentence reason_against_gel_time(const job::Job& job) {
    const job::Resin& resin = job.resin;
    const Sentence gel = plainly("resin.gel_minutes", "the gel time");
    if (!resin.gel_minutes || !resin.gel_at)
        return plainly("resin.gel_minutes is not given", "the job gives no gel time") +
               plainly(", and no gel time is assumed", ", and none is assumed");
    const Celsius shop = job.shop.temperature, at = resin.gel_at->temperature;
    if (!(std::abs(shop.value() - at.value()) <= tolerance::gel_temperature))
        return gel + " was measured at " + said_warmth(at) + " and the shop is at " +
               said_warmth(shop) +
               ": published temperature factors for 10 C run from 1.5 to 16, so none is trusted";
    if (resin.kind == job::ResinKind::epoxy) return {};
    const Sentence percent =
        plainly("resin.hardener_percent", "the hardener's percentage of this job");
    if (!resin.hardener_percent) return percent + " is not given";
    // Percentages are written with one or two decimals: the limit itself counts as within.
    if (!(std::abs(*resin.hardener_percent - resin.gel_at->percent) <=
          tolerance::gel_percent + tolerance::decimal_rounding))
        return gel + " was measured with " + shortest(resin.gel_at->percent) +
               " % of hardener and " + percent + " is " + shortest(*resin.hardener_percent);
    return {};
}

std::optional<Minutes> use_within(const job::Job& job) {
    if (!reason_against_gel_time(job).told.empty()) return std::nullopt;
    return *job.resin.gel_minutes * job.laminator.use_fraction;
}

}  // namespace tearline::quantities
