#include "core/quantities/measuring.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

#include "core/base/tolerances.h"
#include "core/quantities/bare.h"

namespace tearline::quantities {

namespace {

using Between = std::optional<std::array<double, 2>>;

constexpr double no_end = std::numeric_limits<double>::infinity();

constexpr std::array<Tool, 6> tools = {Tool::scale,      Tool::syringe_1,  Tool::syringe_3,
                                       Tool::syringe_10, Tool::syringe_60, Tool::jug};
constexpr double written = tolerance::decimal_rounding;
constexpr double largest_batch = 20'000.0;  // [g] as of the largest cup that a job may ask for

/// One liquid of a mixture, for each gram of it.
struct Part {
    std::optional<double> grams, mL;
    Between grams_between, mL_between;
    bool by_volume = false;
};

/// A dose as it is aimed at and as the tool shows it.
struct Aim {
    double dose = 0.0, reading = 0.0;
    bool moved = false;
};

/// @param least, most  between which the reading may lie
std::optional<double> reading_between(double dose, double division, double least, double most) {
    double reading = std::round(dose / division) * division;
    if (reading < least - written) reading += division;
    if (reading > most + written) reading -= division;
    if (reading < least - written || reading > most + written) return std::nullopt;
    return reading;
}

/// A dose on a tool, or nothing where the tool does not show it well enough.
///
/// @param rate, between  for each gram of the mixture
std::optional<Aim> aim(double rate, const Between& between, double grams, const ToolFacts& tool) {
    Aim out;
    out.dose = rate * grams;
    const double least = between ? (*between)[0] * grams + tool.half : 0.0;
    const double most = between ? (*between)[1] * grams - tool.half : no_end;
    if (least > most + written) return std::nullopt;
    const double aimed = std::min(std::max(out.dose, least), std::max(least, most));
    out.moved = std::abs(aimed - out.dose) > written;
    out.dose = aimed;
    if (tool.half > division_share * out.dose + written || out.dose > tool.most + written)
        return std::nullopt;
    const auto reading = reading_between(out.dose, 2.0 * tool.half, least, most);
    if (!reading) return std::nullopt;
    out.reading = *reading;
    if (std::abs(out.reading - out.dose) > tool.half + written) {
        out.dose = out.reading;
        out.moved = true;
    }
    return out;
}

struct Found {
    Tool tool = Tool::scale;
    Aim aim;
};

bool weighs(Tool tool) {
    return tool == Tool::scale;
}

std::optional<double> rate_on(const Part& part, Tool tool) {
    return weighs(tool) ? part.grams : part.mL;
}

const Between& between_on(const Part& part, Tool tool) {
    return weighs(tool) ? part.grams_between : part.mL_between;
}

/// The first tool, by mass or by volume, that shows a part of so many grams of mixture.
std::optional<Found> measured(const Part& part, double grams, bool by_mass) {
    for (const Tool tool : tools) {
        const auto rate = rate_on(part, tool);
        if (weighs(tool) != by_mass || !rate) continue;
        if (const auto found = aim(*rate, between_on(part, tool), grams, facts_of(tool)))
            return Found{tool, *found};
    }
    return std::nullopt;
}

/// On the data sheet's basis where that can be done, otherwise on the other.
std::optional<Found> measured(const Part& part, double grams) {
    const bool mass_first = !part.by_volume;
    if (const auto found = measured(part, grams, mass_first)) return found;
    return measured(part, grams, !mass_first);
}

/// To tenths of a gram, upwards: what a scale shows of the resin.
double to_tenths(double grams) {
    constexpr double tenths = 10.0;
    return std::ceil(grams * tenths - written) / tenths;
}

/// The smallest mixture of at least so many grams whose part one tool shows; nothing for none.
std::optional<double> least_on(const Part& part, double grams, Tool tool) {
    const auto rate = rate_on(part, tool);
    if (!rate || !(*rate > 0.0)) return std::nullopt;
    const Between& between = between_on(part, tool);
    const double width = between ? (*between)[1] - (*between)[0] : no_end;
    if (!(width > 0.0)) return std::nullopt;
    const ToolFacts& facts = facts_of(tool);
    // The dose itself, or one moved up from the lower end, or down from the upper one, of which
    // half a division is the share.
    const double share = facts.half / division_share;
    const double moved_up =
        between && (*between)[0] > 0.0 ? (share - facts.half) / (*between)[0] : no_end;
    const double moved_down = between ? (share + facts.half) / (*between)[1] : 0.0;
    const double by_share = std::max(std::min(share / *rate, moved_up), moved_down);
    // With room for half a division on both sides; with twice that some reading lies in between.
    for (const double room : {2.0 * facts.half / width, 4.0 * facts.half / width}) {
        const double tried = to_tenths(std::max({grams, by_share, room}));
        if (aim(*rate, between, tried, facts)) return tried;
    }
    return std::nullopt;
}

/// As many grams of mixture as are asked for, or the fewest more whose part can be measured.
double least_measurable(const Part& part, double grams) {
    if (!part.grams && !part.mL) return grams;
    if (measured(part, grams)) return grams;
    double least = no_end;
    for (const Tool tool : tools)
        least = std::min(least, least_on(part, grams, tool).value_or(no_end));
    return least <= std::max(grams, largest_batch) ? least : grams;
}

double division_of(Tool tool) {
    return 2.0 * facts_of(tool).half;
}

/// Two parts of a fixed ratio, each on a division of its tool.
struct Pair {
    double mL = 0.0;   ///< both together
    double off = 0.0;  ///< [-] of the ratio
};

/// The one that holds a reading of the hardener; nothing where a tool does not show it.
std::optional<Pair> pair_of(double hardener, double ratio) {
    const auto on = tool_by_volume(Millilitres(hardener)),
               resin_on = tool_by_volume(Millilitres(ratio * hardener));
    if (!on || !resin_on) return std::nullopt;
    if (std::abs(std::remainder(hardener, division_of(*on))) > written) return std::nullopt;
    const double division = division_of(*resin_on);
    const double resin = std::round(ratio * hardener / division) * division;
    return Pair{resin + hardener, std::abs(resin / (ratio * hardener) - 1.0)};
}

/// The least of at least so many mL, and at most `growth` times as many, that misses the ratio by
/// no more than `off`.
std::optional<double> least_pair(double mL, double ratio, double off, double growth) {
    const double wanted = mL / (1.0 + ratio), most = growth * wanted;
    const auto tool = tool_by_volume(Millilitres(wanted));
    if (!tool) return std::nullopt;
    const double division = division_of(*tool);
    // From one division below: a resin rounded up may make up for it.
    for (double k = std::max(1.0, std::floor(wanted / division)); k * division <= most + written;
         ++k) {
        const auto pair = pair_of(k * division, ratio);
        if (pair && pair->off <= off + written && pair->mL >= mL - written) return pair->mL;
    }
    return std::nullopt;
}

/// How many times as much surely holds a pair within `ratio_off`: from so many divisions of the
/// coarsest tool on, half a division of the resin is no more of it.
double sure_growth(double mL, double ratio) {
    const double coarsest = 2.0 * facts_of(Tool::jug).half;
    const double resin = 0.5 * coarsest / ratio_off;
    const double hardener = std::max(resin / ratio, facts_of(Tool::jug).half / division_share);
    return (hardener + coarsest) * (1.0 + ratio) / mL + 1.0;
}

/// Grams of mixture, rounded up so that what is poured by volume stands on divisions.
double on_divisions(const Part& resin, const Part& hardener, double grams, bool fixed_ratio) {
    if (!resin.by_volume || !resin.mL) return grams;
    if (fixed_ratio && hardener.mL) {
        const double each = *resin.mL + *hardener.mL, ratio = *resin.mL / *hardener.mL;
        // Where a tool has just become coarser, the next pair may be further off than a tenth.
        constexpr double near = 1.0 + most_left_over, far = 1.5;
        for (const auto& [off, growth] :
             {std::pair{0.0, near}, std::pair{ratio_off, near}, std::pair{ratio_off, far}})
            if (const auto mL = least_pair(each * grams, ratio, off, growth))
                return std::max(grams, *mL / each);
        const auto mL =
            least_pair(each * grams, ratio, ratio_off, sure_growth(each * grams, ratio));
        return mL ? std::max(grams, *mL / each) : grams;
    }
    const auto tool = tool_by_volume(Millilitres(*resin.mL * grams));
    if (!tool) return grams;
    const double division = division_of(*tool);
    const double up = std::ceil(*resin.mL * grams / division - written) * division;
    return std::max(grams, up / *resin.mL);
}

Part hardener_of(const Mixture& mixture) {
    Part part{bare(mixture.gram.hardener), bare(mixture.gram.hardener_volume),
              mixture.grams_between, mixture.mL_between, mixture.by_volume};
    // A range that is one figure leaves no room for any tool: it is warned of.
    const auto& between = part.by_volume ? part.mL_between : part.grams_between;
    if (between && !((*between)[1] > (*between)[0])) {
        part.grams_between.reset();
        part.mL_between.reset();
    }
    return part;
}

Part resin_of(const Mixture& mixture) {
    return {bare(mixture.gram.resin), bare(mixture.gram.resin_volume), {}, {}, mixture.by_volume};
}

std::optional<Measured> shown(const std::optional<Found>& found) {
    if (!found) return std::nullopt;
    return Measured{found->tool, found->aim.reading};
}

/// The other basis, where the part is known on both.
std::optional<Measured> shown_otherwise(const Part& part, double grams, const Found& first) {
    return shown(measured(part, grams, !weighs(first.tool)));
}

void fill_drops(const Part& hardener, double grams, double drops_per_mL, Cup& cup) {
    if (!hardener.mL) return;
    const ToolFacts dropper{0.5 / drops_per_mL, most_drops / drops_per_mL, {}, {}};
    if (const auto found = aim(*hardener.mL, hardener.mL_between, grams, dropper))
        cup.drops = static_cast<int>(std::lround(found->reading * drops_per_mL));
}

/// Grams of mixture that a reading belongs to.
std::optional<double> mixture_of(const std::optional<Measured>& dose, const Part& part) {
    if (!dose) return std::nullopt;
    const auto rate = rate_on(part, dose->tool);
    if (!rate) return std::nullopt;
    return dose->reading / *rate;
}

/// Whether two readings belong to one mixture, within `ratio_off`.
bool hold_the_ratio(const std::optional<Measured>& resin_dose, const Part& resin,
                    const std::optional<Measured>& hardener_dose, const Part& hardener) {
    const auto a = mixture_of(resin_dose, resin), b = mixture_of(hardener_dose, hardener);
    return a && b && std::abs(*a / *b - 1.0) <= ratio_off + written;
}

/// The other way of a fixed ratio is rounded part by part: it is shown only where it keeps the
/// ratio, as a pair and beside the first way.
void drop_way_off_ratio(const Part& resin, const Part& hardener, Cup& cup) {
    if (!cup.resin_or && !cup.hardener_or) return;
    const auto& resin_dose = cup.resin_or ? cup.resin_or : cup.resin_by;
    const auto& hardener_dose = cup.hardener_or ? cup.hardener_or : cup.hardener_by;
    if (hold_the_ratio(resin_dose, resin, hardener_dose, hardener)) return;
    cup.resin_or.reset();
    cup.hardener_or.reset();
}

/// Whether tools show both parts of so many grams, as far as figures for them are known.
bool both_fit(const Part& resin, const Part& hardener, double grams, bool by_ratio) {
    const auto fits = [&](const Part& part) {
        return (!part.grams && !part.mL) || measured(part, grams);
    };
    if (!fits(resin) || !fits(hardener)) return false;
    return !by_ratio || hold_the_ratio(shown(measured(resin, grams)), resin,
                                       shown(measured(hardener, grams)), hardener);
}

/// The batch really mixed: each part measurable, and on divisions where it is poured by volume. A
/// resin rounded up may leave a hardener that no tool shows: then the next division up, and so on.
/// Where none fits, the first.
double least_mixed(const Part& resin, const Part& hardener, double grams, bool fixed_ratio) {
    const bool by_ratio = fixed_ratio && resin.by_volume && resin.mL && hardener.mL;
    std::optional<double> first;
    for (double asked = grams; asked <= std::max(grams, largest_batch);) {
        const double least = least_measurable(hardener, least_measurable(resin, asked));
        const double mixed = on_divisions(resin, hardener, least, fixed_ratio);
        if (!first) first = mixed;
        if (both_fit(resin, hardener, mixed, by_ratio)) return mixed;
        if (!resin.by_volume) break;
        constexpr double step = 1.001;  // less than any division is of its dose, but for the jug's
        asked = mixed * step;
    }
    return first.value_or(grams);
}

void fill_hardener(const Part& part, double grams, Cup& cup) {
    const auto found = measured(part, grams);
    if (part.grams) cup.mix_hardener_g = *part.grams * grams;
    if (part.mL) cup.mix_hardener_mL = *part.mL * grams;
    if (!found) return;
    cup.hardener_by = shown(found);
    cup.hardener_or = shown_otherwise(part, grams, *found);
    cup.moved_inward = found->aim.moved;
    const double factor = found->aim.dose / (*rate_on(part, found->tool) * grams);
    if (cup.mix_hardener_g) *cup.mix_hardener_g *= factor;
    if (cup.mix_hardener_mL) *cup.mix_hardener_mL *= factor;
}

/// What a percentage may be of each gram, by mass or by volume.
Between percent_of(const std::optional<std::array<double, 2>>& range, double of, double least_scale,
                   double most_scale) {
    if (!range) return std::nullopt;
    return std::array<double, 2>{(*range)[0] / 100.0 * of * least_scale,
                                 (*range)[1] / 100.0 * of * most_scale};
}

/// The densities that a hardener may have: the user's own, or between makers'.
std::optional<std::array<double, 2>> densities_of(const job::Resin& resin) {
    if (density_assumed(resin))
        return std::array<double, 2>{hardener_densities[0].value(), hardener_densities[1].value()};
    if (!resin.hardener_density) return std::nullopt;
    return std::array<double, 2>{resin.hardener_density->value(), resin.hardener_density->value()};
}

void fill_ranges(const std::optional<std::array<double, 2>>& range, const job::Resin& resin,
                 Mixture& mixture) {
    const auto densities = densities_of(resin);
    if (mixture.by_volume) {
        const double of = mixture.gram.resin_volume->value();
        mixture.mL_between = percent_of(range, of, 1.0, 1.0);
        if (densities)
            mixture.grams_between = percent_of(range, of, (*densities)[1], (*densities)[0]);
        return;
    }
    const double of = mixture.gram.resin->value();
    mixture.grams_between = percent_of(range, of, 1.0, 1.0);
    if (densities)
        mixture.mL_between = percent_of(range, of, 1.0 / (*densities)[0], 1.0 / (*densities)[1]);
}

}  // namespace

const ToolFacts& facts_of(Tool tool) {
    static constexpr std::array<ToolFacts, 6> facts = {
        {{0.05, no_end, "scale", "reads 0.1 g"},
         {0.005, 1.0, "1-mL syringe", "in hundredths of a mL"},
         {0.05, 3.0, "3-mL syringe", "in tenths of a mL"},
         {0.1, 10.0, "10-mL syringe", "in fifths of a mL"},
         {0.5, 60.0, "60-mL syringe", "in whole mL"},
         {2.5, no_end, "measuring jug", "a line every 5 mL"}}};
    return facts.at(static_cast<std::size_t>(tool));
}

std::optional<Tool> tool_by_volume(Millilitres volume) {
    const double mL = volume.value();
    for (const Tool tool : tools) {
        const ToolFacts& facts = facts_of(tool);
        if (!weighs(tool) && facts.half <= division_share * mL + written &&
            mL <= facts.most + written)
            return tool;
    }
    return std::nullopt;
}

Mixture resin_mixture(const job::Resin& resin) {
    Mixture out;
    out.gram = recipe_for(Grams(1.0), resin);
    out.by_volume = resin.hardener_basis == job::Basis::volume;
    out.drops_per_mL = resin.drops_per_mL;
    out.fixed_ratio = resin.kind == job::ResinKind::epoxy;
    if (!out.fixed_ratio) fill_ranges(resin.hardener_range, resin, out);
    return out;
}

Mixture topcoat_mixture(const job::Job& job) {
    Mixture out;
    out.gram = topcoat_recipe(Grams(1.0), job);
    fill_ranges(job.topcoat.hardener_range, job.resin, out);
    return out;
}

Cup mixed_cup(Grams needed, const Mixture& mixture) {
    const Part hardener = hardener_of(mixture), resin = resin_of(mixture);
    const double mixed = least_mixed(resin, hardener, needed.value(), mixture.fixed_ratio);
    Cup cup;
    cup.mix_resin_g = mixed;
    cup.left_g = mixed - needed.value();
    if (resin.grams) cup.pour_g = *resin.grams * mixed;
    if (resin.mL) cup.pour_mL = *resin.mL * mixed;
    if (const auto found = measured(resin, mixed)) {
        cup.resin_by = shown(found);
        cup.resin_or = shown_otherwise(resin, mixed, *found);
    }
    fill_hardener(hardener, mixed, cup);
    if (mixture.fixed_ratio) drop_way_off_ratio(resin, hardener, cup);
    if (mixture.drops_per_mL) fill_drops(hardener, mixed, *mixture.drops_per_mL, cup);
    return cup;
}

bool rounded_up(const Cup& cup, const job::Resin& resin) {
    return !too_small(cup) && resin.hardener_basis == job::Basis::volume;
}

bool lacks_tool(const Cup& cup) {
    return (cup.mix_hardener_g || cup.mix_hardener_mL) && !cup.hardener_by;
}

bool too_small(const Cup& cup) {
    const double needed = cup.mix_resin_g - cup.left_g;
    return cup.left_g > most_left_over * needed + written;
}

}  // namespace tearline::quantities
