#pragma once
#include <array>
#include <vector>

#include "core/parallel/ids.h"
#include "core/surface/surface_mesh.h"

namespace tearline::parallel {

/// One vertex of a crease line with the copies that its two sheets have of it.
struct CreaseVertex {
    VertexId vertex;        ///< of the mesh
    CopyId left;            ///< on the sheet to the left, walking along the line
    CopyId right;           ///< on the sheet to the right
    Vec3 tangent{0, 0, 0};  ///< unit, along the line
    double turn = 0.0;      ///< [rad] positive where the sheets bulge to the laying side
    double along = 0.0;     ///< [mm] way along the line
};

/// A chain of crease edges without branches.
struct CreaseLine {
    std::vector<CreaseVertex> vertices;
    std::vector<std::array<TriangleId, 2>> sides;  ///< per edge: to the left, to the right
    bool starts_on_rim = false;
    bool ends_on_rim = false;
};

/// A mesh taken apart along its creases: each sheet has its own copy of a crease's vertices.
struct CreaseSheets {
    PerId<TriangleId, std::array<CopyId, 3>> triangle;  ///< numbered as the mesh's
    PerId<CopyId, VertexId> origin;
    PerId<CopyId, Vec3> normal;                  ///< the sheet's unit normal there
    PerId<TriangleId, std::array<bool, 3>> rim;  ///< per edge: the mesh's own end
    std::vector<CreaseLine> lines;
};

/// Takes a mesh apart along the edges marked as creases.
///
/// A crease that ends inside a sheet leaves its last vertex whole. A closed crease is cut open at
/// one of its vertices.
[[nodiscard]] CreaseSheets take_apart(const surface::SurfaceMesh& mesh,
                                      const std::vector<std::array<bool, 3>>& crease);

}  // namespace tearline::parallel
