// Hull meshes of Debian's openfoam-examples package, read where it is installed (tests/set-up
// does).
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <array>
#include <cstdio>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull::packaged_hulls_test {
namespace {

using namespace tearline::test;
const std::string packaged = "/usr/share/doc/openfoam-examples/examples/resources/geometry/";

std::string unzipped(const std::string& name) {
    std::string bytes;
    std::FILE* pipe = popen(("gzip -dc " + packaged + name).c_str(), "r");
    std::array<char, 65536> buffer{};
    for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
        bytes.append(buffer.data(), n);
    }
    pclose(pipe);
    return bytes;
}

Result<Hull> read(const Folder& folder, const std::string& name) {
    job::HullOptions options;
    options.model = folder.write("hull.stl", unzipped(name));
    options.unit = "m";
    return read_hull(options, job::Side::outside);
}

class PackagedHulls : public testing::Test {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(packaged + "wigley.stl.gz")) {
            // tests/run installs it; a build by hand may lack it.
            GTEST_SKIP() << "openfoam-examples is not installed";
        }
    }
    Folder folder_;
};

TEST_F(PackagedHulls, WigleyWithInwardFacetsIsTurnedOutward) {
    const auto hull = read(folder_, "wigley.stl.gz");
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_EQ(hull->report.triangles_read, 12896u);
    EXPECT_NE(hull->report.orientation.find("it faced inward and was turned"), std::string::npos)
        << hull->report.orientation;
    EXPECT_NEAR(hull->report.extent_max.x() - hull->report.extent_min.x(), 1000.0, 1.0);
    double area = 0.0;  // below the waterline: 0.148735 m2, measured apart when the set was chosen
    for (const auto& t : hull->triangles) {
        std::vector<Vec3> polygon, wet;
        for (const auto v : t) polygon.push_back(hull->vertices[static_cast<std::size_t>(v)]);
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 &a = polygon[k], &b = polygon[(k + 1) % 3];
            if (a.z() <= 0.0) wet.push_back(a);
            if ((a.z() < 0.0) != (b.z() < 0.0) && a.z() != b.z()) {
                wet.push_back(a + a.z() / (a.z() - b.z()) * (b - a));
            }
        }
        for (std::size_t k = 2; k < wet.size(); ++k) {
            area += 0.5 * (wet[k - 1] - wet[0]).cross(wet[k] - wet[0]).norm();
        }
    }
    EXPECT_NEAR(area, 148735.0, 75.0);
}

TEST_F(PackagedHulls, AShipOf116ThousandFacetsIsRead) {
    const auto hull = read(folder_, "DTC-scaled.stl.gz");
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_EQ(hull->report.triangles_read, 116062u);
    EXPECT_GT(hull->triangles.size(), 115000u);
}

}  // namespace
}  // namespace tearline::hull::packaged_hulls_test
