#pragma once

namespace tearline {

/// What a sheet is read in.
enum class Units { metric, us };

}  // namespace tearline
