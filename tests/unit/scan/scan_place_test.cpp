#include "core/scan/scan_place.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/scan/outward.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {
namespace {

/// Points every 5 mm of a disc of a plane through a place, square to a direction.
std::vector<Vec3> plane_about(const Vec3& middle, const Vec3& normal, double reach) {
    const Vec3 x = normal.unitOrthogonal(), y = normal.cross(x);
    std::vector<Vec3> points;
    for (double u = -reach; u <= reach; u += 5.0)
        for (double v = -reach; v <= reach; v += 5.0)
            if (std::hypot(u, v) <= reach) points.push_back(middle + u * x + v * y);
    return points;
}

TEST(PointsWithin, AreThoseInTheBallEachOnceInOneOrder) {
    std::vector<Vec3> points{{3, 4, 0}, {0, 0, 5}, {0, 0, 5.01}, {-5, 0, 0}, {3, 4, 0}, {1, 1, 1}};
    const auto near = points_within(points, {0, 0, 0}, 5.0);
    EXPECT_EQ(near, (std::vector<Vec3>{{-5, 0, 0}, {0, 0, 5}, {1, 1, 1}, {3, 4, 0}}));
    std::reverse(points.begin(), points.end());
    EXPECT_EQ(points_within(points, {0, 0, 0}, 5.0), near);
    EXPECT_TRUE(points_within(points, {100, 0, 0}, 5.0).empty());
}

TEST(NormalAbout, IsThatOfTheRingAloneWhateverLiesInIt) {
    // What is ground out lies within 40 mm, heaped up there across; the ring beyond is a plane.
    const Vec3 middle(100, -20, 7), normal = Vec3(1, 2, -2).normalized();
    std::vector<Vec3> points = plane_about(middle, normal, 90.0);
    for (int i = 0; i < 400; ++i) points.push_back(middle + (i - 200) / 7.0 * normal);
    EXPECT_NEAR(std::abs(normal_about(points, middle, 40.0, 90.0).dot(normal)), 1.0, 1e-12);
    EXPECT_LT(std::abs(normal_about(points, middle, 0.0, 30.0).dot(normal)), 0.5)
        << "the heap would have told otherwise";
}

TEST(ScanEnd, IsBeyondOnTheSideThatLeadsOffTheHull) {
    // The end x = 100 of a hull at smaller x.
    ScanEnd end;
    for (int i = 0; i <= 10; ++i) {
        end.at.emplace_back(100, 10.0 * i, 0);
        end.out.emplace_back(1, 0, 0);
    }
    EXPECT_TRUE(end.is_beyond({101, 33, 4}));
    EXPECT_FALSE(end.is_beyond({99, 33, -4}));
    EXPECT_FALSE(end.is_beyond({100, 50, 9})) << "on it is the hull still";
    // By hand: four rows past the end, and the end itself.
    const auto ribbon = end.ribbon(3.0);
    ASSERT_EQ(ribbon.size(), 55u);
    double farthest = 0.0, nearest = 1e9;
    for (const Vec3& p : ribbon) {
        farthest = std::max(farthest, p.x());
        nearest = std::min(nearest, p.x());
    }
    EXPECT_NEAR(farthest, 112.0, 1e-12);
    EXPECT_NEAR(nearest, 100.0, 1e-12);
}

job::Job scanned() {
    job::Job job;
    job.hull.scan = job::HullScan{};
    job.hull.bow = Vec3(1, 0, 0);
    return job;
}

TEST(PlaceOf, ADiscIsItsCircleOnTheSkinRoundIt) {
    const Vec3 middle(50, 60, 70), normal = Vec3(0.2, -0.3, 1).normalized();
    Scan scan;
    scan.points = plane_about(middle, normal, 260.0);
    job::Job job = scanned();
    job.damage.centre = middle;
    job.damage.radius = 80.0;
    const ScanPlace place = place_of(job, scan, 120.0);
    EXPECT_LT((place.middle - middle).norm(), 1e-12);
    ASSERT_EQ(place.outline.size(), 72u);
    for (const Vec3& p : place.outline) {
        EXPECT_NEAR((p - middle).norm(), 80.0, 1e-9);
        EXPECT_NEAR((p - middle).dot(normal), 0.0, 1e-9);
    }
    EXPECT_NEAR(place.half_width(), 80.0, 1e-9);
    EXPECT_EQ(place.reach, 120.0);
    EXPECT_TRUE(place.bridged);
    EXPECT_FALSE(place.end);
    // By definition: what is wanted beyond it, or a band of sound skin and its guards.
    const double band = std::max(tolerance::scan_band, 80.0 * tolerance::scan_band_share);
    EXPECT_NEAR(place.half_side(), 80.0 + std::max(120.0, band + 2.0 * tolerance::scan_guard),
                1e-9);
    // A mark farther out is a place of the surface, too.
    job.marks.resize(1);
    job.marks[0].at = middle + 400.0 * normal.unitOrthogonal();
    EXPECT_NEAR(place_of(job, scan, 120.0).reach, 400.0 - 80.0 + tolerance::scan_guard, 1e-9);
}

TEST(PlaceOf, AnEllipseIsLongAlongTheBow) {
    Scan scan;
    scan.points = plane_about({0, 0, 0}, {0, 0, 1}, 300.0);
    job::Job job = scanned();
    job.damage.centre = Vec3(0, 0, 0);
    job.damage.length = 200.0;
    job.damage.height = 60.0;
    double x = 0.0, y = 0.0;
    for (const Vec3& p : place_of(job, scan, 50.0).outline) {
        x = std::max(x, std::abs(p.x()));
        y = std::max(y, std::abs(p.y()));
        EXPECT_NEAR(p.x() * p.x() / 1e4 + p.y() * p.y() / 900.0, 1.0, 1e-9);
    }
    EXPECT_NEAR(x, 100.0, 1e-9);
    EXPECT_NEAR(y, 30.0, 1e-9);
    // Nothing is bridged where the scan shows the hull as it was.
    job.hull.scan->shows = job::ScanShows::sound_hull;
    EXPECT_FALSE(place_of(job, scan, 50.0).bridged);
}

TEST(PlaceOf, APickedOutlineIsDrawnAsThePliesKnowIt) {
    job::Job job = scanned();
    for (int i = 0; i < 8; ++i) {
        const double a = 2.0 * std::numbers::pi * i / 8;
        job.damage.outline.emplace_back(90.0 * std::cos(a), 90.0 * std::sin(a), 5.0);
    }
    job.damage.join = job::Join::straight;
    EXPECT_EQ(place_of(job, {}, 10.0).outline, job.damage.outline);
    job.damage.join = job::Join::smooth;
    const ScanPlace smooth = place_of(job, {}, 10.0);
    EXPECT_EQ(smooth.outline.size(), 96u);
    // A spline of eight points comes within a third of a percent of their circle.
    for (const Vec3& p : smooth.outline) EXPECT_NEAR(p.head<2>().norm(), 90.0, 0.3);
    EXPECT_LT((smooth.middle - Vec3(0, 0, 5)).norm(), 1e-9);
}

TEST(PlaceOf, ByTapeIsTheMiddleOfTheMarksAsFarAsTapesReach) {
    job::Job job = scanned();
    job.marks.resize(3);
    job.marks[0].at = Vec3(-300, 0, 0);
    job.marks[1].at = Vec3(300, 0, 0);  // and one that nobody has found yet
    job.taped.resize(1);
    job.taped[0].distances = {{"A", 340.0}, {"B", 510.0}};
    const ScanPlace place = place_of(job, {}, 100.0);
    EXPECT_LT(place.middle.norm(), 1e-12);
    EXPECT_TRUE(place.outline.empty());
    EXPECT_FALSE(place.bridged);
    EXPECT_NEAR(place.reach, 100.0 + 510.0, 1e-12);
    EXPECT_EQ(place.half_width(), 0.0);
}

/// A cap of a sphere of 300 mm about the z axis, as a scan of facets that face its outside.
Scan cap(double widest) {
    Scan scan;
    constexpr int rings = 12, round = 36;
    for (int j = 0; j <= rings; ++j)
        for (int i = 0; i < round; ++i) {
            const double a = widest * (j + 0.2) / rings, b = 2.0 * std::numbers::pi * i / round;
            scan.points.push_back(
                300.0 * Vec3(std::sin(a) * std::cos(b), std::sin(a) * std::sin(b), std::cos(a)));
        }
    const auto at = [](int j, int i) { return j * round + i % round; };
    for (int j = 0; j < rings; ++j)
        for (int i = 0; i < round; ++i) {
            scan.triangles.push_back({at(j, i), at(j + 1, i), at(j, i + 1)});
            scan.triangles.push_back({at(j, i + 1), at(j + 1, i), at(j + 1, i + 1)});
        }
    return scan;
}

/// The piece about its pole, its own normal up or down.
struct Own {
    hull::Hull piece;
    Own(const Scan& scan, bool turned) {
        piece.vertices = scan.points;
        piece.triangles = scan.triangles;
        if (turned)
            for (auto& t : piece.triangles) std::swap(t[1], t[2]);
        piece.report.extent_min = Vec3(-50, -50, 280);
        piece.report.extent_max = Vec3(50, 50, 300);
        normal = Vec3(0, 0, turned ? -1 : 1);
    }
    Vec3 normal;
    [[nodiscard]] OwnSide side() const { return {piece, Vec3(0, 0, 300), normal}; }
};

job::HullOptions options() {
    job::HullOptions options;
    options.scan = job::HullScan{};
    return options;
}

TEST(OutwardOf, GoesByWhereTheScannerStoodBeforeAllElse) {
    const Scan scan = cap(0.5);
    job::HullOptions asked = options();
    for (const bool turned : {false, true}) {
        const Own own(scan, turned);
        asked.scan->seen_from = Vec3(200, 100, 900);
        EXPECT_EQ(outward_of(scan, asked, own.side())->sign, turned ? -1.0 : 1.0);
        asked.scan->seen_from = Vec3(200, 100, -900);
        EXPECT_EQ(outward_of(scan, asked, own.side())->sign, turned ? 1.0 : -1.0);
    }
    // Hardly over the surface a place tells nothing.
    asked.scan->seen_from = Vec3(2000, 0, 301);
    const auto level = outward_of(scan, asked, Own(scan, false).side());
    ASSERT_FALSE(level);
    EXPECT_EQ(level.error().key, "hull.scan.seen_from");
}

TEST(OutwardOf, GoesByTheFacetsWhereTheJobSaysSo) {
    const Scan scan = cap(0.5);
    job::HullOptions asked = options();
    for (const bool turned : {false, true}) {
        const Own own(scan, turned);
        asked.outward = "as modelled";
        EXPECT_EQ(outward_of(scan, asked, own.side())->sign, turned ? -1.0 : 1.0);
        asked.outward = "reversed";
        EXPECT_EQ(outward_of(scan, asked, own.side())->sign, turned ? 1.0 : -1.0);
    }
    // Bare points have no facets, and facets that face both ways tell nothing.
    Scan bare = scan;
    bare.triangles.clear();
    EXPECT_FALSE(outward_of(bare, asked, Own(scan, false).side()));
    Scan torn = scan;
    for (std::size_t t = 0; t < torn.triangles.size(); t += 2)
        std::swap(torn.triangles[t][1], torn.triangles[t][2]);
    EXPECT_FALSE(outward_of(torn, asked, Own(scan, false).side()));
}

TEST(OutwardOf, ByItselfIsAwayFromWhatTheScanHoldsOrWhereItBulges) {
    for (const bool turned : {false, true}) {
        Scan scan = cap(1.4);
        const Own own(scan, turned);
        const auto held = outward_of(scan, options(), own.side());
        ASSERT_TRUE(held) << held.error().message();
        EXPECT_EQ(held->sign, turned ? -1.0 : 1.0);
        EXPECT_NE(held->words.find("holds"), std::string::npos);
        // A scan with its facets turned over holds the same.
        for (auto& t : scan.triangles) std::swap(t[1], t[2]);
        EXPECT_EQ(outward_of(scan, options(), own.side())->sign, held->sign);
        // Without facets the side to which the surface itself bulges.
        scan.triangles.clear();
        const auto bulge = outward_of(scan, options(), own.side());
        ASSERT_TRUE(bulge) << bulge.error().message();
        EXPECT_EQ(bulge->sign, held->sign);
        EXPECT_NE(bulge->words.find("bulges"), std::string::npos);
    }
}

TEST(OutwardOf, AsksWhereNothingTells) {
    // A plane, and one that the rest of the scan lies on the bulging side of.
    Scan flat = cap(0.02);
    const Own level(flat, false);
    flat.triangles.clear();
    const auto asked = outward_of(flat, options(), level.side());
    ASSERT_FALSE(asked);
    EXPECT_NE(asked.error().what.find("too flat"), std::string::npos) << asked.error().what;
    Scan bowl = cap(1.4);
    const Own own(bowl, false);
    bowl.triangles.clear();
    for (int i = 0; i < 2000; ++i) bowl.points.emplace_back(i % 50, i / 50, 900.0);
    const auto against = outward_of(bowl, options(), own.side());
    ASSERT_FALSE(against);
    EXPECT_NE(against.error().what.find("bulges towards the rest"), std::string::npos)
        << against.error().what;
}

}  // namespace
}  // namespace tearline::scan
