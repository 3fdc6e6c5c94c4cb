#pragma once
#include <functional>
#include <string_view>

namespace tearline {

/// Told of each stage as it begins; answers false to stop.
using Progress = std::function<bool(std::string_view stage, double fraction)>;

}  // namespace tearline
