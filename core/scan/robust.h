#pragma once
#include <algorithm>
#include <vector>

namespace tearline::scan {

/// [-] Tukey's biweight counts nothing past this many spreads (from memory: 95 % efficient on
/// normal noise).
inline constexpr double tukey_reach = 4.685;

/// How much a residual counts after Cauchy: never nothing, and far off the less the farther (2.385
/// spreads from memory: 95 % efficient on normal noise).
[[nodiscard]] inline double cauchy_weight(double spreads) {
    constexpr double half = 2.385;
    return 1.0 / (1.0 + spreads * spreads / (half * half));
}

/// How much a residual counts, by its size in spreads: 1 near zero, 0 from 4.685.
[[nodiscard]] inline double tukey_weight(double spreads) {
    const double x = spreads / tukey_reach;
    const double rest = 1.0 - x * x;
    return rest > 0.0 ? rest * rest : 0.0;
}

/// The loss whose minimum those weights lead to.
[[nodiscard]] inline double tukey_loss(double spreads) {
    constexpr double whole = tukey_reach * tukey_reach / 6.0;
    const double x = spreads / tukey_reach;
    const double rest = 1.0 - x * x;
    return rest > 0.0 ? whole * (1.0 - rest * rest * rest) : whole;
}

/// The middle of some values; 0 of none.
[[nodiscard]] inline double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace tearline::scan
