#include "core/hull/measured_hull.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <random>

#include "core/hull/batten_patch.h"

using namespace tearline;
using namespace tearline::hull;

namespace {

/// Principal curvatures by the face's own derivatives, positive where it bulges outward.
Eigen::Vector2d curvatures(const Hull& hull, const Vec2& uv) {
    const FacePoint p = hull.cad->evaluate(FaceId(0), uv);
    const Vec3 n = hull.cad->outward_sign(FaceId(0)) * p.du.cross(p.dv).normalized();
    Eigen::Matrix2d first, second;
    first << p.du.dot(p.du), p.du.dot(p.dv), p.du.dot(p.dv), p.dv.dot(p.dv);
    second << p.duu.dot(n), p.duv.dot(n), p.duv.dot(n), p.dvv.dot(n);
    const Eigen::Matrix2d shape = -first.inverse() * second;
    const double mean = 0.5 * shape.trace();
    const double half = std::sqrt(std::max(0.0, mean * mean - shape.determinant()));
    return {mean - half, mean + half};
}

/// The gap under a straight batten: how far a circle falls away at half its length.
double gap_on(double radius, double batten) {
    return radius - std::copysign(std::sqrt(radius * radius - 0.25 * batten * batten), radius);
}

job::HullOptions by_battens(double gap_along, double gap_across) {
    job::HullOptions options;
    options.up = Vec3(0, 1, 0);
    options.measured = job::BattenGaps{600.0, gap_along, gap_across, {}, {}};
    return options;
}

/// Heights of z = f(x, y) as offsets from the plane z = 0, on a square grid about the origin.
template <class Height>
job::HullOptions by_grid(std::size_t count, double spacing, Height height) {
    job::HullOptions options;
    options.up = Vec3(0, 1, 0);
    job::OffsetGrid grid{spacing, spacing, {}, {}};
    for (std::size_t row = 0; row < count; ++row) {
        grid.offsets.emplace_back();
        for (std::size_t i = 0; i < count; ++i) {
            const double middle = 0.5 * spacing * static_cast<double>(count - 1);
            grid.offsets.back().push_back(-height(spacing * static_cast<double>(i) - middle,
                                                  spacing * static_cast<double>(row) - middle));
        }
    }
    options.grid = grid;
    return options;
}

}  // namespace

TEST(MeasuredHull, GivesBackASphereFromItsGaps) {
    const double gap = gap_on(900.0, 600.0);
    const auto hull = measured_hull(by_battens(gap, gap), job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message;
    // A sphere: every point lies 900 mm from the centre below the middle, by its own definition.
    for (const Vec3& p : hull->vertices) EXPECT_NEAR((p - Vec3(0, 0, -900)).norm(), 900.0, 0.01);
    for (const Vec2& uv : {Vec2(0, 0), Vec2(200, -150)})
        EXPECT_NEAR(curvatures(*hull, uv).norm() / std::sqrt(2.0), 1.0 / 900.0, 1e-7);
    for (const MeasuredFigure& figure : hull->by_hand->figures)
        EXPECT_NEAR(figure.figure, figure.passes, 1e-4) << figure.place;
}

TEST(MeasuredHull, GivesBackACylinderATorusAndASaddle) {
    struct Case {
        double along, across;  // radii, 0 for straight
    };
    for (const auto& [along, across] :
         {Case{0.0, 700.0}, Case{700.0, 0.0}, Case{2500.0, 600.0}, Case{2000.0, -800.0}}) {
        const double a = along == 0.0 ? 0.0 : gap_on(along, 600.0);
        const double b = across == 0.0 ? 0.0 : gap_on(across, 600.0);
        const auto hull = measured_hull(by_battens(a, b), job::Side::outside);
        ASSERT_TRUE(hull) << hull.error().message;
        Eigen::Vector2d expected(along == 0.0 ? 0.0 : 1.0 / along,
                                 across == 0.0 ? 0.0 : 1.0 / across);
        std::sort(expected.data(), expected.data() + 2);
        EXPECT_NEAR((curvatures(*hull, Vec2(0, 0)) - expected).norm(), 0.0, 2e-6);
    }
}

TEST(MeasuredHull, FacesThePersonWhoMeasuresIt) {
    for (const double bow : {1.0, -1.0}) {
        job::HullOptions options = by_battens(30.0, 20.0);
        options.bow = Vec3(bow, 0, 0);
        const auto outside = measured_hull(options, job::Side::outside);
        ASSERT_TRUE(outside);
        const auto& t = outside->triangles.front();
        const Vec3 normal = (outside->vertices[t[1]] - outside->vertices[t[0]])
                                .cross(outside->vertices[t[2]] - outside->vertices[t[0]]);
        EXPECT_GT(normal.z(), 0.0);
    }
}

TEST(MeasuredHull, FollowsCurvatureThatChangesFromEndToEnd) {
    job::HullOptions options = by_battens(12.0, 30.0);
    options.measured->gap_along_ends = {8.0, 17.0};
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message;
    for (const MeasuredFigure& figure : hull->by_hand->figures)
        EXPECT_NEAR(figure.figure, figure.passes, 1e-3) << figure.place;
    EXPECT_GT(curvatures(*hull, Vec2(0, 250))[0], 1.5 * curvatures(*hull, Vec2(0, -250))[0]);
}

TEST(MeasuredHull, TellsGapsThatContradictEachOther) {
    // From side to side the gap along bends one way, so the gap across must change to match: a
    // surface has one twist of both. Here it does the opposite.
    job::HullOptions options = by_battens(12.0, 12.0);
    options.measured->gap_along_ends = {20.0, 20.0};
    options.measured->gap_across_ends = {4.0, 4.0};
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_FALSE(hull);
    // All six differ by as much: any of them may be the wrong one, so the message names the rest.
    EXPECT_EQ(hull.error().message.rfind("hull.measured.gap_a", 0), 0u) << hull.error().message;
    for (const char* name : {"gap_along_ends", "gap_across_ends", "measure these six again"})
        EXPECT_NE(hull.error().message.find(name), std::string::npos) << hull.error().message;
}

TEST(MeasuredHull, ReadingErrorsMoveRadiiNoFartherThanTheyMust) {
    // R = (h^2 + g^2) / 2g: dR = R dg / g. Gaps read to the half millimetre, seed 7.
    const double radius = 900.0, gap = gap_on(radius, 600.0);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> error(-0.5, 0.5);
    RecordProperty("seed", 7);
    for (int run = 0; run < 30; ++run) {
        const auto hull =
            measured_hull(by_battens(gap + error(random), gap + error(random)), job::Side::outside);
        ASSERT_TRUE(hull);
        const Eigen::Vector2d k = curvatures(*hull, Vec2(0, 0));
        for (int i = 0; i < 2; ++i)
            EXPECT_NEAR(1.0 / k[i], radius, 1.05 * radius * 0.5 / (gap - 0.5));
    }
}

TEST(MeasuredGrid, GivesBackTheRadiiOfFourSurfacesReadToHalfAMillimetre) {
    // Heights over the plane, closed forms; readings uniform within 0.25 mm either way, seed 11.
    std::mt19937 random(11);
    std::uniform_real_distribution<double> error(-0.25, 0.25);
    RecordProperty("seed", 11);
    struct Case {
        double along, across;  // curvature [1/mm]
    };
    const auto fall = [](double k, double s) {
        return k == 0.0 ? 0.0 : (1.0 - std::sqrt(1.0 - k * k * s * s)) / k;
    };
    for (const auto& [along, across] :
         {Case{1.0 / 800, 1.0 / 800}, Case{0.0, 1.0 / 600}, Case{1.0 / 2000, 1.0 / 600},
          Case{1.0 / 1500, -1.0 / 900}}) {
        Eigen::Vector2d expected(along, across);
        std::sort(expected.data(), expected.data() + 2);
        double squares = 0.0;
        constexpr int draws = 20;
        for (int draw = 0; draw < draws; ++draw) {
            const auto hull =
                measured_hull(by_grid(9, 75.0,
                                      [&](double x, double y) {
                                          return -fall(along, x) - fall(across, y) + error(random);
                                      }),
                              job::Side::outside);
            ASSERT_TRUE(hull) << hull.error().message;
            squares += (curvatures(*hull, Vec2(300, 300)) - expected).cwiseAbs2().maxCoeff();
            for (const MeasuredFigure& figure : hull->by_hand->figures)
                ASSERT_LT(std::abs(figure.figure - figure.passes), 0.6) << figure.place;
        }
        // What three of the figures alone would be wrong by at worst: a batten of 300 mm laid
        // there, its middle and its ends each misread by 0.25 mm, 2 x 0.5 / 150^2.
        EXPECT_LT(std::sqrt(squares / draws), 4.5e-5) << along << " " << across;
    }
}

TEST(MeasuredGrid, NamesTheFigureThatWasMistyped) {
    auto options = by_grid(
        7, 100.0, [](double x, double y) { return -(x * x + 2.0 * y * y) / 1500.0 - 10.0; });
    options.grid->offsets[2][4] *= 10.0;
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_FALSE(hull);
    EXPECT_NE(hull.error().message.find("hull.grid.offsets[3][5]"), std::string::npos)
        << hull.error().message;
    EXPECT_NE(hull.error().message.find("row 3 from below, figure 5 from aft"), std::string::npos);
}

TEST(MeasuredSections, FindsATypedTenForZeroInTheWigleyTable) {
    // Wigley's hull (trade-facts): y = (B/2)(1 - (2x/L)^2)(1 - (z/T)^2), to whole millimetres.
    const auto table = [](double typed) {
        job::OffsetTable offsets;
        for (int i = 0; i <= 10; ++i) offsets.stations.push_back(-2000.0 + 400.0 * i);
        for (int j = 0; j <= 5; ++j) offsets.waterlines.push_back(-250.0 + 50.0 * j);
        for (const double x : offsets.stations) {
            offsets.half_breadths.emplace_back();
            for (const double z : offsets.waterlines)
                offsets.half_breadths.back().push_back(std::round(
                    200.0 * (1.0 - std::pow(x / 2000.0, 2)) * (1.0 - std::pow(z / 250.0, 2))));
        }
        offsets.half_breadths[10][2] += typed;
        job::HullOptions options;
        options.sections = offsets;
        return options;
    };
    const auto clean = measured_hull(table(0.0), job::Side::outside);
    ASSERT_TRUE(clean) << clean.error().message;
    EXPECT_TRUE(clean->warnings.empty());
    for (const MeasuredFigure& figure : clean->by_hand->figures)
        EXPECT_NEAR(figure.figure, figure.passes, 1.0) << figure.place;
    for (const Vec3& p : clean->vertices)
        EXPECT_NEAR(
            p.y(), 200.0 * (1.0 - std::pow(p.x() / 2000.0, 2)) * (1.0 - std::pow(p.z() / 250.0, 2)),
            1.0);
    // Station at the stem: every figure is 0, one was typed 10: off by no more than 10, so told.
    const auto typed = measured_hull(table(10.0), job::Side::outside);
    const std::string message =
        typed ? (typed->warnings.empty() ? "" : typed->warnings.front().message)
              : typed.error().message;
    EXPECT_NE(message.find("half_breadths[11][3]"), std::string::npos) << message;
    EXPECT_NE(message.find("station at 2000 mm, waterline at -150 mm"), std::string::npos);
}

TEST(BattenPatch, GapOfAChordAndOfATangentAreOne) {
    // Both are the sagitta of the batten's length (derived in job/measurements.h).
    for (const double radius : {500.0, -700.0, 3000.0}) {
        const job::BattenGaps gaps{600.0, gap_on(radius, 600.0), 0.0, {}, {}};
        EXPECT_NEAR(batten_patch(gaps).along, 1.0 / radius, 1e-9);
    }
}
