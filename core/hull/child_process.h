#pragma once
#include <functional>

namespace tearline::hull {

/// Runs something in a child process and tells whether it came to its end there: for library calls
/// that may fall over damaged input. Nothing of what it does reaches this process.
[[nodiscard]] bool survives_in_child(const std::function<void()>& attempt);

}  // namespace tearline::hull
