#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <tuple>

#include "core/scan/find_chines.h"
#include "core/scan/scanned_hull.h"
#include "tests/support/scanned_shapes.h"

namespace tearline::scan {
namespace {

/// Two sides that meet in a chine along x: sharp, and itself bent sideways with a radius of 3 m, a
/// parabola carried along each side's straight lines; or straight, with a bend of a radius.
struct Chine {
    double degrees = 40.0;  ///< that the hull turns across it
    double radius = 0.0;    ///< [mm]

    [[nodiscard]] double half() const { return 0.5 * degrees * std::numbers::pi / 180.0; }
    [[nodiscard]] double sideways(double x) const { return radius > 0.0 ? 0.0 : x * x / 6000.0; }
    /// How far up a side its bend begins, and where the bend's middle lies under the chine.
    [[nodiscard]] double tangent() const { return radius * std::tan(half()); }
    [[nodiscard]] double under() const { return radius / std::cos(half()); }
    /// A place at `along` the chine and `away` from it up a side, moved out of that side.
    [[nodiscard]] Vec3 at(double along, double away, double out) const {
        const double c = std::cos(half()), s = std::sin(half());
        const double sign = away < 0.0 ? -1.0 : 1.0;
        if (std::abs(away) < tangent()) {
            const double turn = half() * away / tangent();
            return scanned::turned() * Vec3(along, (radius + out) * std::sin(turn),
                                            (radius + out) * std::cos(turn) - under());
        }
        return scanned::turned() * Vec3(along, sideways(along) + away * c + sign * out * s,
                                        -std::abs(away) * s + out * c);
    }
    /// How far a place lies off the surface, square to its side. Closed form.
    [[nodiscard]] double off(const Vec3& place) const {
        const Vec3 p = scanned::turned().transpose() * place;
        const double away = std::abs(p.y() - sideways(p.x()));
        if (std::atan2(away, p.z() + under()) < half() && radius > 0.0)
            return std::hypot(away, p.z() + under()) - radius;
        return (p.z() + away * std::tan(half())) * std::cos(half());
    }
};

Scan scan_of(const Chine& chine, const scanned::Scanner& by, double dent_beside = 0.0) {
    const scanned::Waves noise(by.start, by.spread, by.correlation, 200);
    Scan scan;
    scan.format = "points";
    scan.unit = "mm";
    for (double x = -by.half; x <= by.half; x += by.spacing)
        for (double v = -by.half; v <= by.half; v += by.spacing) {
            double out = by.spread > 0.0 ? noise.at({x, v}) : 0.0;
            if (std::hypot(x, v - dent_beside) < by.dent_radius) out -= by.dent;
            scan.points.push_back(chine.at(x, v, out));
        }
    return scan;
}

struct Asked {
    job::HullOptions hull;
    ScanPlace place;
};

/// A hole of 80 mm on the chine, or beside it; the chine marked at three places, each picked a few
/// millimetres off.
Asked asked_about(const Chine& chine, double beside = 0.0) {
    Asked asked;
    job::HullScan options;
    job::ScanCrease crease;
    crease.points = {chine.at(-220, 3, 0), chine.at(10, -4, 0), chine.at(230, 2, 0)};
    options.creases = {crease};
    asked.hull.scan = options;
    asked.hull.outward = "as modelled";
    asked.hull.scan->seen_from = scanned::turned() * Vec3(0, 0, 2000);
    asked.hull.outward = "auto";
    for (int i = 0; i < 48; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / 48;
        asked.place.outline.push_back(
            chine.at(80.0 * std::cos(turn), beside + 80.0 * std::sin(turn), 0.0));
    }
    asked.place.middle = chine.at(0.0, beside, 0.0);
    asked.place.reach = 150.0;
    return asked;
}

struct Off {
    double most = 0.0;
    int on_chine = 0;
};

Off off_of(const hull::Hull& hull, const Chine& chine, const Vec3& middle) {
    Off off;
    std::vector<bool> on(hull.vertices.size(), false);
    for (const hull::EdgeOnCad& edge : hull.cad_edges)
        on[static_cast<std::size_t>(edge.from)] = on[static_cast<std::size_t>(edge.to)] = true;
    for (std::size_t v = 0; v < hull.vertices.size(); ++v) {
        if ((hull.vertices[v] - middle).norm() > 200.0) continue;
        off.most = std::max(off.most, std::abs(chine.off(hull.vertices[v])));
        off.on_chine += on[v];
    }
    return off;
}

class ScannedChine : public testing::TestWithParam<double> {};

TEST_P(ScannedChine, StaysSharpUnderADentWithinAMillimetre) {
    // Closed form of two translation surfaces; the bar of 1 mm is the one asked for.
    const Chine chine{GetParam()};
    for (const double spread : {0.0, 0.1, 0.3}) {
        const Scan scan =
            scan_of(chine, {.spread = spread, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0});
        const Asked asked = asked_about(chine);
        const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
        ASSERT_TRUE(hull) << hull.error().message();
        const Off off = off_of(*hull, chine, asked.place.middle);
        EXPECT_LT(off.most, spread > 0.0 ? 1.0 : 0.02) << spread;
        EXPECT_GT(off.on_chine, 20);
        EXPECT_EQ(hull->cad_edge_count, 1);
    }
}

INSTANTIATE_TEST_SUITE_P(Turns, ScannedChine, testing::Values(20.0, 40.0, 60.0));

class ScannedBend : public testing::TestWithParam<double> {};

TEST_P(ScannedBend, MarkedWithItsRadiusIsFollowedUnderADent) {
    // Closed form of two planes and an arc; 90 degrees, the bar of 1 mm.
    const Chine chine{90.0, GetParam()};
    for (const double spread : {0.0, 0.2}) {
        const Scan scan =
            scan_of(chine, {.spread = spread, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0});
        Asked asked = asked_about(chine);
        asked.hull.scan->creases[0].radius = GetParam();
        const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
        ASSERT_TRUE(hull) << hull.error().message();
        const Off off = off_of(*hull, chine, asked.place.middle);
        EXPECT_LT(off.most, spread > 0.0 ? 1.0 : 0.02) << spread;
        EXPECT_EQ(hull->cad_edge_count, 2);
        // The bend is there: a face of its own, that leaves both sides smoothly.
        EXPECT_GT(std::count(hull->face.begin(), hull->face.end(), FaceId(2)), 20);
    }
}

INSTANTIATE_TEST_SUITE_P(Radii, ScannedBend, testing::Values(20.0, 40.0, 80.0));

TEST(ScannedBend, WithARadiusThatItsPointsContradictIsRefused) {
    // 60 for 40 mm at 90 degrees: (sqrt 2 - 1) x 20 = 8.3 mm off in the bend's middle.
    const Chine chine{90.0, 40.0};
    const Scan scan = scan_of(chine, {.spread = 0.1, .spacing = 4.0});
    Asked asked = asked_about(chine);
    asked.hull.scan->creases[0].radius = 60.0;
    const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
    ASSERT_FALSE(hull);
    EXPECT_EQ(hull.error().key, "hull.scan.crease[1].radius");
}

TEST(ScannedChine, BesideTheHoleIsNoNearerToBeingRounded) {
    const Chine chine{45.0};
    const Scan scan =
        scan_of(chine, {.spread = 0.1, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0}, 130.0);
    const Asked asked = asked_about(chine, 130.0);
    const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_LT(off_of(*hull, chine, asked.place.middle).most, 1.0);
}

class FoundChine : public testing::TestWithParam<double> {};

TEST_P(FoundChine, UnmarkedIsKeptSharpUnderADentWithinAMillimetre) {
    // Closed form as above, 1 mm the bar; nobody marked the chine.
    const Chine chine{GetParam()};
    for (const double spread : {0.0, 0.1, 0.3})
        for (const double beside : {0.0, 40.0}) {
            const Scan scan = scan_of(
                chine, {.spread = spread, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0},
                beside);
            Asked asked = asked_about(chine, beside);
            asked.hull.scan->creases.clear();
            const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
            ASSERT_TRUE(hull) << hull.error().message();
            ASSERT_EQ(hull->scanned->chines.size(), 1U) << spread;
            EXPECT_NEAR(hull->scanned->chines[0].turn_degrees, chine.degrees, 3.0);
            for (const Vec3& point : hull->scanned->chines[0].points)
                EXPECT_LT(std::abs(chine.off(point)), 1.0);
            EXPECT_LT(off_of(*hull, chine, asked.place.middle).most, spread > 0.0 ? 1.0 : 0.02);
            EXPECT_TRUE(hull->scanned->doubtful.empty());
        }
}

INSTANTIATE_TEST_SUITE_P(Turns, FoundChine, testing::Values(20.0, 40.0, 60.0));

TEST(FoundChine, RoundedIsToldWithItsRadiusAndNotTakenForSharp) {
    // R 20 and 40 through 90 degrees.
    for (const double radius : {20.0, 40.0}) {
        const Chine chine{90.0, radius};
        const Scan scan =
            scan_of(chine, {.spread = 0.1, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0});
        Asked asked = asked_about(chine);
        asked.hull.scan->creases.clear();
        const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_TRUE(hull->scanned->chines.empty());
        ASSERT_TRUE(hull->scanned->bend);
        EXPECT_NEAR(hull->scanned->bend->radius, radius, 0.25 * radius);
        EXPECT_EQ(hull->scanned->bend->middle.size(), 3U);
    }
}

TEST(FoundChine, IsNotInventedOnASmoothHull) {
    // The five surfaces of DEFINITIONS.md's base, and a bilge that tightens to R 250; by light,
    // photographs and a phone's depth sensor. (Of sixty such by depth one, of the bilge, is asked
    // about: over the 72 mm that its normals are taken from, that one does turn.)
    struct Kind {
        job::ScanKind kind;
        double spread, correlation;
    };
    struct Seen {
        Vec2 uv;
        double out;
    };
    const std::array shapes{
        scanned::arcs(0, 0),
        scanned::arcs(1 / 750.0, 1 / 750.0),
        scanned::arcs(0, 1 / 300.0),
        scanned::arcs(1 / 900.0, -1 / 700.0),
        scanned::arcs(1 / 1500.0, 1 / 400.0, 20.0),
        scanned::bilge(1 / 2000.0, 1 / 250.0, 400.0),
    };
    for (const Kind& kind :
         {Kind{job::ScanKind::light, 0.1, 4.0}, Kind{job::ScanKind::photo, 1.0, 8.0},
          Kind{job::ScanKind::depth, 3.0, 24.0}})
        for (const unsigned start : {1U, 2U, 3U}) {
            std::vector<Seen> seen;  // the same noise serves every surface
            const scanned::Scanner by{.spread = kind.spread,
                                      .correlation = kind.correlation,
                                      .spacing = 5.0,
                                      .start = start,
                                      .dent = 14.0,
                                      .dent_radius = 70.0};
            std::ignore = scanned::scan_of(
                [&](const Vec2& uv, double out) {
                    seen.push_back({uv, out});
                    return Vec3(0, 0, 0);
                },
                by);
            for (std::size_t shape = 0; shape < shapes.size(); ++shape) {
                Scan scan;
                for (const Seen& point : seen)
                    scan.points.push_back(shapes[shape](point.uv, point.out));
                job::HullScan options;
                options.kind = kind.kind;
                ScanPlace place;
                place.outline = scanned::ring(shapes[shape], 80.0);
                place.middle = shapes[shape]({0, 0}, 0.0);
                place.reach = 150.0;
                const FoundChines found = find_chines(scan, options, place, {});
                EXPECT_TRUE(found.creases.empty()) << kind.spread << ' ' << start << ' ' << shape;
                EXPECT_TRUE(found.doubtful.empty()) << kind.spread << ' ' << start << ' ' << shape;
            }
        }
}

TEST(FoundChine, IsNotLedAstrayByALegThatStandsBesideTheHole) {
    // Closed form as above, and its bar. A trestle's leg, 60 mm wide and 120 mm off the chine, runs
    // past the very rim of what is bridged, where little tells the sides; every second square of
    // the hull behind it shows as many points of it.
    const Chine chine{55.0};
    Scan scan = scan_of(chine, {.spread = 0.1, .spacing = 4.0, .dent = 12.0, .dent_radius = 70.0});
    for (double x = -155.0; x <= -93.0; x += 5.0)
        for (double y = -300.0; y <= 300.0; y += 6.0)
            scan.points.push_back(scanned::turned() * Vec3(x, y, 120.0));
    Asked asked = asked_about(chine);
    asked.hull.scan->creases.clear();
    const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_EQ(hull->scanned->chines.size(), 1U);
    EXPECT_LT(off_of(*hull, chine, asked.place.middle).most, 1.0);
}

TEST(ScannedChine, MarkedWhereTheHullIsSmoothIsRefused) {
    const Chine chine{4.0};
    const Scan scan = scan_of(chine, {.spread = 0.1, .spacing = 4.0});
    const Asked asked = asked_about(chine);
    const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
    ASSERT_FALSE(hull);
    EXPECT_EQ(hull.error().kind, ErrorKind::bad_input);
    EXPECT_EQ(hull.error().key, "hull.scan.crease[1].points");
}

TEST(ScannedChine, MarkedToAndFroIsRefused) {
    const Chine chine{40.0};
    const Scan scan = scan_of(chine, {.spread = 0.1, .spacing = 6.0});
    Asked asked = asked_about(chine);
    asked.hull.scan->creases[0].points = {chine.at(-100, 0, 0), chine.at(150, 0, 0),
                                          chine.at(20, 0, 0), chine.at(180, 0, 0)};
    const auto hull = scanned_hull(scan, asked.hull, job::Side::outside, asked.place);
    ASSERT_FALSE(hull);
    EXPECT_EQ(hull.error().kind, ErrorKind::bad_input);
}

}  // namespace
}  // namespace tearline::scan
