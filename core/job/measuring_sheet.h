#pragma once
#include <string_view>

namespace tearline::job {

/// A page to take to the hull: where marks and battens go, and a box for every figure that a job
/// without a model wants, in the order they are taken and under the names they have in the job
/// file.
[[nodiscard]] std::string_view measuring_sheet();

}  // namespace tearline::job
