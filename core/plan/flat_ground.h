#pragma once
#include "core/base/result.h"
#include "core/damage/damage_outline.h"
#include "core/damage/flat_frame.h"
#include "core/hull/hull.h"
#include "core/plan/flat_job.h"
#include "core/surface/patch.h"

namespace tearline::plan {

/// The surface about what is laid flat, and its edge.
struct FlatGround {
    surface::Patch patch;
    Region2 region;  ///< [mm] in the chart
    damage::DamageOutline edge;
    damage::FlatFrame frame;
    bool has_faces = false;  ///< of a CAD model, which can be named
};

/// What to lay flat instead, at the end of a refusal.
///
/// @param has_faces  a CAD model; a mesh has none that can be named
[[nodiscard]] const char* other_piece(bool has_faces);

/// All of a model, or the piece of it within `asked.outline`.
///
/// @error bad_input       points that lie on no surface, a mesh that looks like a scan
/// @error no_safe_answer  a model that is closed, in several parts, or that winds round a tube
[[nodiscard]] Result<FlatGround> flat_ground(const hull::Hull& hull, const FlatJob& asked);

/// The place of the surface over a point of the chart, of its rim too.
[[nodiscard]] Vec3 place_over(const surface::Patch& patch, const Vec2& chart);

}  // namespace tearline::plan
