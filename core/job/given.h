#pragma once
#include <string>

#include "core/job/job.h"

namespace tearline::job {

/// Whether the job file itself gives a figure, or the program's default stands in for it.
///
/// @param key  "resin.waste", "topcoat"; of a fabric "fabric.mat 450.glass_content"
[[nodiscard]] bool is_given(const Job& job, const std::string& key);

/// The same of one key of one fabric.
[[nodiscard]] bool is_given(const Job& job, const Fabric& fabric, const std::string& key);

}  // namespace tearline::job
