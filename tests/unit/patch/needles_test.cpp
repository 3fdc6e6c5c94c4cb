#include "core/patch/needles.h"

#include <gtest/gtest.h>

#include "core/surface/surface_mesh.h"

namespace tearline::patch {
namespace {

/// A straight edge 2 m long of which a mesh knows the ends alone, a row of vertices 0.3 mm above
/// it and another 50 mm above that: a fan of needles between the edge and the first row.
struct Strip {
    surface::SurfaceMesh mesh;
    std::int32_t needles = 0;  ///< the first facets

    Strip() {
        constexpr int steps = 20;
        auto& p = mesh.position;
        p = {{-1000, 0, 0}, {1000, 0, 0}};
        for (const double y : {0.3, 50.3})
            for (int i = 0; i <= steps; ++i) p.emplace_back(-1000 + 100 * i, y, 0);
        const auto low = [](int i) { return 2 + i; };
        const auto high = [](int i) { return 2 + steps + 1 + i; };
        for (int i = 0; i < steps; ++i) mesh.triangle.push_back({0, low(i + 1), low(i)});
        mesh.triangle.push_back({0, 1, low(steps)});
        needles = static_cast<std::int32_t>(mesh.triangle.size());
        for (int i = 0; i < steps; ++i) {
            mesh.triangle.push_back({low(i), low(i + 1), high(i + 1)});
            mesh.triangle.push_back({low(i), high(i + 1), high(i)});
        }
    }
};

TEST(Needles, AreTheFacetsBetweenALongEdgeAndTheRowBesideIt) {
    const Strip strip;
    const Needles needles(strip.mesh.position, strip.mesh.triangle,
                          surface::neighbours(strip.mesh));
    for (std::int32_t t = 0; t < static_cast<std::int32_t>(strip.mesh.triangle.size()); ++t)
        EXPECT_EQ(needles.is_needle(t), t < strip.needles) << t;
}

TEST(Needles, AreStoodInForByTheSoundFacetNearest) {
    // By hand: 0.2 mm below the row lies nearest the facet over x = 430, which is 400 to 500.
    const Strip strip;
    const auto& mesh = strip.mesh;
    const Needles needles(mesh.position, mesh.triangle, surface::neighbours(mesh));
    const auto near =
        needles.stand_in(strip.needles - 1, mesh.position, mesh.triangle, {430, 0.1, 0});
    EXPECT_GE(near.triangle.value, strip.needles);
    EXPECT_NEAR(near.distance, 0.2, 1e-9);
    Vec3 place = Vec3::Zero();
    for (int k = 0; k < 3; ++k)
        place += near.weights[k] * mesh.position[mesh.triangle[near.triangle.index()][k]];
    EXPECT_NEAR((place - Vec3(430, 0.3, 0)).norm(), 0.0, 1e-9);
}

TEST(Needles, AreNotTheSmallFacetsOfAFineMesh) {
    // 0.3 mm high and no longer than they are high.
    const std::vector<Vec3> position{{0, 0, 0}, {0.3, 0, 0}, {0, 0.3, 0}, {0.3, 0.3, 0}};
    const Needles needles(position, {{0, 1, 2}, {1, 3, 2}}, {{-1, 1, -1}, {-1, -1, 0}});
    EXPECT_FALSE(needles.is_needle(0));
    EXPECT_FALSE(needles.is_needle(1));
}

}  // namespace
}  // namespace tearline::patch
