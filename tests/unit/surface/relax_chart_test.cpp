#include "core/surface/relax_chart.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/plane/crossings.h"
#include "core/surface/chart.h"

namespace tearline::surface {
namespace {

/// A flat ring from radius 60 to 120 [mm] cut open, of a part of a turn or more than one, whose
/// copies lie on one another; its start is a straight strip as long as its middle.
struct OpenRing {
    SurfaceMesh mesh;
    std::vector<Vec2> strip;
};

OpenRing open_ring(double angle) {
    constexpr int along = 60, across = 8;
    OpenRing out;
    for (int i = 0; i <= along; ++i)
        for (int j = 0; j <= across; ++j) {
            const double a = angle * i / along, r = 60.0 + 60.0 * j / across;
            out.mesh.position.emplace_back(r * std::cos(a), r * std::sin(a), 0.0);
            out.strip.emplace_back(60.0 * j / across, 90.0 * a);
        }
    const auto at = [](int i, int j) { return i * (across + 1) + j; };
    for (int i = 0; i < along; ++i)
        for (int j = 0; j < across; ++j) {
            out.mesh.triangle.push_back({at(i, j), at(i, j + 1), at(i + 1, j + 1)});
            out.mesh.triangle.push_back({at(i, j), at(i + 1, j + 1), at(i + 1, j)});
        }
    out.mesh.corner_normal.assign(out.mesh.triangle.size(),
                                  {Vec3::UnitZ(), Vec3::UnitZ(), Vec3::UnitZ()});
    set_arc_lengths(out.mesh);
    return out;
}

bool rim_crosses(const OpenRing& ring, const std::vector<Vec2>& chart) {
    Region2 region;
    const auto rims = boundary_loops(ring.mesh);
    for (const std::int32_t v : rims.front())
        region.outer.push_back(chart[static_cast<std::size_t>(v)]);
    return plane::crosses_itself(region);
}

TEST(RelaxChart, EndsBeforeWhatGoesRoundMoreThanOnceLiesOnItself) {
    const OpenRing ring = open_ring(3.0 * std::numbers::pi);
    const auto chart = relax_chart(ring.mesh, ring.strip);
    EXPECT_FALSE(rim_crosses(ring, chart));
    const auto quality = chart_quality(ring.mesh, chart);
    EXPECT_GT(quality.least_stretch, 0.5);
    EXPECT_LT(quality.most_stretch, 1.6);
    for (const auto& t : ring.mesh.triangle)
        EXPECT_GT(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]), 0.0);
}

}  // namespace
}  // namespace tearline::surface
