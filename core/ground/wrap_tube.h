#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/base/vec.h"

namespace tearline::ground {

struct Ground;

/// Plies that go right round a tube and meet themselves (DEFINITIONS.md, Tubes).
struct TubeWrap {
    double girth = 0.0;  ///< [mm] of the base surface, through the damage
    double apart = 0.0;  ///< [mm] joints of successive plies, along it
    /// [mm] in the chart, by place in levels.plies: where its two ends meet; empty for a ply that
    /// does not go round.
    std::vector<std::vector<std::vector<Vec2>>> seams;
};

/// Ends every ply that goes round the tube at a joint on the far side of it, where its ends meet,
/// those of successive plies apart; and makes the dish that of the tube and not of its chart.
///
/// @pre  ground is laid in a chart that winds round
/// @error no_safe_answer  the damage itself goes so far round that no joint keeps off it
[[nodiscard]] Result<void> wrap_tube(Ground& ground);

}  // namespace tearline::ground
