#include <cmath>

#include "core/base/numbers.h"
#include "core/base/us_units.h"
#include "core/quantities/measuring.h"
#include "core/quantities/mix.h"
#include "core/quantities/reading_words.h"

namespace tearline::quantities {

namespace {

/// A half goes up, as on the tools, so that the head and the cups of a mix agree.
std::string rounded(double amount, int decimals) {
    const double place = decimals == 0 ? 1.0 : 0.1;
    return fixed(std::round(amount / place) * place, decimals);
}

/// "250 g (8.8 oz wt)", small amounts to a tenth of a gram.
std::string both(Grams mass) {
    return rounded(mass.value(), mass.value() < 100.0 ? 1 : 0) + " g (" + us::mass_text(mass) + ")";
}

std::string both(Millilitres volume) {
    return rounded(volume.value(), 1) + " mL (" + us::volume_text(volume) + ")";
}

/// A dose as its tool shows it.
std::string by_tool(const Measured& dose) {
    return reading_text(dose) + " (" + reading_in_ounces(dose) + "), " +
           std::string(facts_of(dose.tool).words);
}

std::string by_tools(const std::optional<Measured>& first, const std::optional<Measured>& other) {
    if (!first) return "by the data sheet";
    return by_tool(*first) + (other ? "; or " + by_tool(*other) : "");
}

std::string amounts(const std::optional<Grams>& mass, const std::optional<Millilitres>& volume) {
    if (!mass && !volume) return "by the data sheet: no figure is given";
    const std::string grams = mass ? both(*mass) : "";
    return grams + (mass && volume ? " = " : "") + (volume ? both(*volume) : "");
}

std::string hardener_text(const Mix& mix) {
    return amounts(mix.recipe.hardener, mix.recipe.hardener_volume);
}

std::string resin_text(const Mix& mix, const job::Resin& resin) {
    if (resin.kind != job::ResinKind::epoxy) return both(mix.resin);
    return both(mix.resin) + " in all: " + amounts(mix.recipe.resin, mix.recipe.resin_volume) +
           " of resin";
}

std::string grams_a_mL(GramsPerMillilitre density) {
    return fixed(density.value(), 2) + " g/mL";
}

/// What the other basis than the data sheet's rests on.
std::string density_lines(const job::Resin& resin) {
    if (density_assumed(resin)) return assumed_density_words(resin) + "\n";
    if (densities_known(resin))
        return "densities: resin " + grams_a_mL(*resin.density) + ", hardener " +
               grams_a_mL(*resin.hardener_density) + "\n";
    const std::string given =
        resin.density            ? "; resin " + grams_a_mL(*resin.density) + " as given"
        : resin.hardener_density ? "; hardener " + grams_a_mL(*resin.hardener_density) + " as given"
                                 : "";
    const std::string lacks = "without " + missing_densities(resin) + " ";
    if (resin.hardener_basis != job::Basis::volume)
        return lacks + "by mass only: weigh" + given + "\n";
    if (resin.kind != job::ResinKind::epoxy && resin.density)
        return lacks + "its dose is by volume only" + given + "\n";
    return lacks + "by volume only: grams / " + grams_a_mL(sizing_density) +
           " (from memory); a cup may be too large or small, its ratio never wrong" + given + "\n";
}

std::string cup_text(const Mix& mix, const job::Resin& resin) {
    const Cup& cup = mix.cups.front();
    std::string out = mix.cups.size() == 1
                          ? "in one cup of\n"
                          : "in " + std::to_string(mix.cups.size()) + " cups, each of\n";
    const bool weighed =
        cup.resin_by && cup.resin_by->tool == Tool::scale && resin.kind != job::ResinKind::epoxy;
    out += "  resin     " +
           (weighed ? both(Grams(*cup.pour_g)) : by_tools(cup.resin_by, cup.resin_or)) + "\n";
    out += "  hardener  " + by_tools(cup.hardener_by, cup.hardener_or);
    // Drops differ by 2.5 times between bottles, so only the user's own count makes them.
    if (cup.drops) out += "; or " + std::to_string(*cup.drops) + " drops";
    out += "\n";
    constexpr double shown = 0.05;  // [g] less is 0.0
    if (cup.left_g >= shown)
        out += "  left over " + both(Grams(cup.left_g)) +
               (rounded_up(cup, resin) ? ": doses rounded up to what the tools show"
                                       : ": less cannot be measured") +
               "; let it cure outdoors\n";
    if (cup.use_within_min)
        out += "  used up within " + fixed(*cup.use_within_min, 0) + " minutes of mixing\n";
    return out;
}

}  // namespace

std::string mix_text(const Mix& mix, const job::Job& job) {
    std::string out;
    if (mix.glass) out += "glass     " + both(*mix.glass) + "\n";
    out += "resin     " + resin_text(mix, job.resin) + "\n";
    out += "hardener  " + hardener_text(mix) + "\n" + density_lines(job.resin);
    if (!mix.cups.empty()) out += cup_text(mix, job.resin);
    return out;
}

}  // namespace tearline::quantities
