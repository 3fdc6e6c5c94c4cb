#include "core/hull/one_surface.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <numbers>

#include "core/hull/hull_report.h"
#include "tests/support/mesh_hulls.h"

namespace tearline::hull::one_surface_test {
namespace {

using namespace tearline::test;

Result<Hull> sample(const std::string& name, const job::HullOptions& asked = {}) {
    job::HullOptions options = asked;
    options.model = std::string(TEARLINE_SAMPLES) + "/" + name;
    if (name.ends_with(".stl")) options.unit = "mm";
    return read_hull(options, job::Side::outside);
}

double signed_volume(const Hull& hull) {
    double volume = 0.0;
    for (const auto& t : hull.triangles) {
        const Vec3& a = hull.vertices[static_cast<std::size_t>(t[0])];
        const Vec3& b = hull.vertices[static_cast<std::size_t>(t[1])];
        volume += a.dot(b.cross(hull.vertices[static_cast<std::size_t>(t[2])])) / 6.0;
    }
    return volume;
}

TEST(OneSurface, AClosedBodyFacesAwayFromItsInside) {
    const auto hull =
        make_one_surface(hull_of(turned_over(box({0, 0, 0}, {3000, 1000, 800}))), {}, {});
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_DOUBLE_EQ(signed_volume(*hull), 2.4e9);
    EXPECT_TRUE(hull->report.closed);
}

TEST(OneSurface, ThreeFacesOnOneEdgeAreRefusedWithThePlace) {
    PlainMesh mesh = box({0, 0, 0}, {300, 200, 100});
    mesh.points.emplace_back(150, -500, 0);
    mesh.triangles.push_back({0, 1, 8});  // a fin on the edge from (0,0,0) to (300,0,0)
    const auto hull = make_one_surface(hull_of(mesh), {}, {});
    ASSERT_FALSE(hull);
    EXPECT_EQ(hull.error().kind, ErrorKind::bad_input);
    EXPECT_NE(hull.error().message().find("(150.0, 0.0, 0.0)"), std::string::npos)
        << hull.error().message();
}

TEST(OneSurface, ATwistedStripIsRefusedWithThePlace) {
    constexpr int cells = 40;
    PlainMesh strip = grid(1, cells, [](double u, double v) {
        const double a = 2 * std::numbers::pi * v, half = a / 2;
        const double r = 1000 + 200 * (u - 0.5) * std::cos(half);
        return Vec3(r * std::cos(a), r * std::sin(a), 200 * (u - 0.5) * std::sin(half));
    });
    for (auto& t : strip.triangles) {  // the last row is the first one upside down
        for (auto& v : t) {
            if (v == 2 * cells)
                v = 1;
            else if (v == 2 * cells + 1)
                v = 0;
        }
    }
    const auto hull = make_one_surface(hull_of(strip), {}, {});
    ASSERT_FALSE(hull);
    EXPECT_NE(hull.error().message().find("one side only"), std::string::npos);
    EXPECT_NE(hull.error().message().find("near ("), std::string::npos);
}

TEST(OneSurface, TheSkinOnTheLayingSideOfTwoIsUsed) {
    // An outer trough of radius 500 and an inner one of 490: 10 mm of laminate between.
    PlainMesh two = trough(500.0, 2000.0, 40, 10);
    append(two, turned_over(trough(490.0, 2000.0, 40, 10)));
    for (const auto side : {job::Side::outside, job::Side::inside}) {
        const auto hull = make_one_surface(hull_of(two), {}, {side, true});
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_NEAR(hull->report.extent_max.y(), side == job::Side::outside ? 500 : 490, 1e-9);
        EXPECT_EQ(hull->surface, side);
    }
}

TEST(OneSurface, TheSkinsOfAThinClosedBodyAreToldApart) {
    // The same two troughs joined by a rim at the sheer and at both ends: one closed body.
    const PlainMesh body = grid(84, 12, [](double u, double v) {
        const bool end = v < 0.5 / 12 || v > 11.5 / 12;
        const double turn = u * 84;  // 0..40 outer, 41..81 inner way back, then shut
        const bool outer = turn < 40.5;
        const double part = outer ? turn / 40 : std::max(0.0, (81 - turn) / 40);
        const double angle = std::numbers::pi * (1 + std::min(part, 1.0));
        double radius = outer ? 500.0 : 490.0;
        if (turn > 81.5) radius = 490.0 + 10.0 * (turn - 81) / 3;
        if (end) radius = 495.0;
        const double x = std::clamp((v * 12 - 1) / 10, 0.0, 1.0) * 2000;
        return Vec3(x, radius * std::cos(angle), radius * std::sin(angle));
    });
    job::HullOptions options;
    const Folder folder;
    options.model = folder.write("thin.stl", stl_binary(body));
    options.unit = "mm";
    for (const auto side : {job::Side::outside, job::Side::inside}) {
        const auto hull = read_hull(options, side);
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_EQ(hull->surface, side);
        EXPECT_FALSE(hull->report.closed);
        const double radius = side == job::Side::outside ? 500.0 : 490.0;
        EXPECT_NEAR(hull->report.area_mm2, std::numbers::pi * radius * 2000, 3e3);
        for (const auto& t : hull->triangles) {  // outward is away from the axis for both
            const Vec3& a = hull->vertices[static_cast<std::size_t>(t[0])];
            const Vec3& b = hull->vertices[static_cast<std::size_t>(t[1])];
            const Vec3& c = hull->vertices[static_cast<std::size_t>(t[2])];
            const Vec3 from_axis(0, a.y() + b.y() + c.y(), a.z() + b.z() + c.z());
            ASSERT_GT((b - a).cross(c - a).dot(from_axis), 0.0);
        }
    }
}

TEST(OneSurface, MirroredHalfHullHasTheWholeHullsAreaAndOpening) {
    job::HullOptions options;
    options.mirror = true;
    for (const char* kind : {".step", ".stl"}) {
        const auto whole = sample(std::string("curlew") + kind);
        const auto half = sample(std::string("curlew-half") + kind, options);
        ASSERT_TRUE(whole && half);
        EXPECT_NEAR(half->report.area_mm2, whole->report.area_mm2, 2e-4 * whole->report.area_mm2);
        ASSERT_EQ(half->report.opening_lengths.size(), 1u);
        EXPECT_NEAR(half->report.opening_lengths[0], whole->report.opening_lengths[0], 2.0);
        EXPECT_NEAR(half->report.extent_min.y(), -half->report.extent_max.y(), 1e-9);
        EXPECT_TRUE(half->centreline.empty());
    }
}

TEST(OneSurface, MirroredFacesEvaluateOnTheMirroredTriangles) {
    job::HullOptions options;
    options.mirror = true;
    const auto hull = sample("curlew-half.step", options);
    ASSERT_TRUE(hull);
    for (std::size_t t = 0; t < hull->triangles.size(); ++t) {
        std::array<Vec3, 3> p;
        for (std::size_t k = 0; k < 3; ++k) {
            p[k] = hull->vertices[static_cast<std::size_t>(hull->triangles[t][k])];
            const auto exact = hull->cad->evaluate(hull->face[t], hull->corner_uv[t][k]);
            ASSERT_LT((exact.position - p[k]).norm(), 1e-6);
        }
        const auto& uv = hull->corner_uv[t];
        const auto mid = hull->cad->evaluate(hull->face[t], (uv[0] + uv[1] + uv[2]) / 3.0);
        const Vec3 n = hull->cad->outward_sign(hull->face[t]) * mid.du.cross(mid.dv).normalized();
        ASSERT_GT(n.dot((p[1] - p[0]).cross(p[2] - p[0]).normalized()), 0.9);
    }
    for (const EdgeOnCad& e : hull->cad_edges) {
        const Vec3& from = hull->vertices[static_cast<std::size_t>(e.from)];
        ASSERT_LT((hull->cad->edge_point(e.edge, e.parameter_from) - from).norm(), 1e-6);
    }
}

TEST(OneSurface, AnUnansweredHalfHullCarriesItsCentrelinePlane) {
    const auto half = sample("curlew-half.step");
    ASSERT_TRUE(half);
    ASSERT_EQ(half->centreline.size(), 1u);
    // bow x up is starboard, -y; the half hull ends at y = 0.
    EXPECT_NEAR(half->centreline[0].normal.y(), -1.0, 1e-12);
    EXPECT_NEAR(half->centreline[0].offset, 0.0, 1e-9);
    job::HullOptions options;
    options.mirror = false;
    EXPECT_TRUE(sample("curlew-half.step", options)->centreline.empty());
    EXPECT_TRUE(sample("curlew.step")->centreline.empty());
}

TEST(OneSurface, MirrorOfAWholeHullIsRefused) {
    job::HullOptions options;
    options.mirror = true;
    const auto hull = sample("curlew.step", options);
    ASSERT_FALSE(hull);
    EXPECT_NE(hull.error().message().find("hull.mirror"), std::string::npos);
}

TEST(HullReport, FindsTheRadiiOfTheSamples) {
    struct Known {
        const char* name;
        double convex, within;
    };
    const std::string samples = std::string(TEARLINE_SAMPLES) + "/";
    // By construction: cylinder 500, sphere 600, rolled bilge 40 (its fillet is approximated). On a
    // sphere both curvatures are one: rounding of 1e-16 comes out of the square root as 1e-8.
    for (const Known& known : {Known{"cylinder.step", 500, 1e-6}, Known{"sphere.step", 600, 1e-3},
                               Known{"sandpiper.step", 40, 0.5}, Known{"cylinder.stl", 500, 1.0},
                               Known{"sphere.stl", 600, 60.0}}) {
        const auto hull = inspect_hull(samples + known.name, "mm");
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_NEAR(hull->report.smallest_convex_radius, known.convex, known.within) << known.name;
    }
    // Between an exporter's slivers the estimate is good to a factor of two, as its header says.
    const auto bilge = inspect_hull(samples + "sandpiper.stl", "mm");
    EXPECT_GT(bilge->report.smallest_convex_radius, 20.0);
    EXPECT_LT(bilge->report.smallest_convex_radius, 80.0);
    const auto cylinder = inspect_hull(samples + "cylinder.step", {});
    EXPECT_EQ(cylinder->report.smallest_concave_radius, 0.0);
}

TEST(HullReport, AFlatPanelIsReportedAndNotRefused) {
    const auto panel = inspect_hull(std::string(TEARLINE_SAMPLES) + "/panel.step", {});
    ASSERT_TRUE(panel) << panel.error().message();
    EXPECT_NE(hull_report_text(*panel).find("give hull.outward"), std::string::npos)
        << hull_report_text(*panel);
}

TEST(HullReport, TellsHowManyBodiesAFileHoldsAndHowLargeEachIs) {
    // By hand: boxes of 1000 x 1000 x 500 and 500 x 500 x 500 mm, 4 m2 and 1.5 m2.
    using namespace tearline::test;
    PlainMesh two = box({0, 0, 0}, {1000, 1000, 500});
    const PlainMesh other = box({5000, 0, 0}, {5500, 500, 500});
    const auto first = static_cast<std::int32_t>(two.points.size());
    two.points.insert(two.points.end(), other.points.begin(), other.points.end());
    for (const auto& t : other.triangles) {
        two.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
    }
    const Folder folder;
    const auto both = inspect_hull(folder.write("two.stl", stl_binary(two)), "mm");
    ASSERT_TRUE(both) << both.error().message();
    EXPECT_NE(hull_report_text(*both).find("bodies          2, not joined: 4.000 m2, 1.500 m2\n"),
              std::string::npos)
        << hull_report_text(*both);
    const auto one = inspect_hull(folder.write("one.stl", stl_binary(other)), "mm");
    ASSERT_TRUE(one) << one.error().message();
    EXPECT_NE(hull_report_text(*one).find("bodies          1\n"), std::string::npos)
        << hull_report_text(*one);
}

TEST(HullReport, TellsExtentsAreaAndOpenings) {
    const auto hull = inspect_hull(std::string(TEARLINE_SAMPLES) + "/cylinder.step", {});
    ASSERT_TRUE(hull);
    const std::string text = hull_report_text(*hull);
    for (const char* part :
         {"STEP, in mm", "2000.0 x 1000.0 x 500.0 mm", "3.142 m2", "1, perimeter "}) {
        EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
    }
}

}  // namespace
}  // namespace tearline::hull::one_surface_test
