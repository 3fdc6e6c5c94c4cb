#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <stdexcept>

#include "core/hull/read_hull.h"
#include "core/page/page.h"
#include "core/page/tolerances.h"
#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"

/// What is picked on a page of a CAD hull lies on the hull: closed forms of its faces.
namespace tearline {
namespace {

using Write = std::function<void(const std::filesystem::path&)>;

page::Shape shape_of(const Write& write) {
    const test::Folder folder;
    const auto stem = folder.write("model", "");
    write(stem);
    auto hull = hull::inspect_hull(stem.string() + ".step", std::nullopt);
    if (!hull) throw std::runtime_error(hull.error().message());
    return page::shape_of(*hull);
}

/// The farthest that a place in a facet lies off a surface [mm], `off` telling it of a place.
double farthest(const page::Shape& shape, const std::function<double(const Vec3&)>& off) {
    double most = 0.0;
    for (const auto& [a, b, c] : shape.triangles)
        for (int i = 0; i <= 8; ++i)
            for (int k = 0; i + k <= 8; ++k) {
                const Vec3 place = (i * shape.vertices[static_cast<std::size_t>(a)] +
                                    k * shape.vertices[static_cast<std::size_t>(b)] +
                                    (8 - i - k) * shape.vertices[static_cast<std::size_t>(c)]) /
                                   8.0;
                most = std::max(most, std::abs(off(place)));
            }
    return most;
}

/// Length of the sides that belong to one facet alone [mm]; none may belong to more than two.
double open_length(const page::Shape& shape) {
    std::map<std::pair<int, int>, int> uses;
    for (const auto& t : shape.triangles)
        for (std::size_t k = 0; k < 3; ++k) ++uses[std::minmax({t[k], t[(k + 1) % 3]})];
    double length = 0.0;
    for (const auto& [side, count] : uses) {
        EXPECT_LE(count, 2);
        if (count == 1)
            length += (shape.vertices[static_cast<std::size_t>(side.first)] -
                       shape.vertices[static_cast<std::size_t>(side.second)])
                          .norm();
    }
    return length;
}

double area_of(const page::Shape& shape) {
    double area = 0.0;
    for (const auto& [a, b, c] : shape.triangles) {
        const Vec3& from = shape.vertices[static_cast<std::size_t>(a)];
        area += 0.5 * (shape.vertices[static_cast<std::size_t>(b)] - from)
                          .cross(shape.vertices[static_cast<std::size_t>(c)] - from)
                          .norm();
    }
    return area;
}

// A side and a middle within `off_the_faces` leave what lies between them twice as far at most: a
// facet of a sphere lies farthest off at its middle, 4/3 of a side's.
constexpr double bar = 2.0 * tolerance::off_the_faces;

TEST(PageShape, FacetsOfASphereLieOnIt) {
    const auto shape = shape_of([](const auto& stem) { test::write_sphere(600.0, stem); });
    EXPECT_LT(farthest(shape, [](const Vec3& p) { return p.norm() - 600.0; }), bar);
}

TEST(PageShape, ABowlHoldsTogetherAtItsPole) {
    const auto shape = shape_of([](const auto& stem) { test::write_bowl(900.0, stem); });
    EXPECT_LT(farthest(shape, [](const Vec3& p) { return p.norm() - 900.0; }), bar);
    // Only its rim is open: the shape is one sheet.
    EXPECT_NEAR(open_length(shape), 2.0 * std::numbers::pi * 900.0, 1.0);
    EXPECT_NEAR(area_of(shape) / (2.0 * std::numbers::pi * 900.0 * 900.0), 1.0, 2e-4);
}

TEST(PageShape, ATubeIsWholeAcrossItsSeam) {
    for (const auto& write : {test::write_tube, test::write_drawn_tube}) {
        const auto shape = shape_of([&](const auto& stem) { write(80.0, 400.0, stem); });
        EXPECT_LT(farthest(shape, [](const Vec3& p) { return std::hypot(p.y(), p.z()) - 80.0; }),
                  bar);
        EXPECT_NEAR(area_of(shape) / (2.0 * std::numbers::pi * 80.0 * 400.0), 1.0, 1e-3);
        EXPECT_NEAR(open_length(shape), 4.0 * std::numbers::pi * 80.0, 1.0);
    }
}

TEST(PageShape, FlatFacesStayAsTheyWereRead) {
    const auto shape = shape_of([](const auto& stem) { test::write_keel(0.8, stem); });
    EXPECT_LT(shape.triangles.size(), 20U);
}

}  // namespace
}  // namespace tearline
