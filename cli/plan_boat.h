#pragma once
#include <string>
#include <string_view>

#include "cli/output_words.h"
#include "core/job/boat_job.h"

namespace tearline::cli {

/// What `tearline plan` was asked for, of a job of several places.
struct BoatWords {
    std::string job;
    OutputWords output;
    int after_ply = 0;
};

/// Plans and writes a boat of several places.
///
/// @param text  of its job file
/// @return the exit status: that of a refused place though the others are written
int run_plan_boat(const BoatWords& words, const job::BoatJob& job, std::string_view text);

}  // namespace tearline::cli
