#pragma once
#include <vector>

#include "core/plan/plan.h"

namespace tearline::plan {

/// One plan of several parts that were planned one by one, in the order of work: all plies, one
/// nest, one shopping list, amounts and stages of all. What is of a place alone is that of `main`.
///
/// @param job   as asked, its points found on the hull
/// @param main  which of the parts is under the hand
/// @pre  two parts or more
[[nodiscard]] Plan combined(const job::Job& job, std::vector<Plan> parts, std::size_t main);

/// What a plan takes up of the base surface: the sum of its parts.
[[nodiscard]] quantities::Areas areas_of(const Plan& plan);

/// The shopping list of a plan of several parts, after its amounts have changed.
void shop_anew(Plan& plan);

}  // namespace tearline::plan
