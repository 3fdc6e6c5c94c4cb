#pragma once
#include <string>

namespace tearline::job {

/// Every key of the job file as JSON: {"keys": [{"table", "key", "kind", "unit", "range",
/// "choices", "defaults", "form", "meaning", "on_sheet"}, ...]}; what a key has not is left out.
///
/// "choices" of plies are the built-in cloths. "range": least, most, and whether they are allowed
/// themselves. "defaults": a value for each kind of cloth or resin ("of"; nothing for any) with the
/// mark of what it rests on.
[[nodiscard]] std::string keys_json();

}  // namespace tearline::job
