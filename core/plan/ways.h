#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/laminate/scarf_check.h"

namespace tearline::plan {

/// What a hole right through costs from one face, from the other, or from both.
struct Way {
    std::string from;                    ///< "outside" | "inside" | "both"
    bool chosen = false;                 ///< by the job
    std::optional<std::string> refused;  ///< why no plan is made that way; the rest is then nothing
    double ground_radius_mm = 0.0;       ///< of a disc as large as the larger ground area
    double dish_mL = 0.0;                ///< what is ground out and laid again, all sides
    double glass_g = 0.0, resin_g = 0.0;              ///< needed, without waste of cloth
    double hours = 0.0;                               ///< of work, tearing to last coat
    std::string access;                               ///< who has to get where, in words
    std::optional<laminate::ScarfCheck> scarf_check;  ///< of the steeper side
};

}  // namespace tearline::plan
