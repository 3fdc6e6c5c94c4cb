#include "core/patch/needles.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

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

/// A bend of radius 10 between two flats, 500 mm long, its turns [degrees] from one facet to the
/// next as given: those of the flats first and last.
surface::SurfaceMesh bend(const std::vector<double>& turns) {
    surface::SurfaceMesh mesh;
    const auto add = [&](double y, double z) {
        for (const double x : {0.0, 500.0}) mesh.position.emplace_back(x, y, z);
    };
    Vec2 at(0, 10);
    add(-100, 10);
    add(at.x(), at.y());
    double angle = 0.0;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        angle += turns[i] * std::numbers::pi / 180.0;
        const double step = i + 1 < turns.size() ? 10.0 * std::numbers::pi / 60.0 : 100.0;
        at += step * Vec2(std::cos(angle), -std::sin(angle));
        add(at.x(), at.y());
    }
    for (std::int32_t i = 0; i + 3 < static_cast<std::int32_t>(mesh.position.size()); i += 2) {
        mesh.triangle.push_back({i, i + 2, i + 3});
        mesh.triangle.push_back({i, i + 3, i + 1});
    }
    return mesh;
}

TEST(Needles, AreNotTheStepsOfAFilletAsLongAsThePart) {
    // A bilge in steps of 3 degrees, 0.52 mm: its middle lies 7.65 mm from the flats (by hand, 20
    // sin 22.5 degrees), and they know nothing of it.
    const surface::SurfaceMesh mesh = bend(std::vector<double>(30, 3.0));
    const Needles needles(mesh.position, mesh.triangle, surface::neighbours(mesh));
    for (std::int32_t t = 0; t < static_cast<std::int32_t>(mesh.triangle.size()); ++t)
        EXPECT_FALSE(needles.is_needle(t)) << t;
}

TEST(Needles, AreFacetsThatWaverHoweverFarFromSoundOnes) {
    // The same bend with one facet turned over by 40 degrees and back, as along a keel of which an
    // export knows few places: no step of a fillet.
    std::vector<double> turns(30, 3.0);
    turns[14] = -40.0;
    turns[15] = 40.0;
    const surface::SurfaceMesh mesh = bend(turns);
    const Needles needles(mesh.position, mesh.triangle, surface::neighbours(mesh));
    EXPECT_TRUE(needles.is_needle(30));
}

TEST(Needles, AreSliversThatLieAnyWayRound) {
    // Two flats of one plane, 10 x 10 mm, and between them a sliver 0.05 mm high that stands across
    // them: as meshes of CAD programs have them at poles.
    const std::vector<Vec3> position{{0, 0, 0}, {10, 0, 0}, {5, 0, 0.05}, {5, -10, 0}, {5, 10, 0}};
    // 0-1-2 upright; 0 3 1 below it; 2 4 0 and 1 4 2 above.
    const Needles::Corners vertex{{0, 1, 2}, {0, 3, 1}, {2, 4, 0}, {1, 4, 2}};
    const Needles::Corners neighbour{{1, 3, 2}, {-1, -1, 0}, {3, -1, 0}, {-1, 2, 0}};
    const Needles needles(position, vertex, neighbour);
    ASSERT_TRUE(needles.is_needle(0));
    for (const std::int32_t t : {1, 2, 3}) EXPECT_FALSE(needles.is_needle(t)) << t;
    EXPECT_NEAR(needles.stand_in(0, position, vertex, {5, 0, 0.01}).distance, 0.01, 1e-4);
}

}  // namespace
}  // namespace tearline::patch
