#include "core/variants/columns.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/us_units.h"
#include "core/variants/tolerances.h"

namespace tearline::variants {

namespace {

/// How far from the best a figure is: the least is best.
double badness(double figure, Best best) {
    switch (best) {
        case Best::least:
            return figure;
        case Best::greatest:
            return -figure;
        case Best::nearest_to_one:
            return std::abs(std::log(figure));
    }
    return figure;
}

/// The figure where it may be compared: a cost that lacks prices is none.
std::optional<double> compared(const Variant& variant, const Column& column) {
    if (column.key == "cost" && !variant.cost_complete) return std::nullopt;
    return variant.figure(column.key);
}

/// Whether nobody that may be marked has less.
template <class Measure>
bool is_least(const Variants& variants, const Variant& variant, const Measure& measure) {
    const auto own = measure(variant);
    if (!own || !variant.not_marked_because().empty()) return false;
    const double slack = tolerance::no_figure + tolerance::same_figure * std::abs(*own);
    return std::none_of(variants.all.begin(), variants.all.end(), [&](const Variant& other) {
        const auto theirs = measure(other);
        return theirs && other.not_marked_because().empty() && *theirs < *own - slack;
    });
}

}  // namespace

std::vector<Column> columns_of(const Variants& variants) {
    const bool us = variants.units == Units::us;
    const double feet = us::square_feet(SquareMetres(1.0)), ounces = us::ounces(Grams(1.0));
    const std::string currency = variants.currency.empty() ? "" : " " + variants.currency;
    std::vector<Column> all = {
        {"ground_area_m2", us ? "ground ft2" : "ground m2", Best::least, us ? feet : 1.0,
         us ? 2 : 4},
        {"glass_g", us ? "glass oz wt" : "glass g", Best::least, us ? ounces : 1.0, us ? 1 : 0},
        {"resin_g", us ? "resin oz wt" : "resin g", Best::least, us ? ounces : 1.0, us ? 1 : 0},
        {"hours", "work h", Best::least, 1.0, 1},
        {"cost", "cost" + currency, Best::least, 1.0, 2},
        // The greatest of all facets: on other facets it differs by some hundredths.
        {"strain_max", "strain %", Best::least, 100.0, 1},
        {"shear_max", "shear deg", Best::least, 1.0, 1},
        {"strength", "strength", Best::greatest, 1.0, 2},
        {"bending_stiffness", "stiffness", Best::nearest_to_one, 1.0, 2}};
    std::erase_if(all, [&](const Column& column) {
        return std::none_of(variants.all.begin(), variants.all.end(), [&](const Variant& variant) {
            return variant.figure(column.key).has_value();
        });
    });
    return all;
}

bool is_best(const Variants& variants, const Variant& variant, const Column& column) {
    return is_least(variants, variant, [&](const Variant& of) -> std::optional<double> {
        const auto figure = compared(of, column);
        return figure ? std::optional(badness(*figure, column.best)) : std::nullopt;
    });
}

bool has_fewest_warnings(const Variants& variants, const Variant& variant) {
    constexpr double one_to_do = 1e4;  // more than there ever are to know
    return is_least(variants, variant, [](const Variant& of) -> std::optional<double> {
        return one_to_do * of.count(WarningRank::act) + of.count(WarningRank::know);
    });
}

std::string shown(const Variant& variant, const Column& column) {
    const auto figure = variant.figure(column.key);
    if (!figure) return {};
    const std::string text = fixed(column.factor * *figure, column.decimals);
    return column.key == "cost" && !variant.cost_complete ? "over " + text : text;
}

std::string shown_warnings(const Variant& variant) {
    std::string text;
    for (const WarningRank rank : warning_ranks)
        text += (text.empty() ? "" : " / ") + std::to_string(variant.count(rank));
    return text;
}

std::string mark_words() {
    return "* marks the best of a column: the least ground, glass, resin, work, cost, strain, "
           "shear and warnings, the greatest strength, the stiffness nearest to 1 (both as parts "
           "of the old laminate's). Never marked: what has something to stop and decide, a scarf "
           "below 12 or below its check, a patch weaker than the old laminate.";
}

std::string caution_words() {
    return "A comparison to choose by, no work sheet: nobody cuts, mixes or lays by it. Plan the "
           "one you choose by itself and work by its job sheet, which has the cautions. A scarf "
           "below 12, a patch weaker or much stiffer than the old laminate, and whatever the hull "
           "depends on are for a surveyor, designer or class to decide: licensed practice.";
}

}  // namespace tearline::variants
