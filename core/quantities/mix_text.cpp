#include "core/base/numbers.h"
#include "core/laminate/us_units.h"
#include "core/quantities/mix.h"

namespace tearline::quantities {

namespace {

/// "250 g (8.8 oz)", small amounts to a tenth of a gram.
std::string both(Grams mass) {
    const int decimals = mass.value() < 100.0 ? 1 : 0;
    return fixed(mass.value(), decimals) + " g (" + us::mass_text(mass) + ")";
}

std::string both(Millilitres volume) {
    return fixed(volume.value(), 1) + " mL (" + fixed(us::fluid_ounces(volume), 2) + " fl oz)";
}

std::string dose_text(std::optional<Grams> mass, std::optional<Millilitres> volume,
                      const job::Resin& resin) {
    if (!mass || !volume) return "by the resin's data sheet: no figure is given";
    std::string text = both(*mass) + " = " + both(*volume);
    // Drops differ by 2.5 times between bottles, so only the user's own count makes them.
    if (resin.drops_per_mL)
        text += " = " + fixed(volume->value() * *resin.drops_per_mL, 0) + " drops";
    return text;
}

std::string resin_text(Grams mass, std::optional<Grams> hardener, const job::Resin& resin) {
    if (resin.kind != job::ResinKind::epoxy || !hardener) return both(mass);
    return both(mass) + " in all: " + both(mass - *hardener) + " of resin";
}

}  // namespace

std::string mix_text(const Mix& mix, const job::Job& job) {
    std::string out;
    if (mix.glass) out += "glass     " + both(*mix.glass) + "\n";
    out += "resin     " + resin_text(mix.resin, mix.hardener, job.resin) + "\n";
    out += "hardener  " + dose_text(mix.hardener, mix.hardener_volume, job.resin) + "\n";
    if (mix.cups.empty()) return out;
    const Cup& cup = mix.cups.front();
    std::optional<Grams> mass;
    std::optional<Millilitres> volume;
    if (cup.hardener_g) mass = Grams(*cup.hardener_g);
    if (cup.hardener_mL) volume = Millilitres(*cup.hardener_mL);
    out += mix.cups.size() == 1 ? "in one cup of\n"
                                : "in " + std::to_string(mix.cups.size()) + " cups, each of\n";
    out += "  resin     " + resin_text(Grams(cup.resin_g), mass, job.resin) + "\n";
    out += "  hardener  " + dose_text(mass, volume, job.resin) + "\n";
    if (cup.use_within_min)
        out += "  used up within " + fixed(*cup.use_within_min, 0) + " minutes of mixing\n";
    return out;
}

}  // namespace tearline::quantities
