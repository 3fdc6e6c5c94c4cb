#pragma once
#include <optional>
#include <vector>

#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/hull/hull.h"
#include "core/templates/laid_ply.h"

namespace tearline::rates {

/// What a plan stands on, as the rates want it.
struct PlannedGround {
    const job::Job& asked;  ///< as read, its points not placed yet
    const ground::PlacedJob& placed;
    const hull::Hull& hull;
    const ground::Ground& ground;
};

/// How far an edge of a ply's templates moves for each millimetre that a figure of a table is
/// wrong, to first order.
///
/// The surface follows each pole of its spline, the flat piece follows the surface by one Newton
/// step on its own mesh, and the net line keeps its geodesic distance from the outline, which keeps
/// its distances from centre or marks; in a dish known by soundings it follows the depth field, as
/// those slide by their tapes and are corrected under a straightedge. What moves or turns a
/// template as a whole is left out. Cloth is followed as if it were mat.
/// @return  [-] for each of the hull's figures; nothing for battens
[[nodiscard]] std::optional<std::vector<double>> edge_rates(const PlannedGround& on,
                                                            const templates::LaidPly& ply);

}  // namespace tearline::rates
