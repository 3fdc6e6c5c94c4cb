#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/job/job.h"

namespace tearline::files {

/// What a plan was made from and by: where all of it is the same, so is the plan.
struct Origin {
    std::optional<std::string>
        job;  ///< SHA-256 of the job file's bytes; none where there is no file
    std::optional<std::string> model;  ///< of the files that it names (models_sha256())
    std::string options;               ///< of the options that shape the output (OutputOptions)
    std::string program;               ///< of the program (program_sha256())

    bool operator==(const Origin&) const = default;
};

/// SHA-256 of this program's build id, which its linker makes of all that it puts into it; where it
/// has none, of the file that it was started from.
[[nodiscard]] const std::string& program_sha256();

/// SHA-256 of the files that a job reads: of its hull's model; where it has scans besides, of the
/// hashes of all of them, one after the other in the order of the job file; none of a hull measured
/// by hand.
///
/// @param hull_sha256  of the model where it is known already; "" reads it
/// @error bad_input  a file cannot be read
[[nodiscard]] Result<std::optional<std::string>> models_sha256(const job::Job& job,
                                                               std::string_view hull_sha256 = {});

}  // namespace tearline::files
