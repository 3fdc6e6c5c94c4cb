#pragma once
#include <string>
#include <vector>

#include "core/plan/plan.h"

namespace tearline::page {

/// One thing that is laid: a ply, or what closes a hole.
struct Layer {
    const templates::LaidPly* ply = nullptr;
    std::string id;         ///< of its templates' figures: "3", "backing", "core", "flat"
    std::string name;       ///< "3", "Backing"
    std::string words;      ///< "mat 450, cover, 1.05 mm"
    bool closes = false;    ///< a backing or a core, no ply
    Vec3 towards{0, 0, 1};  ///< the way that whoever lays it is
    int height = 0;         ///< which lies over which, seen from the side of the plan's own place
    double below_mm = 0.0;  ///< the face laid from: by so much a picture lifts it, or what lies
                            ///< under a core or behind a dish would not be seen
};

/// All of them in the order of laying: a backing before the first ply, a core before the plies
/// over it.
[[nodiscard]] std::vector<Layer> layers_of(const Plan& plan);

/// The place of each part, or the plan's own where it has none.
[[nodiscard]] std::vector<const plan::Place*> places_of(const Plan& plan);

/// The outermost of the places that are laid from the same side as `towards`.
[[nodiscard]] const plan::Place& outermost(const Plan& plan, const Vec3& towards);

}  // namespace tearline::page
