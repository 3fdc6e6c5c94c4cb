#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull {
namespace {

using namespace tearline::test;

constexpr int round_cells = 64, along_cells = 40;

/// Area of the inscribed prism, by hand: n chords of 2 R sin(pi / 2n).
double prism_area(double radius, double length) {
    return round_cells * 2.0 * radius * std::sin(std::numbers::pi / (2.0 * round_cells)) * length;
}

Result<Hull> read(const std::filesystem::path& file, const std::string& unit = "mm") {
    job::HullOptions options;
    options.model = file;
    options.unit = unit;
    return read_hull(options, job::Side::outside);
}

class EveryMeshFormat : public testing::TestWithParam<std::string> {
protected:
    std::filesystem::path write(const PlainMesh& mesh) const {
        const std::string kind = GetParam();
        if (kind == "stl binary") return folder_.write("hull.stl", stl_binary(mesh));
        if (kind == "stl text") return folder_.write("hull.stl", stl_text(mesh));
        if (kind == "obj") return folder_.write("hull.obj", obj_text(mesh));
        return folder_.write("hull.ply", ply(mesh, kind));
    }
    Folder folder_;
};

TEST_P(EveryMeshFormat, GivesThePrismsAreaAndOneOpening) {
    const auto hull = read(write(trough(500.0, 2000.0, round_cells, along_cells)));
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_NEAR(hull->report.area_mm2, prism_area(500.0, 2000.0), 1.0);
    EXPECT_EQ(hull->vertices.size(), (round_cells + 1u) * (along_cells + 1u));
    EXPECT_EQ(hull->triangles.size(), 2u * round_cells * along_cells);
    ASSERT_EQ(hull->report.opening_lengths.size(), 1u);
}

TEST_P(EveryMeshFormat, InwardFacetsAreTurnedOutward) {
    const auto hull = read(write(turned_over(trough(500.0, 2000.0, round_cells, along_cells))));
    ASSERT_TRUE(hull) << hull.error().message();
    for (const auto& t : hull->triangles) {
        const Vec3& a = hull->vertices[static_cast<std::size_t>(t[0])];
        const Vec3& b = hull->vertices[static_cast<std::size_t>(t[1])];
        const Vec3& c = hull->vertices[static_cast<std::size_t>(t[2])];
        const Vec3 from_axis(0.0, a.y() + b.y() + c.y(), a.z() + b.z() + c.z());
        ASSERT_GT((b - a).cross(c - a).dot(from_axis), 0.0);
    }
    EXPECT_NE(hull->report.orientation.find("turned"), std::string::npos);
}

TEST_P(EveryMeshFormat, UnitsScaleLengthsAndAreas) {
    // 20 in x 80 in of half cylinder: 25.4 mm an inch, exactly.
    const auto file = write(trough(20.0, 80.0, round_cells, along_cells));
    const auto inches = read(file, "in");
    ASSERT_TRUE(inches) << inches.error().message();
    EXPECT_NEAR(inches->report.extent_max.x(), 80.0 * 25.4, 1e-3);
    EXPECT_NEAR(inches->report.area_mm2, prism_area(20.0, 80.0) * 25.4 * 25.4, 2.0);
    const auto metres = read(file, "m");
    ASSERT_TRUE(metres) << metres.error().message();
    EXPECT_NEAR(metres->report.extent_max.x(), 80.0e3, 1e-2);
}

TEST_P(EveryMeshFormat, AFlippedFacetIsTurnedAndTold) {
    PlainMesh mesh = trough(500.0, 2000.0, round_cells, along_cells);
    for (const std::size_t t : {100u, 777u, 2000u})
        std::swap(mesh.triangles[t][0], mesh.triangles[t][1]);
    const auto hull = read(write(mesh));
    ASSERT_TRUE(hull) << hull.error().message();
    ASSERT_EQ(hull->report.mended.size(), 1u);
    EXPECT_EQ(hull->report.mended[0].substr(0, 8), "3 facets");
}

TEST_P(EveryMeshFormat, RepeatedAndFlatTrianglesAreDroppedAndTold) {
    PlainMesh mesh = trough(500.0, 2000.0, round_cells, along_cells);
    mesh.triangles.push_back(mesh.triangles[50]);
    mesh.triangles.push_back({7, 8, 8});
    const auto hull = read(write(mesh));
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_EQ(hull->report.mended, (std::vector<std::string>{"1 triangles without area dropped",
                                                             "1 repeated triangles dropped"}));
    EXPECT_NEAR(hull->report.area_mm2, prism_area(500.0, 2000.0), 1.0);
}

INSTANTIATE_TEST_SUITE_P(ReadMesh, EveryMeshFormat,
                         testing::Values("stl binary", "stl text", "obj", "ascii",
                                         "binary_little_endian", "binary_big_endian"),
                         [](const auto& info) {
                             std::string name = info.param;
                             for (char& c : name) {
                                 if (c == ' ') c = '_';
                             }
                             return name;
                         });

TEST(ReadMesh, PolygonsAndCountedBackNumbersOfObjAreUnderstood) {
    // A box as six quadrilaterals, the last counted back from the end, with texture and normals.
    const Folder folder;
    const auto file = folder.write("box.obj",
                                   "v 0 0 0\nv 300 0 0\nv 0 200 0\nv 300 200 0\n"
                                   "v 0 0 100\nv 300 0 100\nv 0 200 100\nv +300 2e2 100.0\n"
                                   "vt 0 0\nvn 0 0 1\n"
                                   "f 1/1/1 3/1/1 4/1/1 2/1/1\nf 5//1 6//1 8//1 7//1\n"
                                   "f 1 2 6 5\nf 3 7 8 4\nf 1 5 7 3\nf -7 -5 -1 -3\n");
    const auto hull = read(file);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_TRUE(hull->report.closed);
    EXPECT_DOUBLE_EQ(hull->report.area_mm2, 2.0 * (300 * 200 + 300 * 100 + 200 * 100));
}

TEST(ReadMesh, SampleStlAreasAgreeWithTheClosedForms) {
    // Facets on a 1 mm deflection lie inside a convex surface: less area, by little.
    struct Known {
        const char* name;
        double area;
    };
    const double pi = std::numbers::pi;
    for (const Known& known :
         {Known{"cylinder", 1e6 * pi}, Known{"sphere", 360e3 * 2 * pi / 3 * std::sqrt(3.0)},
          Known{"cone", pi * (360e3 - 10e3) / std::sin(20 * pi / 180)},
          Known{"wigley", 0.66129169 * 4000 * 900}}) {
        const auto hull = read(std::string(TEARLINE_SAMPLES) + "/" + known.name + ".stl");
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_LT(hull->report.area_mm2, known.area) << known.name;
        EXPECT_GT(hull->report.area_mm2, known.area * 0.998) << known.name;
    }
}

TEST(ReadMesh, PathsWithSpacesAndOtherLettersAreRead) {
    const Folder folder;
    const auto file =
        folder.write("Bøtte nr 2 – skrog.stl", stl_binary(trough(500.0, 2000.0, 8, 4)));
    EXPECT_TRUE(read(file));
}

}  // namespace
}  // namespace tearline::hull
