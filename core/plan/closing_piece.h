#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/job/job.h"
#include "core/templates/laid_ply.h"

namespace tearline::plan {

/// Something flat that closes a hole and lies on a face of the skin: a backing, a core plug.
struct ClosingRequest {
    std::string name;           ///< "backing", "core": ids of its pieces
    job::Side side;             ///< that it is seen from
    double below = 0.0;         ///< [mm] the face it lies on, below the face on that side
    double offset = 0.0;        ///< [mm] its edge outside the damage, on that face
    double band = 0.0;          ///< [mm] beyond it, that its other face reaches: a chamfer
    double mid_plane = 0.0;     ///< [mm] below that face; negative above it
    double strain_limit = 0.5;  ///< [-] over it relief cuts are made
};

/// Its pieces with templates to cut, without words yet, and the ground that they lie on.
struct Closing {
    ground::Ground ground;
    templates::LaidPly ply;
};

/// Lays it on the hull and flat on the table, as a ply.
///
/// @param job  with its damage known on some face of the skin
/// @error no_safe_answer  it has no flat shape
[[nodiscard]] Result<Closing> lay_closing(const job::Job& job, const hull::Hull& hull,
                                          const ClosingRequest& request);

}  // namespace tearline::plan
