#pragma once
#include <string_view>

namespace tearline::job {

/// A commented job file to start from: every key with its unit and default.
///
/// It parses as it stands; the model and the place of the damage are the user's to put in.
[[nodiscard]] std::string_view new_job_file();

}  // namespace tearline::job
