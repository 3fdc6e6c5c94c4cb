#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/plies/lay_surface.h"
#include "core/surface/patch.h"

namespace tearline::pieces {

/// One connected part of a ply as it is to be laid: where, of what, and how it is asked for.
struct PlyShape {
    const surface::Patch* patch = nullptr;  ///< outlives the shape
    Region2 region;                         ///< [mm] inside the net line, in the patch's chart
    plies::LayDepth depth;                  ///< of the ply's mid-plane
    std::vector<std::vector<Vec2>> kinks;   ///< [mm] chart lines where the depth has a kink
    Vec2 middle{0, 0};                      ///< [mm] the middle of the damage in the chart
    bool middle_whole = true;     ///< seams and cuts keep off the middle wherever that can be
    Vec3 y{0, 1, 0};              ///< direction to the top of the paper
    Vec3 axis_from{1, 0, 0};      ///< direction that fibre axes are counted from
    Vec3 normal{0, 0, 1};         ///< of the surface at the middle
    int ply = 0;                  ///< number of the ply, for messages and ids
    std::size_t first_piece = 0;  ///< pieces that the ply has already: ids go on from there
    job::Fabric fabric;
    job::StackEntry entry;
    std::optional<Vec2> press_first;  ///< [mm] in the chart, where the job gives it
    /// What would make it smaller, told where it does not lie down.
    std::string smaller = "a smaller ply (scarf.ratio)";
};

/// The shape's own surface, its mesh with edges along the given chart lines.
///
/// @error no_safe_answer  as for plies::mesh_region and plies::lay_surface
[[nodiscard]] Result<plies::LaySurface> lay_with_lines(const PlyShape& shape,
                                                       const std::vector<std::vector<Vec2>>& lines);

/// Ply number and letter: "3A" ... "3Z", "3AA" ...
[[nodiscard]] std::string piece_id(const PlyShape& shape, std::size_t index);

/// The letter of a piece among its ply's: A ... Z, AA, AB ...
[[nodiscard]] std::string piece_letters(std::size_t index);

}  // namespace tearline::pieces
