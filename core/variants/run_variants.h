#pragma once
#include <filesystem>
#include <functional>
#include <vector>

#include "core/base/result.h"
#include "core/batch/task.h"
#include "core/job/change.h"
#include "core/variants/variant.h"

namespace tearline::variants {

struct VariantOptions {
    int after_ply = 0;  ///< plan what is left after this ply; 0: all
    batch::JobLimits limits;
    /// Told how many of how many are done.
    std::function<void(std::size_t, std::size_t)> progress{};
};

/// Plans every combination of the values of some keys of a job, each in a process of its own, as
/// many at once as there are cores.
///
/// @param variations  one or more, of most_combinations in all
/// @error bad_input, no_safe_answer  where no combination can be planned: why the first cannot
/// @error output_failed              no process can be started, or a signal came
[[nodiscard]] Result<Variants> run_variants(const std::filesystem::path& job,
                                            const std::vector<job::Variation>& variations,
                                            const VariantOptions& options = {});

}  // namespace tearline::variants
