#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/variants/variant.h"

namespace tearline::variants {

/// What is best in a column.
enum class Best { least, greatest, nearest_to_one };

/// A figure that variants are compared by.
struct Column {
    std::string key;    ///< in variants.csv, in its unit there
    std::string title;  ///< over the column, with its unit
    Best best = Best::least;
    double factor = 1.0;  ///< from the figure to what is shown
    int decimals = 0;     ///< of what is shown
};

/// Those of which some variant has a figure; the warnings are a column of their own.
[[nodiscard]] std::vector<Column> columns_of(const Variants& variants);

/// Whether the variant is the best there is by a figure: of those that may be marked.
[[nodiscard]] bool is_best(const Variants& variants, const Variant& variant, const Column& column);

/// The same by warnings: fewest to do, then fewest to know.
[[nodiscard]] bool has_fewest_warnings(const Variants& variants, const Variant& variant);

/// The figure as it is shown; "" where there is none. A cost that lacks prices: "over 120.00".
[[nodiscard]] std::string shown(const Variant& variant, const Column& column);

/// "0 / 2 / 5": to stop and decide, to do, to know.
[[nodiscard]] std::string shown_warnings(const Variant& variant);

/// What the marks mean, and what is never marked.
[[nodiscard]] std::string mark_words();

/// What the comparison is, and who decides.
[[nodiscard]] std::string caution_words();

}  // namespace tearline::variants
