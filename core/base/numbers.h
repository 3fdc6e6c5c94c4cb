#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace tearline {

/// A number as plain decimal text with a point, whatever the locale.
///
/// @param decimals  digits after the point, trailing zeros kept
[[nodiscard]] std::string fixed(double value, int decimals);

/// A number in the shortest text that reads back as the same bits.
[[nodiscard]] std::string shortest(double value);

/// Reads the whole text as one number, whatever the locale; nothing when any of it is not one.
[[nodiscard]] std::optional<double> read_number(std::string_view text);

}  // namespace tearline
