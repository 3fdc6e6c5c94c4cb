#include "core/hull/measured_hull.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <random>
#include <utility>

#include "core/hull/batten_patch.h"
#include "core/hull/fair_spline.h"

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

Eigen::Vector2d sorted(double a, double b) {
    return {std::min(a, b), std::max(a, b)};
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
    ASSERT_TRUE(hull) << hull.error().message();
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
        ASSERT_TRUE(hull) << hull.error().message();
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
    ASSERT_TRUE(hull) << hull.error().message();
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
    EXPECT_EQ(hull.error().message().rfind("hull.measured.gap_a", 0), 0u) << hull.error().message();
    for (const char* name : {"gap_along_ends", "gap_across_ends", "measure these six again"})
        EXPECT_NE(hull.error().message().find(name), std::string::npos) << hull.error().message();
}

TEST(MeasuredHull, ReadingErrorsMoveRadiiNoFartherThanTheyMust) {
    // k = 2 g / (h^2 + g^2), h half the batten: dk = 2 (h^2 - g^2) / (h^2 + g^2)^2 dg. Gaps read
    // wrong by up to 0.5 mm, uniformly: 0.5 / sqrt(3) mm in the mean. Sphere, cylinder, torus and
    // saddle, seed 7.
    std::mt19937 random(7);
    std::uniform_real_distribution<double> error(-0.5, 0.5);
    RecordProperty("seed", 7);
    constexpr double half = 300.0;
    constexpr int draws = 60;
    for (const auto& [along, across] : {std::pair(900.0, 900.0), std::pair(0.0, 700.0),
                                        std::pair(2500.0, 600.0), std::pair(2000.0, -800.0)}) {
        double squares = 0.0, worst = 0.0, mean = 0.0, most = 0.0;
        for (const double radius : {along, across}) {
            const double gap = radius == 0.0 ? 0.0 : gap_on(radius, 2.0 * half);
            const double square = half * half + gap * gap;
            const double rate = 2.0 * (half * half - gap * gap) / (square * square);
            mean += rate * rate * 0.25 / 3.0;
            most = std::max(most, 0.5 * rate);
        }
        for (int draw = 0; draw < draws; ++draw) {
            const auto read = [&](double radius) {
                return (radius == 0.0 ? 0.0 : gap_on(radius, 2.0 * half)) + error(random);
            };
            const double a = read(along), b = read(across);
            const auto hull = measured_hull(by_battens(a, b), job::Side::outside);
            ASSERT_TRUE(hull) << hull.error().message();
            const Eigen::Vector2d expected =
                sorted(along == 0.0 ? 0.0 : 1.0 / along, across == 0.0 ? 0.0 : 1.0 / across);
            const Eigen::Vector2d off = curvatures(*hull, Vec2(0, 0)) - expected;
            squares += off.squaredNorm() / draws;
            worst = std::max(worst, off.cwiseAbs().maxCoeff());
        }
        // 120 errors: their mean square is known to a quarter, three deviations.
        EXPECT_NEAR(squares / mean, 1.0, 0.3) << along << " " << across;
        EXPECT_LT(worst, 1.05 * most) << along << " " << across;
    }
}

namespace {

/// A surface of two curvatures as its fall from a plane: arcs added up.
double fall(double k, double s) {
    return k == 0.0 ? 0.0 : (1.0 - std::sqrt(1.0 - k * k * s * s)) / k;
}

/// Sphere, cylinder, torus and saddle by their curvatures along and across [1/mm].
const std::array<std::pair<double, double>, 4> four_surfaces{
    {{1.0 / 800, 1.0 / 800}, {0.0, 1.0 / 600}, {1.0 / 2000, 1.0 / 600}, {1.0 / 1500, -1.0 / 900}}};

constexpr int net = 9;
constexpr double net_spacing = 75.0, net_middle = 300.0;

/// Heights of such a surface over a net of 9 by 9, each wrong by what `error` gives.
template <class Error>
Eigen::MatrixXd net_over(const std::pair<double, double>& surface, Error error) {
    Eigen::MatrixXd heights(net, net);
    for (int i = 0; i < net; ++i)
        for (int j = 0; j < net; ++j)
            heights(i, j) = -fall(surface.first, net_spacing * j - net_middle) -
                            fall(surface.second, net_spacing * i - net_middle) + error();
    return heights;
}

SplineBasis net_basis() {
    std::vector<double> sites;
    for (int i = 0; i < net; ++i) sites.push_back(net_spacing * i);
    return SplineBasis(sites);
}

}  // namespace

TEST(MeasuredGrid, GivesBackFourRadiiWithinWhatTheReadingErrorsDo) {
    // Readings wrong by up to 0.5 mm, uniformly, seed 11. The gap under a batten of 450 mm laid on
    // the surface follows every figure by a known share (FairResponse), so its error is known:
    // 0.5 / sqrt(3) mm times the root of their squares. Smoothing adds some error of its own.
    std::mt19937 random(11);
    std::uniform_real_distribution<double> error(-0.5, 0.5);
    RecordProperty("seed", 11);
    constexpr int draws = 60;
    constexpr double half = 225.0;
    const SplineBasis basis = net_basis();
    const Eigen::VectorXd middle = basis.at(net_middle);
    const Eigen::VectorXd gap =
        middle - 0.5 * (basis.at(net_middle - half) + basis.at(net_middle + half));
    for (const auto& surface : four_surfaces) {
        double squares = 0.0, propagated = 0.0;
        for (int draw = 0; draw < draws; ++draw) {
            const FairTable table =
                fair_table(basis, basis, net_over(surface, [&] { return error(random); }));
            const FairResponse response(basis, basis, table.smoothing);
            for (const bool along : {true, false}) {
                const Eigen::MatrixXd felt = along ? Eigen::MatrixXd(middle * gap.transpose())
                                                   : Eigen::MatrixXd(gap * middle.transpose());
                const double has = felt.cwiseProduct(table.poles).sum();
                const double k = along ? surface.first : surface.second;
                const double off = has - fall(k, half);
                squares += off * off / (2 * draws);
                propagated += response.per_figure(felt).squaredNorm() * 0.25 / 3.0 / (2 * draws);
                // A batten of 450 mm laid there, its middle and its ends misread each its own way.
                EXPECT_LT(std::abs(off), 2.0 * 0.5);
            }
        }
        const double share = std::sqrt(squares / propagated);
        EXPECT_GT(share, 0.7) << surface.first << " " << surface.second;
        // No theory: 2.2 was seen on the saddle, which smoothing flattens, so that this only keeps
        // it from getting worse. What the radii must meet is the bound after it.
        EXPECT_LT(share, 2.5) << surface.first << " " << surface.second;
        // And so the radius: no farther off than such a batten makes it in the mean.
        EXPECT_LT(std::sqrt(squares), std::sqrt(1.5) * 0.5 / std::sqrt(3.0));
        RecordProperty("error_by_propagated", std::to_string(share));
    }
}

TEST(MeasuredGrid, RaisesNoAlarmOverHonestReadings) {
    // 0.5 mm either way, uniform and normal, and figures rounded to the millimetre; seed 12.
    std::mt19937 random(12);
    std::uniform_real_distribution<double> uniform(-0.5, 0.5);
    std::normal_distribution<double> normal(0.0, 0.5);
    RecordProperty("seed", 12);
    const SplineBasis basis = net_basis();
    for (const auto& surface : four_surfaces)
        for (int draw = 0; draw < 40; ++draw) {
            for (const bool even : {true, false}) {
                const Eigen::MatrixXd read =
                    net_over(surface, [&] { return even ? uniform(random) : normal(random); });
                EXPECT_TRUE(fair_table(basis, basis, read).suspicious.empty());
            }
            const double above = uniform(random);
            const Eigen::MatrixXd whole = net_over(surface, [&] { return above; }).array().round();
            const FairTable rounded = fair_table(basis, basis, whole);
            EXPECT_TRUE(rounded.suspicious.empty());
            // 1 mm is no more than rounding hides, and that is said.
            EXPECT_GT(rounded.tells, 1.0);
        }
}

TEST(MeasuredGrid, PointsOutAFigureOneMillimetreWrongWhereTheOthersFitWithinATenth) {
    // Inside the net and along its sides; a corner has too few neighbours. Seed 13.
    std::mt19937 random(13);
    std::uniform_real_distribution<double> error(-0.1, 0.1);
    RecordProperty("seed", 13);
    const SplineBasis basis = net_basis();
    int found = 0, elsewhere = 0, all = 0;
    for (const auto& surface : four_surfaces)
        for (int draw = 0; draw < 40; ++draw) {
            Eigen::MatrixXd read = net_over(surface, [&] { return error(random); });
            const auto i = static_cast<Eigen::Index>(1 + random() % (net - 2));
            const auto j = static_cast<Eigen::Index>(1 + random() % (net - 2));
            read(i, j) += draw % 2 == 0 ? 1.0 : -1.0;
            const FairTable table = fair_table(basis, basis, read);
            ++all;
            if (table.suspicious.empty()) continue;
            const Suspicion& first = table.suspicious.front();
            (first.row == i && first.column == j ? found : elsewhere) += 1;
            EXPECT_NEAR(first.figure - first.expected, draw % 2 == 0 ? 1.0 : -1.0, 0.4);
        }
    EXPECT_GE(found, 0.8 * all);
    EXPECT_EQ(elsewhere, 0);
}

TEST(MeasuredGrid, SaysWhatAWrongFigureMustBeToStandOut) {
    // Half of the slips of the size told are found, or more: inside a net read to 0.25 mm, seed 14.
    std::mt19937 random(14);
    std::uniform_real_distribution<double> error(-0.25, 0.25);
    RecordProperty("seed", 14);
    const SplineBasis basis = net_basis();
    int found = 0, small = 0;
    constexpr int draws = 60;
    for (int draw = 0; draw < draws; ++draw) {
        const Eigen::MatrixXd read = net_over(four_surfaces[2], [&] { return error(random); });
        const double tells = fair_table(basis, basis, read).tells;
        EXPECT_GT(tells, 0.75);
        EXPECT_LT(tells, 3.0);
        const auto slip = [&](double size) {
            Eigen::MatrixXd wrong = read;
            wrong(3, 5) += size;
            return fair_table(basis, basis, wrong).suspicious.size();
        };
        found += slip(1.3 * tells) > 0 ? 1 : 0;
        small += slip(0.5 * tells) > 0 ? 1 : 0;
    }
    EXPECT_GT(found, draws / 2);
    EXPECT_LT(small, draws / 4);
    // Nine figures are met by any surface nearly: nothing is left to tell a wrong one by.
    const SplineBasis three({0.0, 100.0, 200.0});
    EXPECT_GT(fair_table(three, three, Eigen::MatrixXd::Ones(3, 3)).tells, 10.0);
}

TEST(MeasuredGrid, NamesTheFigureThatWasMistyped) {
    auto options = by_grid(
        7, 100.0, [](double x, double y) { return -(x * x + 2.0 * y * y) / 1500.0 - 10.0; });
    options.grid->offsets[2][4] *= 10.0;
    const auto hull = measured_hull(options, job::Side::outside);
    ASSERT_FALSE(hull);
    EXPECT_NE(hull.error().message().find("hull.grid.offsets[3][5]"), std::string::npos)
        << hull.error().message();
    EXPECT_NE(hull.error().message().find("row 3 from below, figure 5 from aft"),
              std::string::npos);
}

TEST(MeasuredSections, FindsATypedTenForZeroInTheWigleyTable) {
    // Wigley's hull (SOURCES.md): y = (B/2)(1 - (2x/L)^2)(1 - (z/T)^2), to whole millimetres.
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
    ASSERT_TRUE(clean) << clean.error().message();
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
        typed ? (typed->warnings.empty() ? "" : typed->warnings.front().words().told)
              : typed.error().message();
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
