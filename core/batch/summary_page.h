#pragma once
#include <string>

#include "core/batch/result_rows.h"

namespace tearline::batch {

/// "400 jobs: 388 done (31 with something to decide first), 12 refused".
[[nodiscard]] std::string summary_words(const ResultRows& results);

/// Many results on one page: how they ended, how they spread, and a table with what needs a person
/// first.
[[nodiscard]] std::string summary_page(const ResultRows& results);

}  // namespace tearline::batch
