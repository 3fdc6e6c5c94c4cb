#pragma once
#include <span>

#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/job/job.h"

namespace tearline::plan {

/// Refuses a repair of more cloth than is laid: each piece takes 0.1 s and more to be laid
/// flat, labelled and placed on its roll.
///
/// Counted are the strips that the plies take at least, by how wide they are and their rolls.
/// @error no_safe_answer  how many there are, and what would make them fewer
[[nodiscard]] Result<void> check_count_of_strips(const ground::Ground& ground, const job::Job& job,
                                                 std::span<const plies::PlyLevel> levels);

}  // namespace tearline::plan
