#pragma once
#include <optional>

namespace tearline::quantities {

/// An amount's figure without its unit, if there is one.
template <class Amount>
[[nodiscard]] std::optional<double> bare(const std::optional<Amount>& amount) {
    if (!amount) return std::nullopt;
    return amount->value();
}

}  // namespace tearline::quantities
