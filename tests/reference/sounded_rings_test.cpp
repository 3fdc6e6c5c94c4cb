#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <functional>
#include <numbers>

#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Soundings of a dish of revolution: every ply's edge is a circle about the middle, on the hull
/// and, but for what the lay surface's depth takes off, on the table. What is tested is how far an
/// edge waves about its own best circle: a person who cuts cloth sees that at once.
namespace tearline::sounded_rings_test {
namespace {

using std::numbers::pi;
constexpr double deep = 6.0, rim = 150.0;
constexpr double bar = 0.1;  // [mm] as for every other edge (DEFINITIONS.md, Bars)

/// A sample model with polar coordinates of geodesics about the middle of the damage.
struct Polar {
    std::string hull;
    std::function<Vec3(const Vec2&)> surface;
    std::function<Vec2(const Vec3&)> developed;
    /// [-] y on the table by y on the base surface, for a ply that lies `depth` [mm] below it.
    std::function<double(double depth)> shrinks_across = [](double) { return 1.0; };
};

Polar panel() {
    return {"model = \"panel.step\"\noutward = \"as modelled\"\nskin = 12",
            [](const Vec2& q) { return Vec3(q.x(), 0.0, q.y()); },
            [](const Vec3& p) { return Vec2(p.x(), p.z()); }};
}

Polar cylinder() {
    constexpr double R = 500.0;
    return {"model = \"cylinder.step\"\nskin = 12",
            [](const Vec2& q) {
                const double a = q.y() / R;
                return Vec3(1000.0 + q.x(), R * std::sin(a), -R * std::cos(a));
            },
            [](const Vec3& p) { return Vec2(p.x() - 1000.0, R * std::atan2(p.y(), -p.z())); },
            [](double depth) { return (R - depth) / R; }};
}

/// Its lowest point at (0, 0, -R).
Polar sphere(double R) {
    return {"model = \"sphere.step\"\nskin = 12",
            [R](const Vec2& q) {
                const double r = q.norm(), a = r / R;
                const Vec2 e = r > 0.0 ? Vec2(q / r) : Vec2(1, 0);
                return Vec3(R * std::sin(a) * e.x(), R * std::sin(a) * e.y(), -R * std::cos(a));
            },
            [R](const Vec3& p) {
                const Vec2 e = p.head<2>();
                return Vec2(R * std::atan2(e.norm(), -p.z()) * e.normalized());
            }};
}

/// Rings of soundings, each with so many that the plate between them waves far less than the bar.
std::vector<Vec2> places() {
    std::vector<Vec2> all{{0.0, 0.0}};
    for (const double radius : {25.0, 50.0, 75.0, 100.0, 125.0})
        for (int i = 0; i < 24; ++i) {
            const double a = 2.0 * pi * i / 24;
            all.push_back(radius * Vec2(std::cos(a), std::sin(a)));
        }
    return all;
}

std::string job(const Polar& shape) {
    const auto point = [&](const Vec2& q) {
        const Vec3 p = shape.surface(q);
        return "[" + std::to_string(p.x()) + ", " + std::to_string(p.y()) + ", " +
               std::to_string(p.z()) + "]";
    };
    std::string text = "[hull]\n" + shape.hull + "\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\n" +
                       "centre = " + point({0.0, 0.0}) +
                       "\nradius = 150\ndepth = 6\nround = \"ground area\"\n";
    for (const Vec2& q : places())
        text += "[[damage.sounding]]\nat = " + point(q) +
                "\ndepth = " + std::to_string(deep * (1.0 - q.squaredNorm() / (rim * rim))) + "\n";
    return text + "[scarf]\nratio = 12\n[layup]\nfill = \"mat 300\"\ncover = []\n";
}

/// Largest distance of a loop and the middles of its edges from its best circle [mm].
/// @source  Kasa, A circle fitting procedure and its error analysis (1976): linear least squares
double waviness(const Loop2& loop) {
    const auto points = test::with_middles(loop);
    Eigen::MatrixXd a(points.size(), 3);
    Eigen::VectorXd b(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        a.row(row) << points[i].x(), points[i].y(), 1.0;
        b[row] = points[i].squaredNorm();
    }
    const Eigen::Vector3d s = a.colPivHouseholderQr().solve(b);
    const Vec2 middle = 0.5 * s.head<2>();
    const double radius = std::sqrt(s[2] + middle.squaredNorm());
    double worst = 0.0;
    for (const Vec2& p : points) worst = std::max(worst, std::abs((p - middle).norm() - radius));
    return worst;
}

void expect_round(const Polar& shape, const std::string& folder = test::samples()) {
    const Plan plan = test::planned(job(shape), folder);
    ASSERT_GT(plan.plies.size(), 5u);
    for (const templates::LaidPly& ply : plan.plies) {
        ASSERT_EQ(ply.outlines_3d.size(), 1u);
        Loop2 base;
        for (const Vec3& p : ply.outlines_3d.front().outer) base.push_back(shape.developed(p));
        ASSERT_EQ(ply.pieces.size(), 1u);
        Loop2 flat = test::bow_to_the_right(ply.pieces.front().outline.net.outer);
        for (Vec2& p : flat) p.y() /= shape.shrinks_across(ply.lay_depth_mm);
        EXPECT_LT(waviness(base), bar) << "ply " << ply.number;
        EXPECT_LT(waviness(flat), bar) << "ply " << ply.number;
    }
    for (const templates::GrindGuide::Ring& ring : plan.place.grind_guide.rings) {
        if (ring.ply <= 0) continue;
        ASSERT_EQ(ring.loops.size(), 1u);
        EXPECT_LT(waviness(ring.loops.front()), bar) << "ply " << ring.ply << " on the guide";
    }
}

TEST(SoundedRings, AreCirclesOnAPanel) {
    expect_round(panel());
}

TEST(SoundedRings, AreCirclesOnACylinder) {
    expect_round(cylinder());
}

TEST(SoundedRings, AreCirclesOnASphere) {
    expect_round(sphere(600.0));
}

TEST(SoundedRings, AreCirclesOnASphereThatBendsFarFromItsChart) {
    // The dish reaches 34 degrees round it: no plane comes near, and the chart stretches.
    const test::Folder folder;
    const auto stem = folder.write("sphere", "");
    test::write_sphere(250.0, stem, 300.0);
    expect_round(sphere(250.0), stem.parent_path().string());
}

/// Largest distance of a closed line from the cubic through points of it about 3 and 9 mm to both
/// sides: next to nothing on a line that bends gently, all of a jog.
double jog(const Loop2& loop) {
    constexpr double step = 3.0;
    std::vector<Vec2> even;
    double next = 0.0, passed = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i], way = loop[(i + 1) % loop.size()] - a;
        for (; next < passed + way.norm(); next += step)
            even.push_back(a + (next - passed) * way.normalized());
        passed += way.norm();
    }
    double worst = 0.0;
    for (std::size_t i = 0; i + 6 < even.size(); ++i) {
        const Vec2 cubic = (9.0 * (even[i + 2] + even[i + 4]) - even[i] - even[i + 6]) / 16.0;
        worst = std::max(worst, (even[i + 3] - cubic).norm());
    }
    return worst;
}

TEST(SoundedRings, OfTheTapedSampleHaveNoJogs) {
    const Plan plan = test::planned(test::sample_text("curlew-taped"));
    ASSERT_EQ(plan.plies.size(), 7u);
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            EXPECT_LT(jog(piece.outline.net.outer), bar) << "ply " << ply.number;
    for (const templates::GrindGuide::Ring& ring : plan.place.grind_guide.rings)
        for (const Loop2& loop : ring.loops) EXPECT_LT(jog(loop), bar) << ring.text;
}

}  // namespace
}  // namespace tearline::sounded_rings_test
