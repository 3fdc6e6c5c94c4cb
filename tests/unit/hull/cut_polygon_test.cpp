#include "core/hull/cut_polygon.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull {
namespace {

struct Cut {
    std::optional<std::string> why;
    Triangles triangles;
    double area = 0.0;      ///< of all triangles, each counted as positive
    double signed_z = 0.0;  ///< of their shadows on z = 0
    double least = 1e300;   ///< area of the smallest triangle
};

Cut cut(const std::vector<Vec3>& points) {
    std::vector<std::int32_t> polygon(points.size());
    std::iota(polygon.begin(), polygon.end(), 0);
    Cut result;
    result.why = cut_polygon(points, polygon, result.triangles);
    for (const auto& t : result.triangles) {
        const Vec3& a = points[static_cast<std::size_t>(t[0])];
        const Vec3 doubled = (points[static_cast<std::size_t>(t[1])] - a)
                                 .cross(points[static_cast<std::size_t>(t[2])] - a);
        result.area += 0.5 * doubled.norm();
        result.signed_z += 0.5 * doubled.z();
        result.least = std::min(result.least, 0.5 * doubled.norm());
    }
    return result;
}

/// By the shoelace formula [mm2].
double shoelace(const std::vector<Vec3>& points) {
    double area = 0.0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const Vec3 &a = points[k], &b = points[(k + 1) % points.size()];
        area += 0.5 * (a.x() * b.y() - a.y() * b.x());
    }
    return area;
}

TEST(CutPolygon, CoversANotchedPolygonOnceFromWhicheverCornerItStarts) {
    // By hand: a square of 1000 less the triangle of base 1000 and height 800 is 0.6 m2.
    std::vector<Vec3> notched = {
        {0, 0, 0}, {1000, 0, 0}, {1000, 1000, 0}, {500, 200, 0}, {0, 1000, 0}};
    for (int start = 0; start < 5; ++start) {
        const Cut made = cut(notched);
        ASSERT_FALSE(made.why) << *made.why;
        EXPECT_EQ(made.triangles.size(), 3u);
        EXPECT_NEAR(made.area, 600e3, 1e-6) << "from corner " << start;
        EXPECT_NEAR(made.signed_z, 600e3, 1e-6) << "the turning of the corners is kept";
        std::rotate(notched.begin(), notched.begin() + 1, notched.end());
    }
}

TEST(CutPolygon, CoversStarsAndCombsOfAnySizeOnce) {
    // The area of the triangles, each counted positive, is the shoelace area only without overlap.
    std::mt19937 random(20261126);
    std::uniform_real_distribution<double> radius(50.0, 1000.0);
    for (int n = 4; n < 200; n += 7) {
        std::vector<Vec3> star, comb;
        for (int k = 0; k < n; ++k) {
            const double angle = 2.0 * std::numbers::pi * k / n, r = radius(random);
            star.emplace_back(r * std::cos(angle), r * std::sin(angle), 0.0);
            comb.emplace_back(10.0 * (n - k), k % 2 == 0 ? 300.0 : 20.0, 0.0);
        }
        comb.emplace_back(0.0, 0.0, 0.0);
        comb.emplace_back(10.0 * n, 0.0, 0.0);
        for (const auto& points : {star, comb}) {
            const Cut made = cut(points);
            ASSERT_FALSE(made.why) << *made.why;
            EXPECT_EQ(made.triangles.size(), points.size() - 2);
            EXPECT_NEAR(made.area, shoelace(points), 1e-6 * made.area) << n;
        }
    }
}

TEST(CutPolygon, CornersOnAStraightEdgeKeepTheirPlaceInWholeTriangles) {
    // A square with two more corners on each edge, to which the neighbours join: every triangle
    // has area, so that none is dropped and no slit opens.
    std::vector<Vec3> square;
    for (int side = 0; side < 4; ++side) {
        const Vec3 from[] = {{0, 0, 0}, {90, 0, 0}, {90, 90, 0}, {0, 90, 0}};
        for (int k = 0; k < 3; ++k) {
            square.push_back(from[side] + k / 3.0 * (from[(side + 1) % 4] - from[side]));
        }
    }
    const Cut made = cut(square);
    ASSERT_FALSE(made.why) << *made.why;
    EXPECT_EQ(made.triangles.size(), 10u);
    EXPECT_NEAR(made.area, 8100.0, 1e-9);
    EXPECT_GT(made.least, 100.0);
}

TEST(CutPolygon, AHoleBridgedToTheRimStaysOpen) {
    // By hand: 100 x 100 less a hole of 40 x 40, as one run of corners over a bridge there and
    // back.
    const Cut made = cut({{0, 0, 0},
                          {100, 0, 0},
                          {100, 100, 0},
                          {0, 100, 0},
                          {0, 0, 0},
                          {30, 30, 0},
                          {30, 70, 0},
                          {70, 70, 0},
                          {70, 30, 0},
                          {30, 30, 0}});
    ASSERT_FALSE(made.why) << *made.why;
    EXPECT_NEAR(made.area, 10000.0 - 1600.0, 1e-9);
}

TEST(CutPolygon, AConvexPolygonIsAFanAsBefore) {
    const Cut made = cut({{0, 0, 0}, {20, 0, 0}, {30, 10, 1}, {20, 20, 0}, {0, 20, 0}});
    EXPECT_EQ(made.triangles, (Triangles{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}}));
}

TEST(CutPolygon, APolygonWithoutAreaIsNoFault) {
    EXPECT_FALSE(cut({{0, 0, 0}, {10, 0, 0}, {20, 0, 0}, {5, 0, 0}}).why);
    EXPECT_FALSE(cut({{0, 0, 0}, {10, 0, 0}, {10, 10, 0}, {10, 10, 0}}).why);
    EXPECT_FALSE(cut({{0, 0, 0}, {10, 0, 0}, {20, 7, 0}, {10, 0, 0}}).why);
}

TEST(CutPolygon, APolygonThatCrossesItselfIsRefusedWithItsPlace) {
    const auto bow_tie = cut({{5, 5, 0}, {15, 15, 0}, {15, 5, 0}, {5, 15, 0}}).why;
    ASSERT_TRUE(bow_tie);
    EXPECT_NE(bow_tie->find("4 corners crosses itself near (5.000, 5.000, 0.000)"),
              std::string::npos)
        << *bow_tie;
    std::vector<Vec3> pentagram;
    for (int k = 0; k < 5; ++k) {
        const double angle = 4.0 * std::numbers::pi * k / 5.0;
        pentagram.emplace_back(std::cos(angle), std::sin(angle), 0.0);
    }
    EXPECT_TRUE(cut(pentagram).why);
}

TEST(CutPolygon, ABadlyBentPolygonIsRefusedAndALittleTwistIsNot) {
    const auto raised = [](double by) {
        return cut({{0, 0, 0}, {100, 0, 0}, {100, 100, by}, {0, 100, 0}}).why;
    };
    EXPECT_FALSE(raised(30.0));  // the two triangles turn by about 24 degrees
    ASSERT_TRUE(raised(100.0));
    EXPECT_NE(raised(100.0)->find("bent"), std::string::npos) << *raised(100.0);
}

/// The notched polygon of the first test, standing on edge, in the words of each format.
class NotchedFile : public testing::TestWithParam<const char*> {};

TEST_P(NotchedFile, HasTheAreaCountedByHand) {
    const test::Folder folder;
    const std::string kind = GetParam();
    const std::string corners = "0 0 0\n1000 0 0\n1000 0 1000\n500 0 200\n0 0 1000\n";
    std::string text = "v " + corners.substr(0, corners.size() - 1) + "\n";
    for (std::size_t k = text.find('\n'); k + 1 < text.size(); k = text.find('\n', k + 1)) {
        text.insert(k + 1, "v ");
    }
    text += "f 1 2 3 4 5\n";
    const std::string vertices =
        "element vertex 5\nproperty double x\nproperty double y\n"
        "property double z\n";
    const std::string face = "element face 1\nproperty list uchar int vertex_indices\n";
    if (kind == std::string("ply")) {
        text = "ply\nformat ascii 1.0\n" + vertices + face + "end_header\n" + corners +
               "5 0 1 2 3 4\n";
    } else if (kind == std::string("faces_first.ply")) {
        text = "ply\nformat ascii 1.0\n" + face + vertices + "end_header\n5 0 1 2 3 4\n" + corners;
    }
    const auto file = folder.write(kind == "obj" ? "notched.obj" : "notched.ply", text);
    const auto hull = inspect_hull(file, "mm");
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_NEAR(hull->report.area_mm2, 600e3, 1e-6);
}

INSTANTIATE_TEST_SUITE_P(CutPolygon, NotchedFile, testing::Values("obj", "ply", "faces_first.ply"),
                         [](const auto& info) {
                             std::string name = info.param;
                             std::replace(name.begin(), name.end(), '.', '_');
                             return name;
                         });

TEST(CutPolygon, FilesNameTheFaceThatCannotBeCut) {
    const test::Folder folder;
    const auto obj = inspect_hull(
        folder.write("a.obj", "v 0 0 0\nv 9 9 0\nv 9 0 0\nv 0 9 0\nf 1 3 2\nf 1 2 3 4\n"), "mm");
    ASSERT_FALSE(obj);
    EXPECT_NE(obj.error().message().find("line 6: f: a face of 4 corners crosses itself"),
              std::string::npos)
        << obj.error().message();
    const auto ply = inspect_hull(
        folder.write("a.ply",
                     "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float "
                     "y\nproperty float z\nelement face 2\nproperty list uchar int vertex_indices\n"
                     "end_header\n0 0 0\n9 9 0\n9 0 0\n0 9 0\n3 0 2 1\n4 0 1 2 3\n"),
        "mm");
    ASSERT_FALSE(ply);
    EXPECT_NE(ply.error().message().find("face 1: a face of 4 corners crosses itself"),
              std::string::npos)
        << ply.error().message();
}

}  // namespace
}  // namespace tearline::hull
