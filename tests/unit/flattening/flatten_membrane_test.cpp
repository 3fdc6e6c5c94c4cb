#include "core/flattening/flatten_membrane.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/analytic_meshes.h"

namespace tearline::flattening {
namespace {

using test::disc;
using test::on_cone;
using test::on_cylinder;
using test::on_sphere;
using test::PlaneMesh;
using test::ring;
using test::with_hole;

/// Largest distance between flat vertices and a plane figure laid best over them.
double misfit(const std::vector<Vec2>& flat, const std::vector<Vec2>& figure) {
    Vec2 from = Vec2::Zero(), to = Vec2::Zero();
    for (std::size_t i = 0; i < flat.size(); ++i) {
        from += flat[i] / static_cast<double>(flat.size());
        to += figure[i] / static_cast<double>(flat.size());
    }
    double cosine = 0.0, sine = 0.0;
    for (std::size_t i = 0; i < flat.size(); ++i) {
        cosine += (flat[i] - from).dot(figure[i] - to);
        sine += cross2(flat[i] - from, figure[i] - to);
    }
    const double turn = std::atan2(sine, cosine);
    double worst = 0.0;
    for (std::size_t i = 0; i < flat.size(); ++i) {
        const Vec2 p = flat[i] - from;
        const Vec2 turned(std::cos(turn) * p.x() - std::sin(turn) * p.y(),
                          std::sin(turn) * p.x() + std::cos(turn) * p.y());
        worst = std::max(worst, (turned - (figure[i] - to)).norm());
    }
    return worst;
}

double largest_strain(const Flattening& f) {
    double worst = 0.0;
    for (const auto& s : f.stretch)
        worst = std::max({worst, std::abs(s[0] - 1.0), std::abs(s[1] - 1.0)});
    return worst;
}

double rim_radius(const std::vector<Vec2>& flat, std::size_t rim_vertices) {
    // The last ring's vertices are the last of the disc; their mean distance from their own centre.
    Vec2 centre = Vec2::Zero();
    for (std::size_t i = flat.size() - rim_vertices; i < flat.size(); ++i) centre += flat[i];
    centre /= static_cast<double>(rim_vertices);
    double sum = 0.0;
    for (std::size_t i = flat.size() - rim_vertices; i < flat.size(); ++i)
        sum += (flat[i] - centre).norm();
    return sum / static_cast<double>(rim_vertices);
}

TEST(FlattenMembrane, UnrollsACylinderExactly) {
    // A cylinder is developable: the plane figure it was rolled from comes back (DEFINITIONS.md,
    // Bars: edge error <= 0.02 mm over 600 mm, strain <= 1e-4).
    const PlaneMesh figure = disc(300.0, 18);
    const auto flat = flatten_membrane(on_cylinder(figure, 200.0));
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_LE(misfit(flat->flat, figure.place), 0.001);
    EXPECT_LE(largest_strain(*flat), 1e-5);
    EXPECT_EQ(flat->flipped, 0);
}

TEST(FlattenMembrane, UnrollsAConeExactly) {
    // Developable too; half-angle 20 degrees as in SOURCES.md section 6.
    const PlaneMesh figure = disc(300.0, 18);
    const double half_angle = 20.0 * std::numbers::pi / 180.0;
    const auto flat = flatten_membrane(on_cone(figure, half_angle, 700.0));
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_LE(misfit(flat->flat, figure.place), 0.001);
    EXPECT_LE(largest_strain(*flat), 1e-5);
}

TEST(FlattenMembrane, UnrollsAWrapThatEveryPlaneSeesFolded) {
    // 300 degrees of a cylinder: the mean normal sees its back turned over.
    const double radius = 100.0;
    PlaneMesh figure = disc(1.0, 16);
    for (Vec2& p : figure.place)
        p = Vec2(p.x() * radius * std::numbers::pi * 150.0 / 180.0, p.y() * 150.0);
    const auto flat = flatten_membrane(on_cylinder(figure, radius));
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_EQ(flat->flipped, 0);
    EXPECT_LE(misfit(flat->flat, figure.place), 0.001);
}

TEST(FlattenMembrane, MeetsTheClosedFormOfAFiniteSphereCap) {
    // SOURCES.md section 6 (derived): R = 600, a = 0.5, Poisson's ratio 0: rim 296.8354 mm, energy
    // 92.0388 mm2, never below; RMS 1.289162 %, hoop strain 3.1913 % at the rim, area ratio
    // 0.99966761, largest by least scale 1.048292.
    const int rings = 40;
    const auto mesh = on_sphere(disc(300.0, rings), 600.0);
    const auto flat = flatten_membrane(mesh);
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_NEAR(rim_radius(flat->flat, 6 * rings), 296.8354, 0.05);
    EXPECT_GE(flat->energy, 92.0388 * (1.0 - 1e-6));
    EXPECT_LE(flat->energy, 92.0388 * 1.005);
    EXPECT_NEAR(std::sqrt(flat->energy / (2.0 * flat->area)), 0.01289162, 0.01289162 * 0.0025);

    double flat_area = 0.0, largest = 0.0, least = 2.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const auto& v = mesh.triangle[t];
        flat_area +=
            0.5 * cross2(flat->flat[v[1]] - flat->flat[v[0]], flat->flat[v[2]] - flat->flat[v[0]]);
        largest = std::max(largest, flat->stretch[t][0]);
        least = std::min(least, flat->stretch[t][1]);
    }
    const double curved = 2.0 * std::numbers::pi * 600.0 * 600.0 * (1.0 - std::cos(0.5));
    EXPECT_NEAR(flat_area / curved, 0.99966761, 5e-4);
    // The rim's triangles average the hoop strain over their width of 7.5 mm.
    EXPECT_NEAR(largest - 1.0, 0.031913, 0.0012);
    EXPECT_NEAR(largest / least, 1.048292, 0.0015);
}

TEST(FlattenMembrane, EnergyFallsToTheClosedFormWithTheSquareOfTheMesh) {
    // The same cap on finer meshes: the excess over 92.03880 goes with h^2, from above.
    const double exact = 92.03880;
    std::vector<double> excess;
    for (const int rings : {10, 20, 40}) {
        const auto flat = flatten_membrane(on_sphere(disc(300.0, rings), 600.0));
        ASSERT_TRUE(flat) << flat.error().message();
        excess.push_back(flat->energy - exact);
    }
    EXPECT_GT(excess[2], 0.0);
    EXPECT_NEAR(excess[0] / excess[1], 4.0, 0.4);
    EXPECT_NEAR(excess[1] / excess[2], 4.0, 0.4);
}

TEST(FlattenMembrane, StaysAboveMilnorsBound) {
    // Milnor, "A problem in cartography", Amer. Math. Monthly 76 (1969): a cap of angular radius a
    // cannot be mapped with largest by least scale under a / sin a.
    for (const double a : {0.3, 0.5, 1.0}) {
        const auto flat = flatten_membrane(on_sphere(disc(600.0 * a, 24), 600.0));
        ASSERT_TRUE(flat) << flat.error().message();
        double largest = 0.0, least = 2.0;
        for (const auto& s : flat->stretch) {
            largest = std::max(largest, s[0]);
            least = std::min(least, s[1]);
        }
        EXPECT_GE(largest / least, a / std::sin(a)) << "a = " << a;
    }
}

TEST(FlattenMembrane, MeetsThePlateFormulaForASmallDisc) {
    // Thin-plate membrane theory (SOURCES.md section 6, derived): RMS of sqrt(e1^2 + e2^2) is
    // K a^2 / sqrt(192), hoop strain at the edge K a^2 / 8, to leading order; K a^2 = 0.0025.
    const double radius = 600.0, a = 30.0, bend = a * a / (radius * radius);
    const auto flat = flatten_membrane(on_sphere(disc(a, 40), radius), {}, {.stop_movement = 1e-6});
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_NEAR(std::sqrt(flat->energy / flat->area) / (bend / std::sqrt(192.0)), 1.0, 0.004);
    EXPECT_NEAR(largest_strain(*flat) / (bend / 8.0), 1.0, 0.04);
}

/// A spherical annulus t0 < t < t1 with free edges: rho = A tan(t/2) + B cot(t/2) - 2 cot(t/2)
/// ln cos(t/2) solves (sin t (rho' - 1))' = rho / sin t - 1, the Euler-Lagrange equation of E among
/// radial maps; rho' = 1 on both edges gives A and B (derived; B = 0 is the cap of SOURCES.md).
struct SphericalRing {
    double a = 0.0, b = 0.0;

    static double slope_of_special(double t) {
        const double h = 0.5 * t, s = std::sin(h);
        return std::log(std::cos(h)) / (s * s) + 1.0;
    }
    SphericalRing(double t0, double t1) {
        const auto tan_slope = [](double t) { return 0.5 / std::pow(std::cos(0.5 * t), 2); };
        const auto cot_slope = [](double t) { return -0.5 / std::pow(std::sin(0.5 * t), 2); };
        Eigen::Matrix2d m;
        m << tan_slope(t0), cot_slope(t0), tan_slope(t1), cot_slope(t1);
        const Vec2 right(1.0 - slope_of_special(t0), 1.0 - slope_of_special(t1));
        const Vec2 solved = m.fullPivLu().solve(right);
        a = solved.x();
        b = solved.y();
    }
    [[nodiscard]] double rho(double t) const {
        const double tangent = std::tan(0.5 * t);
        return a * tangent + (b - 2.0 * std::log(std::cos(0.5 * t))) / tangent;
    }
    [[nodiscard]] double slope(double t) const {
        return 0.5 * a / std::pow(std::cos(0.5 * t), 2) - 0.5 * b / std::pow(std::sin(0.5 * t), 2) +
               slope_of_special(t);
    }
    /// Simpson's rule over the energy density.
    [[nodiscard]] double energy(double radius, double t0, double t1) const {
        const int n = 2000;
        double sum = 0.0;
        for (int i = 0; i <= n; ++i) {
            const double t = t0 + (t1 - t0) * i / n;
            const double density =
                (std::pow(slope(t) - 1.0, 2) + std::pow(rho(t) / std::sin(t) - 1.0, 2)) *
                std::sin(t);
            sum += density * (i == 0 || i == n ? 1.0 : i % 2 == 1 ? 4.0 : 2.0);
        }
        return 2.0 * std::numbers::pi * radius * radius * sum * (t1 - t0) / n / 3.0;
    }
};

TEST(FlattenMembrane, MeetsTheClosedFormOfASphericalRing) {
    const double radius = 600.0, t0 = 0.2, t1 = 0.5;
    const SphericalRing exact(t0, t1);
    const int across = 24, around = 180;
    const auto flat =
        flatten_membrane(on_sphere(ring(radius * t0, radius * t1, across, around), radius));
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_NEAR(rim_radius(flat->flat, around), radius * exact.rho(t1), 0.05);
    const std::vector<Vec2> inner(flat->flat.begin(), flat->flat.begin() + around);
    EXPECT_NEAR(rim_radius(inner, around), radius * exact.rho(t0), 0.05);
    const double energy = exact.energy(radius, t0, t1);
    EXPECT_GE(flat->energy, energy);
    EXPECT_LE(flat->energy, energy * 1.005);
}

TEST(FlattenMembrane, LaysPiecesWithHolesFlat) {
    // Holes in a developable piece change nothing: the figure comes back.
    PlaneMesh figure = disc(300.0, 20);
    figure = with_hole(figure, Vec2(-120.0, 40.0), 70.0);
    figure = with_hole(figure, Vec2(140.0, -60.0), 60.0);
    const auto mesh = on_cylinder(figure, 250.0);
    ASSERT_EQ(surface::boundary_loops(mesh).size(), 3u);
    const auto flat = flatten_membrane(mesh);
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_LE(misfit(flat->flat, figure.place), 0.001);
}

TEST(FlattenMembrane, HolesOnlyLowerTheEnergyOfACap) {
    // Taking material out takes constraints out: E of what is left is at most its share before.
    const PlaneMesh whole = disc(300.0, 24);
    const PlaneMesh holed = with_hole(whole, Vec2(100.0, 0.0), 60.0);
    const auto full = flatten_membrane(on_sphere(whole, 600.0));
    const auto less = flatten_membrane(on_sphere(holed, 600.0));
    ASSERT_TRUE(full && less);
    EXPECT_LT(less->energy, full->energy);
    EXPECT_EQ(less->flipped, 0);
}

TEST(FlattenMembrane, KeepsTrianglesCounterClockwise) {
    const auto mesh = on_sphere(disc(600.0, 16), 600.0);
    const auto flat = flatten_membrane(mesh);
    ASSERT_TRUE(flat) << flat.error().message();
    for (const auto& v : mesh.triangle)
        EXPECT_GT(cross2(flat->flat[v[1]] - flat->flat[v[0]], flat->flat[v[2]] - flat->flat[v[0]]),
                  0.0);
}

TEST(FlattenMembrane, TheStartDecidesWhereItLiesAndNothingElse) {
    // The energy is the same for all rigid motions; the answer lies over the start that was given.
    const PlaneMesh figure = disc(300.0, 16);
    const auto mesh = on_sphere(figure, 600.0);
    const auto still = flatten_membrane(mesh, figure.place);
    std::vector<Vec2> moved;
    for (const Vec2& p : figure.place) moved.push_back(turned_left(p) + Vec2(1000.0, -500.0));
    const auto turned = flatten_membrane(mesh, moved);
    ASSERT_TRUE(still && turned);
    for (std::size_t i = 0; i < figure.place.size(); ++i)
        EXPECT_LE((turned_left(still->flat[i]) + Vec2(1000.0, -500.0) - turned->flat[i]).norm(),
                  2e-3);
}

TEST(FlattenMembrane, FindsTheSameShapeFromAMirroredOrScrambledStart) {
    // A mirrored start has every triangle turned over, a scrambled one about half of them.
    const PlaneMesh figure = disc(300.0, 12);
    const auto mesh = on_sphere(figure, 600.0);
    const auto direct = flatten_membrane(mesh);
    ASSERT_TRUE(direct);
    std::vector<Vec2> mirrored;
    for (const Vec2& p : figure.place) mirrored.emplace_back(-p.x(), p.y());
    std::mt19937 random(20240601);
    std::uniform_real_distribution<double> anywhere(-300.0, 300.0);
    std::vector<Vec2> scrambled;
    for (std::size_t i = 0; i < figure.place.size(); ++i) {
        const double x = anywhere(random);
        scrambled.emplace_back(x, anywhere(random));
    }
    for (const auto& start : {mirrored, scrambled}) {
        const auto flat = flatten_membrane(mesh, start);
        ASSERT_TRUE(flat) << flat.error().message();
        EXPECT_EQ(flat->flipped, 0);
        EXPECT_NEAR(flat->energy, direct->energy, 1e-6 * direct->energy);
        EXPECT_LE(misfit(flat->flat, direct->flat), 5e-3);
    }
}

TEST(FlattenMembrane, NeedsNoPositions) {
    // An intrinsic mesh has lengths only; the start is then a circle.
    auto mesh = on_sphere(disc(300.0, 12), 600.0);
    const auto with = flatten_membrane(mesh);
    mesh.position.clear();
    const auto without = flatten_membrane(mesh);
    ASSERT_TRUE(with && without);
    EXPECT_NEAR(with->energy, without->energy, 1e-6 * with->energy);
}

TEST(FlattenMembrane, GivesTheSameBytesAgain) {
    const auto mesh = on_sphere(disc(300.0, 20), 600.0);
    const auto once = flatten_membrane(mesh), again = flatten_membrane(mesh);
    ASSERT_TRUE(once && again);
    EXPECT_TRUE(std::equal(once->flat.begin(), once->flat.end(), again->flat.begin()));
}

TEST(FlattenMembrane, RefusesEdgesThatMakeNoTriangle) {
    auto mesh = on_sphere(disc(300.0, 4), 600.0);
    mesh.edge_length[5] = {10.0, 20.0, 50.0};
    const auto flat = flatten_membrane(mesh);
    ASSERT_FALSE(flat);
    EXPECT_EQ(flat.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(flat.error().message().find("triangle 5"), std::string::npos)
        << flat.error().message();
}

TEST(FlattenMembrane, RefusesAClosedSurface) {
    // A tetrahedron of edge 10 has no edge to lay it down by, and no best plane.
    surface::SurfaceMesh mesh;
    mesh.position = {{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}};
    mesh.triangle = {{0, 1, 2}, {0, 3, 1}, {0, 2, 3}, {1, 3, 2}};
    mesh.edge_length.assign(4, {10.0, 10.0, 10.0});
    const auto flat = flatten_membrane(mesh);
    ASSERT_FALSE(flat);
    EXPECT_NE(flat.error().message().find("closed"), std::string::npos) << flat.error().message();
}

TEST(FlattenMembrane, LargeMeshesGiveTheSameShapeAsSmallOnes) {
    // The supernodal factor takes over above tolerance::supernodal_from vertices; same closed form.
    const int rings = 130;
    const auto flat = flatten_membrane(on_sphere(disc(300.0, rings), 600.0));
    ASSERT_TRUE(flat) << flat.error().message();
    EXPECT_NEAR(rim_radius(flat->flat, 6 * rings), 296.8354, 0.01);
    EXPECT_NEAR(flat->energy, 92.0388, 92.0388 * 0.0005);
}

}  // namespace
}  // namespace tearline::flattening
