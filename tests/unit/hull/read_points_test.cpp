#include <gtest/gtest.h>

#include "core/hull/mesh_file.h"
#include "core/hull/model_file.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull::read_points_test {
namespace {

/// The same two points, however a program writes them: files as spreadsheets and scanners save
/// them.
struct Written {
    std::string what, name, bytes;
};

const Vec3 first(1.5, -2.25, 3000.125), second(4.0, 5.5, -6.75);

Result<RawMesh> read(const std::string& name, const std::string& bytes) {
    const test::Folder folder;
    return read_scan_file(read_model_file(folder.write(name, bytes)).value());
}

TEST(Points, OfStlAreThereOnceHoweverManyFacetsHaveThem) {
    // By construction: a grid of 5 x 9 corners, 64 facets; as a mesh each corner of each facet.
    const auto mesh = test::grid(4, 8, [](double u, double v) { return Vec3(u, v, u * v); });
    for (const std::string& bytes : {test::stl_binary(mesh), test::stl_text(mesh)}) {
        const auto scan = read("a.stl", bytes);
        ASSERT_TRUE(scan) << scan.error().message();
        EXPECT_EQ(scan->points.size(), 45U);
        ASSERT_EQ(scan->triangles.size(), 64U);
        const test::Folder folder;
        const auto each = read_mesh_file(read_model_file(folder.write("a.stl", bytes)).value());
        ASSERT_TRUE(each);
        EXPECT_EQ(each->points.size(), 192U);
        for (std::size_t t = 0; t < 64; ++t)
            for (std::size_t k = 0; k < 3; ++k)
                EXPECT_EQ(scan->points[static_cast<std::size_t>(scan->triangles[t][k])],
                          each->points[static_cast<std::size_t>(each->triangles[t][k])]);
    }
}

TEST(Points, AreReadHoweverTheyAreParted) {
    const std::vector<Written> files = {
        {"blanks", "a.xyz", "1.5 -2.25 3000.125\n4 5.5 -6.75\n"},
        {"names", "a.csv", "x,y,z\r\n1.5,-2.25,3000.125\r\n4,5.5,-6.75\r\n"},
        {"how many", "a.pts", "2\n1.5 -2.25 3000.125 12 255 0 0\n4 5.5 -6.75 13 0 0 0\n"},
        {"byte order mark", "a.csv",
         "\xEF\xBB\xBF"
         "1.5,-2.25,3000.125\n4,5.5,-6.75\n"},
        {"semicolons", "a.csv", "X;Y;Z\n1,5;-2,25;3000,125\n4;5,5;-6,75\n"},
        {"decimal commas and tabs", "a.xyz", "1,5\t-2,25\t3000,125\n4\t5,5\t-6,75\n"},
        {"decimal commas and blanks", "a.xyz", "1,5 -2,25 3000,125\n4,0 5,5 -6,75\n"},
        {"commas and blanks", "a.xyz", "1.5, -2.25, 3000.125\n4, 5.5, -6.75\n"},
        {"quotes", "a.csv",
         "\"x\",\"y\",\"z\"\n\"1.5\",\"-2.25\",\"3000.125\"\n\"4\",\"5.5\",\"-6.75\"\n"},
        {"numbered", "a.csv", "Point ID,X [m],Y [m],Z [m]\n1,1.5,-2.25,3000.125\n2,4,5.5,-6.75\n"},
        {"numbered, blanks", "a.xyz", "id x y z\n1 1.5 -2.25 3000.125\n2 4 5.5 -6.75\n"},
        {"numbered, blanks as columns need them", "a.xyz",
         "id    x     y     z      i\n1   1.5 -2.25 3000.125 99\n2     4   5.5 -6.75     98\n"},
        {"quotes about decimal commas", "a.csv",
         "\"x\",\"y\",\"z\"\n\"1,5\",\"-2,25\",\"3000,125\"\n\"4\",\"5,5\",\"-6,75\"\n"},
        {"a column without a name", "a.csv", ",x,y,z\n0,1.5,-2.25,3000.125\n1,4,5.5,-6.75\n"},
        {"an empty column", "a.csv",
         "id;;x;y;z;r;g\n1;;1,5;-2,25;3000,125;9;9\n2;;4;5,5;-6,75;9;9\n"},
        {"names and blanks", "a.csv", "id, x, y, z\n1 1.5 -2.25 3000.125\n2 4 5.5 -6.75\n"},
        {"who made them", "a.csv",
         "Scanned 2026-05-03, station "
         "2\nid;X;Y;Z\n;mm;mm;mm\n1;1,5;-2,25;3000,125\n2;4;5,5;-6,75\n"},
        {"other names", "a.csv", "e,n,h\n1.5,-2.25,3000.125\n4,5.5,-6.75\n"},
    };
    for (const Written& file : files) {
        const auto mesh = read(file.name, file.bytes);
        ASSERT_TRUE(mesh) << file.what << ": " << mesh.error().message();
        ASSERT_EQ(mesh->points.size(), 2U) << file.what;
        EXPECT_EQ(mesh->points[0], first) << file.what;
        EXPECT_EQ(mesh->points[1], second) << file.what;
    }
}

TEST(Points, ThatCouldBeReadWronglyAreNot) {
    for (const std::string bytes :
         {"x,nx,y,ny,z,nz\n1,0,2,0,3,1\n", "id,x,y,z\n1,2,3\n", "1 2\n", "a\nb\nc\nd\n1 2 3\n"})
        EXPECT_FALSE(read("a.csv", bytes)) << bytes;
}

}  // namespace
}  // namespace tearline::hull::read_points_test
