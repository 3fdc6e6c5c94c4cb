#pragma once
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// How far a chart is from the lengths of its mesh.
struct ChartQuality {
    double least_stretch = 1.0;  ///< [-] smallest singular value over the triangles
    double most_stretch = 1.0;   ///< [-] largest
    TriangleId worst{0};         ///< the triangle that is stretched or squeezed most
};

/// Lays a mesh of disc type, openings allowed, in the plane: near-isometric, without overlaps.
///
/// Starts from the best plane where that folds nothing (else from Tutte's map to a circle), then
/// takes local-global steps towards the arc lengths, each cut short before a triangle would turn
/// over.
/// @param start  [mm] per vertex, a first guess that is taken where it folds nothing; may be empty
/// @pre one component, the outer rim the longest of its boundary loops
/// @return [mm] per vertex, counter-clockwise; empty when even Tutte's map folds (not a disc)
/// @source  Tutte, How to draw a graph (1963); Liu et al., A local/global approach to mesh
///          parameterization (2008); Smith and Schaefer, Bijective parameterization (2015)
[[nodiscard]] std::vector<Vec2> make_chart(const SurfaceMesh& mesh, std::vector<Vec2> start = {});

[[nodiscard]] ChartQuality chart_quality(const SurfaceMesh& mesh, const std::vector<Vec2>& chart);

}  // namespace tearline::surface
