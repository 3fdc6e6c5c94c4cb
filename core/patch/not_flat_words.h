#pragma once
#include <string>

namespace tearline::patch {

/// Of whom a refusal says that it does not lie flat, and what would help.
struct NotFlatWords {
    std::string what = "the hull near the damage";
    std::string instead = "make the repair smaller or split it";
};

}  // namespace tearline::patch
