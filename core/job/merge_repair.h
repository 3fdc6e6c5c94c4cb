#pragma once
#include "core/job/node.h"

namespace tearline::job {

/// Tables that all repairs of a boat share.
[[nodiscard]] const std::vector<std::string_view>& shared_tables();

/// What a table of the top may hold that a [[repair]] may hold too.
[[nodiscard]] const std::vector<std::string_view>& tables_of_a_repair();

/// The tree of a job of one repair: what stands at the top, and over it, key by key, what the
/// repair says. Arrays are replaced whole, and so are ways of saying one thing: any form of the
/// outline, of the depth, of the plies, of the old laminate replaces every form of the top. A
/// centre without a size or a scan takes the size of the top.
///
/// @param top     of the file; what is of the boat alone is left out
/// @param repair  a table of known keys
[[nodiscard]] Node merged_repair(const Node& top, const Node& repair);

}  // namespace tearline::job
