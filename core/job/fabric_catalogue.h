#pragma once
#include <map>
#include <string>
#include <string_view>

#include "core/job/job.h"

namespace tearline::job {

/// A fabric of a kind with that kind's defaults; name and weight are the caller's to set.
[[nodiscard]] Fabric fabric_of_kind(FabricKind kind);

/// The fabrics every job knows, by name.
[[nodiscard]] std::map<std::string, Fabric> built_in_fabrics();

/// Their names, mat first, the lighter before the heavier.
[[nodiscard]] std::vector<std::string_view> built_in_names();

/// What is laid when nothing is said: `fill` and `cover`.
[[nodiscard]] Layup usual_layup();

[[nodiscard]] std::string_view kind_word(FabricKind kind);

}  // namespace tearline::job
