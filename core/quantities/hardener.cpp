#include "core/quantities/hardener.h"

#include <cmath>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/base/us_units.h"
#include "core/quantities/tolerances.h"

namespace tearline::quantities {

namespace {

/// Percentages that an amount may be of, all where no range is known.
bool in_range(double percent, const std::optional<std::array<double, 2>>& range) {
    if (!range) return true;
    constexpr double written = tolerance::decimal_rounding;
    return percent >= (*range)[0] - written && percent <= (*range)[1] + written;
}

/// Whether every maker's hardener stays inside the range when it is measured on the basis that its
/// percentage is not of.
///
/// @param heavier  a heavier hardener makes the percentage higher: by mass, measured by volume
bool holds_for_every_maker(double percent, const job::Resin& resin,
                           const std::optional<std::array<double, 2>>& range, bool heavier) {
    const double assumed = resin.hardener_density->value();
    for (const GramsPerMillilitre density : hardener_densities) {
        const double factor = density.value() / assumed;
        if (!in_range(heavier ? percent * factor : percent / factor, range)) return false;
    }
    return true;
}

/// Shares b / (a + b) of the mixture's mass, or of its volume.
Recipe epoxy_recipe(Grams mixture, const job::Resin& resin) {
    if (!resin.hardener_parts) throw std::logic_error("epoxy without hardener_parts");
    const auto [a, b] = *resin.hardener_parts;
    const bool both = densities_known(resin);
    Recipe out;
    if (resin.hardener_basis == job::Basis::volume) {
        const GramsPerMillilitre mean =
            both ? (*resin.density * a + *resin.hardener_density * b) / (a + b) : sizing_density;
        const Millilitres all = mixture / mean;
        out.resin_volume = all * (a / (a + b));
        out.hardener_volume = all * (b / (a + b));
        if (!both) return out;
        out.resin = *out.resin_volume * *resin.density;
        out.hardener = *out.hardener_volume * *resin.hardener_density;
        return out;
    }
    out.resin = mixture * (a / (a + b));
    out.hardener = mixture * (b / (a + b));
    if (!both) return out;
    out.resin_volume = *out.resin / *resin.density;
    out.hardener_volume = *out.hardener / *resin.hardener_density;
    return out;
}

/// A percentage of the resin's volume. Without the resin's density the resin is measured by volume
/// too, as much as `sizing_density` says.
Recipe volume_recipe(Grams resin_mass, const job::Resin& resin) {
    Recipe out;
    if (resin.density) out.resin = resin_mass;
    out.resin_volume = resin_mass / resin.density.value_or(sizing_density);
    if (!resin.hardener_percent) return out;
    out.hardener_volume = *out.resin_volume * (*resin.hardener_percent / 100.0);
    const bool safe =
        !density_assumed(resin) ||
        holds_for_every_maker(*resin.hardener_percent, resin, resin.hardener_range, false);
    if (densities_known(resin) && safe)
        out.hardener = *out.hardener_volume * *resin.hardener_density;
    return out;
}

}  // namespace

bool density_assumed(const job::Resin& resin) {
    return resin.kind == job::ResinKind::polyester && !resin.hardener_density_given;
}

bool densities_known(const job::Resin& resin) {
    return resin.density && resin.hardener_density;
}

std::string assumed_density_words(const job::Resin& resin) {
    if (!density_assumed(resin)) return {};
    const Recipe recipe = recipe_for(Grams(100.0), resin);
    const std::string makers = fixed(resin.hardener_density->value(), 2) + " g/mL, makers " +
                               shortest(hardener_densities[0].value()) + " to " +
                               shortest(hardener_densities[1].value());
    if (resin.hardener_basis == job::Basis::volume)
        return recipe.hardener
                   ? "Grams of hardener at " + makers + " (from memory): measure its mL."
                   : "No grams of hardener are given: at " + makers +
                         " (from memory) they could leave what is allowed. Measure mL.";
    return recipe.hardener_volume
               ? "mL of hardener at " + makers + ": weigh (from memory), where the scale shows it."
               : "No mL of hardener are given: at " + makers +
                     " (from memory) they could leave what is allowed. Weigh it.";
}

std::string missing_densities(const job::Resin& resin) {
    if (resin.density) return "the hardener's density";
    if (resin.hardener_density) return "the resin's density";
    return "the densities of both liquids";
}

Recipe recipe_for(Grams resin_mass, const job::Resin& resin) {
    if (resin.kind == job::ResinKind::epoxy) return epoxy_recipe(resin_mass, resin);
    if (resin.hardener_basis == job::Basis::volume) return volume_recipe(resin_mass, resin);
    Recipe out;
    out.resin = resin_mass;
    if (resin.density) out.resin_volume = resin_mass / *resin.density;
    if (!resin.hardener_percent) return out;
    out.hardener = resin_mass * (*resin.hardener_percent / 100.0);
    const bool safe =
        !density_assumed(resin) ||
        holds_for_every_maker(*resin.hardener_percent, resin, resin.hardener_range, true);
    if (resin.hardener_density && safe)
        out.hardener_volume = *out.hardener / *resin.hardener_density;
    return out;
}

GramsPerMillilitre mixture_density(const job::Resin& resin) {
    if (resin.kind != job::ResinKind::epoxy) return resin.density.value_or(sizing_density);
    if (!densities_known(resin) || !resin.hardener_parts) return sizing_density;
    const Recipe recipe = recipe_for(Grams(1.0), resin);
    return GramsPerMillilitre(1.0 /
                              (recipe.resin_volume->value() + recipe.hardener_volume->value()));
}

Recipe topcoat_recipe(Grams topcoat, const job::Job& job) {
    const job::Resin& resin = job.resin;
    Recipe out;
    out.resin = topcoat;
    out.resin_volume = topcoat / job.topcoat.density;
    if (!job.topcoat.hardener_percent) return out;
    out.hardener = topcoat * (*job.topcoat.hardener_percent / 100.0);
    // The hardener of an epoxy job is another liquid, of another density.
    if (resin.kind == job::ResinKind::epoxy || !resin.hardener_density) return out;
    if (!density_assumed(resin) || holds_for_every_maker(*job.topcoat.hardener_percent, resin,
                                                         job.topcoat.hardener_range, true))
        out.hardener_volume = *out.hardener / *resin.hardener_density;
    return out;
}

std::optional<warn::NoGelTime> reason_against_gel_time(const job::Job& job) {
    using Why = warn::NoGelTime::Why;
    const job::Resin& resin = job.resin;
    if (!resin.gel_minutes || !resin.gel_at) return warn::NoGelTime{Why::not_given};
    const Celsius shop = job.shop.temperature, at = resin.gel_at->temperature;
    if (!(std::abs(shop.value() - at.value()) <= tolerance::gel_temperature))
        return warn::NoGelTime{Why::other_temperature, at, shop};
    if (resin.kind == job::ResinKind::epoxy) return std::nullopt;
    if (!resin.hardener_percent) return warn::NoGelTime{Why::no_percent};
    // Percentages are written with one or two decimals: the limit itself counts as within.
    if (!(std::abs(*resin.hardener_percent - resin.gel_at->percent) <=
          tolerance::gel_percent + tolerance::decimal_rounding))
        return warn::NoGelTime{Why::other_percent, at, shop, resin.gel_at->percent,
                               *resin.hardener_percent};
    return std::nullopt;
}

std::optional<Minutes> use_within(const job::Job& job) {
    if (reason_against_gel_time(job)) return std::nullopt;
    return *job.resin.gel_minutes * job.laminator.use_fraction;
}

}  // namespace tearline::quantities
