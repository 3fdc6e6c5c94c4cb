#pragma once
#include <string>

#include "core/job/node.h"

namespace tearline::job {

/// A node as JSON; `nothing` is null.
[[nodiscard]] std::string json_text(const Node& node);

}  // namespace tearline::job
