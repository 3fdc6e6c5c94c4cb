#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "core/scan/fair_field.h"
#include "core/scan/noise.h"

namespace tearline::scan {

/// A field through points of which some are not believed, and how far each lies off it.
struct RobustFit {
    FairField field;
    std::vector<Residual> residuals;  ///< of all points, in their order
    double spread = 0.0;              ///< [mm] of them
    std::size_t used = 0;             ///< points that count
    bool carried = true;              ///< enough of them are believed

    /// The points are as far off as their heights over the base: what stands before the hull is
    /// seen by that already, and is doubted from the first round on. A field that had once bent to
    /// it might keep to it.
    [[nodiscard]] static RobustFit of_base(std::span<const FieldPoint> points);
};

/// How points far off are taken: each for a little, so that the fit may still come to them; or,
/// past a few spreads, for nothing.
enum class Doubt { soft, hard };

/// Rounds that a field is given to rest.
inline constexpr int to_rest = 12;

/// Fits, and weighs the points by how far off they lie, in turn, until the field is at rest.
///
/// @param floor  [mm] the spread is never taken for less
/// @param from   how far off the points lay before
[[nodiscard]] RobustFit fitted(FairFit& fit, const std::vector<FieldPoint>& points, double floor,
                               Doubt doubt, RobustFit from, int rounds);

/// The points as the last round of a fit believed them, those of a small square as one.
[[nodiscard]] std::vector<FieldPoint> believed_points(std::vector<FieldPoint> points,
                                                      const RobustFit& fit, double floor);

/// Residuals of the points that count.
[[nodiscard]] std::vector<Residual> believed(const RobustFit& fit, double floor);

}  // namespace tearline::scan
