#pragma once
#include <memory>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/patch/lapped_patch.h"
#include "core/plies/ply_levels.h"

namespace tearline::job {
struct Job;
}

namespace tearline::ground {

struct Ground;

/// Cloth that goes over the hull's end (DEFINITIONS.md, End of the hull).
struct EndLap {
    std::shared_ptr<const patch::LappedPatch> over;
    double depth = 0.0;        ///< [mm] of the dish at the end, where it is deepest there
    std::vector<double> laps;  ///< [mm] by place in levels.plies, beyond the bend; 0: none
    double longest = 0.0;      ///< [mm] what the longest one takes of the far face, torn band too
    std::vector<Region2> footprint;  ///< [mm] in the chart of `over`
    double area_mm2 = 0.0;           ///< of the finished face beyond the end inside the footprint

    [[nodiscard]] const patch::EndBend& bend() const { return over->bend(); }
    /// [mm] that the ground edge is rounded to first.
    [[nodiscard]] double ground_radius() const { return bend().radius - depth; }
    /// [mm] of one of levels.plies, beyond the bend; 0: it does not go over.
    [[nodiscard]] double lap_of(const plies::PlyLevels& levels, const plies::PlyLevel& ply) const;
    /// A region of the hull with what lies square over the end beyond it, as far as `over` goes.
    [[nodiscard]] Region2 carried_over(const Region2& region) const;
    /// Lines on the finished face along the end, `v` mm over it [mm].
    [[nodiscard]] std::vector<std::vector<Vec3>> lines_3d(double v) const;
};

/// Lets the plies that reach the hull's end go over it, and the dish with them: its depth there is
/// that of the place of the end that it lies square over.
///
/// @pre  ground is laid as if the hull ended there
/// @error bad_input       a repair that cannot be lapped yet, or an edge_radius under the depth
/// @error no_safe_answer  the end has a corner under the cloth, or bends too tightly
[[nodiscard]] Result<void> lap_over_end(const job::Job& job, Ground& ground);

}  // namespace tearline::ground
