#pragma once
#include <string>
#include <vector>

namespace tearline::cli {

/// What `tearline plan JOB --vary` is asked.
struct VaryWords {
    std::string job, folder;              ///< `folder` empty: the table on the terminal alone
    std::vector<std::string> variations;  ///< "scarf.ratio=8,12,20"
    int after_ply = 0;
};

/// Refuses words that cannot be meant (CLI::ValidationError).
void check_variations(const std::vector<std::string>& variations);

/// Plans every combination and shows them side by side.
/// @return the exit status
int run_vary(const VaryWords& words);

}  // namespace tearline::cli
