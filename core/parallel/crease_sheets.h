#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::parallel {

/// One vertex of a crease line with the copies that its two sheets have of it.
struct CreaseVertex {
    std::int32_t vertex = -1;  ///< of the mesh
    std::int32_t left = -1;    ///< copy on the sheet to the left, walking along the line
    std::int32_t right = -1;   ///< copy on the sheet to the right
    Vec3 tangent{0, 0, 0};     ///< unit, along the line
    double turn = 0.0;         ///< [rad] positive where the sheets bulge to the laying side
    double along = 0.0;        ///< [mm] way along the line
};

/// A chain of crease edges without branches.
struct CreaseLine {
    std::vector<CreaseVertex> vertices;
    std::vector<std::array<std::int32_t, 2>>
        sides;  ///< per edge: triangle to the left, to the right
    bool starts_on_rim = false;
    bool ends_on_rim = false;
};

/// A mesh taken apart along its creases: each sheet has its own copy of a crease's vertices.
struct CreaseSheets {
    std::vector<std::array<std::int32_t, 3>> triangle;  ///< of copies
    std::vector<std::int32_t> origin;                   ///< per copy: the mesh's vertex
    std::vector<Vec3> normal;                           ///< per copy: the sheet's unit normal there
    std::vector<std::array<bool, 3>> rim;  ///< per triangle and edge: the mesh's own end
    std::vector<CreaseLine> lines;
};

/// Takes a mesh apart along the edges marked as creases.
///
/// A crease that ends inside a sheet leaves its last vertex whole. A closed crease is cut open at
/// one of its vertices.
[[nodiscard]] CreaseSheets take_apart(const surface::SurfaceMesh& mesh,
                                      const std::vector<std::array<bool, 3>>& crease);

}  // namespace tearline::parallel
