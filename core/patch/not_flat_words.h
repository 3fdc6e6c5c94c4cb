#pragma once
#include <string>

namespace tearline::patch {

/// Of whom a refusal says that it does not lie flat, and what would help.
struct NotFlatWords {
    std::string what = "the hull near the damage";
    std::string instead = "make the repair smaller or split it";
    std::string of_joints =  ///< goes on where parts meet at an edge
        ": what stands on a deck and the deck itself, each from a model that ends at their joint";
};

}  // namespace tearline::patch
