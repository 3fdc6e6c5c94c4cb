#pragma once
#include <string_view>

namespace tearline::job {

/// What a sheet says of a default that stands in for a figure of the job.
struct StandIn {
    std::string_view words;  ///< what it is: "Left in pots, rollers and brushes"
    std::string_view mark;   ///< what it rests on: "published", "common practice", "from memory"
};

/// @param path  of a key that has a default: "resin.waste"
/// @param of    the kind of resin or cloth, where the default depends on it: "polyester"
/// @throws std::logic_error  no key or no default of that name
[[nodiscard]] StandIn stand_in(std::string_view path, std::string_view of = "");

}  // namespace tearline::job
