#pragma once
#include <vector>

#include "core/job/job.h"

namespace tearline::job {

/// A hole right through as a job for each side that glass is laid from, in the order of work: its
/// side, its depth, its plies. One, as asked, for every other repair.
///
/// The side laid second is deeper by scarf.grind_back (DEFINITIONS.md, Sides).
/// @pre  of a hole: hull.skin and scarf.from are known
[[nodiscard]] std::vector<Job> sides_of(const Job& job);

/// What lies on the gel coat of a mould, before the stack.
/// @source  mat of 225 or 300 g/m2: common practice
inline constexpr const char* skin_coat_mat = "mat 300";

/// Whether a hole is laid from inside against a mould that comes off again: gel coat and a skin
/// coat are laid on it first. A backing that stays is no mould.
[[nodiscard]] bool against_mould(const Job& job);

/// Whether a backing stays in the hull where the job does not say: from one side; from both faces
/// it gives way to the second one.
[[nodiscard]] bool backing_stays_by_default(const Job& job);

/// "outside" or "inside".
[[nodiscard]] const char* side_word(Side side);

}  // namespace tearline::job
