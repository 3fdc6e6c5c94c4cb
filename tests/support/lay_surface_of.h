#pragma once
#include <utility>
#include <vector>

#include "core/plies/lay_surface.h"
#include "core/surface/curved_area.h"

namespace tearline::test {

/// A mesh as the lay surface of a ply that lies on the base surface itself.
inline plies::LaySurface lay_surface_of(surface::SurfaceMesh mesh, std::vector<Vec2> chart) {
    plies::LaySurface lay;
    lay.area = surface::curved_area(mesh);
    lay.base = mesh.position;
    lay.mesh = std::move(mesh);
    lay.chart = std::move(chart);
    return lay;
}

}  // namespace tearline::test
