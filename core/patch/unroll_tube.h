#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "core/patch/repair_region.h"
#include "core/surface/surface_mesh.h"

namespace tearline::patch {

/// A mesh that closes on itself round a tube, rolled out for somewhat more than one turn about the
/// damage.
struct UnrolledTube {
    surface::SurfaceMesh mesh;
    std::vector<std::int32_t> source;  ///< per triangle: of the tube's mesh
    std::vector<int> turn;             ///< per triangle: -1, 0 (where the damage is) or 1
    std::vector<std::array<bool, 3>> on_rim;  ///< per triangle's edge: lies on a rim of the tube
};

/// A chart of what is rolled out: triangle after triangle laid flat beside the one before, true to
/// length where the tube is developable.
[[nodiscard]] std::vector<Vec2> rolled_flat(const surface::SurfaceMesh& mesh);

/// A chart of what is rolled out whose rims want different lengths, as where a tube stands on a deck:
/// a strip as long as they are on average, nothing like isometric but without folds; empty where it
/// is no strip.
[[nodiscard]] std::vector<Vec2> rolled_strip(const UnrolledTube& unrolled);

/// [mm] joints of successive plies are never nearer to each other (the project's rule).
inline constexpr double least_joints_apart = 50.0;

/// How far apart the joints of successive plies lie: a quarter of the girth, 50 mm at least [mm]
/// (DEFINITIONS.md, Tubes).
[[nodiscard]] double joints_apart(double girth);

/// Rolls out a mesh with two rims and no other opening.
///
/// @param mesh  with its arc lengths
/// @return      nothing where it is no such tube
[[nodiscard]] std::optional<UnrolledTube> unroll_tube(const surface::SurfaceMesh& mesh,
                                                      const RepairRegion& region);

}  // namespace tearline::patch
