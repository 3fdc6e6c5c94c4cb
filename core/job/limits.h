#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace tearline::job {

/// [mm] no coordinate of a hull lies farther out: 10 km.
inline constexpr double farthest_coordinate = 10'000'000.0;

/// What keeps a title or a name off a template: too long, or not printable; nothing where it may
/// stand there.
[[nodiscard]] std::optional<std::string> fault_of_text(std::string_view text);

}  // namespace tearline::job
