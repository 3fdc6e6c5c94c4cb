#pragma once
#include <string>

#include "core/base/result.h"

namespace tearline::cli {

/// Whether a name is free for a PDF of ours, asked before there is one.
///
/// @error output_failed  as of save()
[[nodiscard]] Result<void> check_free(const std::string& name);

/// Writes a PDF whole or not at all; "-" is stdout.
///
/// @error output_failed  the name is taken by something that is no PDF of this program's, which is
///                       left as it is, or the file cannot be written
[[nodiscard]] Result<void> save(const std::string& bytes, const std::string& name);

}  // namespace tearline::cli
