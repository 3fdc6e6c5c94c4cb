#pragma once
#include <string>

#include "core/job/job.h"

namespace tearline::job {

/// Every key of the job file with its default resolved, as the text of one JSON object.
///
/// Tables and keys are named as in the job file. Lengths are mm, areal weights and masses text with
/// their unit, so that each value could stand in a job file again; a key without a value is null.
[[nodiscard]] std::string effective_json(const Job& job);

}  // namespace tearline::job
