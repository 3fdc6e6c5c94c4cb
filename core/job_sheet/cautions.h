#pragma once
#include <string_view>
#include <vector>

#include "core/job/job.h"

namespace tearline::job_sheet {

/// One hazard or limit, as it is printed.
struct Caution {
    std::string_view heading;
    std::string_view words;
};

/// What can hurt a person, the worst first, for the resin at hand.
///
/// @source  SOURCES.md section 7, each with its own source there; US figures
[[nodiscard]] std::vector<Caution> cautions(const job::Job& job);

/// Who decides about the repair before it is begun; a box to tick for each.
[[nodiscard]] std::vector<std::string_view> ask_first();

}  // namespace tearline::job_sheet
