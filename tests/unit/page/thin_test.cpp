#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "core/page/shape.h"

namespace tearline::page {

namespace {

/// A sphere as rings of latitude: 2 n (n - 1) triangles.
Shape sphere(int n, double radius, const Vec3& middle) {
    Shape shape;
    shape.vertices.push_back(middle + Vec3(0, 0, radius));
    for (int i = 1; i < n; ++i)
        for (int k = 0; k < n; ++k) {
            const double down = std::numbers::pi * i / n, round = 2 * std::numbers::pi * k / n;
            shape.vertices.push_back(middle + radius * Vec3(std::sin(down) * std::cos(round),
                                                            std::sin(down) * std::sin(round),
                                                            std::cos(down)));
        }
    shape.vertices.push_back(middle - Vec3(0, 0, radius));
    const auto at = [n](int i, int k) { return 1 + (i - 1) * n + k % n; };
    const int last = static_cast<int>(shape.vertices.size()) - 1;
    for (int k = 0; k < n; ++k) {
        shape.triangles.push_back({0, at(1, k), at(1, k + 1)});
        for (int i = 1; i + 1 < n; ++i) {
            shape.triangles.push_back({at(i, k), at(i + 1, k), at(i + 1, k + 1)});
            shape.triangles.push_back({at(i, k), at(i + 1, k + 1), at(i, k + 1)});
        }
        shape.triangles.push_back({last, at(n - 1, k + 1), at(n - 1, k)});
    }
    return shape;
}

double volume(const Shape& shape, const Vec3& middle) {
    double six = 0.0;
    for (const auto& [a, b, c] : shape.triangles)
        six += (shape.vertices[a] - middle)
                   .dot((shape.vertices[b] - middle).cross(shape.vertices[c] - middle));
    return six / 6.0;
}

}  // namespace

TEST(Thinned, SphereStaysOneWithinWhatItsFacetsAllow) {
    // A closed form: a facet of edge s lies s^2 / 8R inside a sphere, about 40 mm here, and points
    // where its planes meet no farther outside.
    const Vec3 middle(3000, 900, 200);
    const Shape fine = sphere(300, 600.0, middle);
    const std::size_t most = 10'000;
    const Shape coarse = thinned(fine, most);
    EXPECT_LE(coarse.triangles.size(), most);
    EXPECT_GT(coarse.triangles.size(), most / 3);
    const double edge = std::sqrt(4 * std::numbers::pi * 600.0 * 600.0 / (0.4330127 * 3000));
    for (const Vec3& p : coarse.vertices)
        EXPECT_NEAR((p - middle).norm(), 600.0, edge * edge / (8 * 600.0));
    EXPECT_NEAR(volume(coarse, middle) / (4.0 / 3.0 * std::numbers::pi * std::pow(600.0, 3)), 1.0,
                0.005);
}

TEST(Thinned, KeepsTheEdgesOfABoxSharp) {
    // By construction: every vertex of a box thinned lies on the box, an edge on its edge.
    Shape box;
    const int n = 60;
    const double size = 600.0;
    std::map<std::array<int, 3>, std::int32_t> number;
    const auto at = [&](const std::array<int, 3>& p) {
        const auto [found, fresh] =
            number.try_emplace(p, static_cast<std::int32_t>(box.vertices.size()));
        if (fresh) box.vertices.push_back(Vec3(p[0], p[1], p[2]) * (size / n));
        return found->second;
    };
    for (int axis = 0; axis < 3; ++axis)
        for (const int side : {0, n})
            for (int i = 0; i < n; ++i)
                for (int k = 0; k < n; ++k) {
                    const auto corner = [&](int di, int dk) {
                        std::array<int, 3> p{};
                        p[axis] = side;
                        p[(axis + 1) % 3] = i + di;
                        p[(axis + 2) % 3] = k + dk;
                        return at(p);
                    };
                    box.triangles.push_back({corner(0, 0), corner(1, 0), corner(1, 1)});
                    box.triangles.push_back({corner(0, 0), corner(1, 1), corner(0, 1)});
                }
    const Shape coarse = thinned(box, 4'000);
    EXPECT_LE(coarse.triangles.size(), 4'000U);
    for (const Vec3& p : coarse.vertices) {
        double off = size;
        for (int k = 0; k < 3; ++k) off = std::min({off, std::abs(p[k]), std::abs(p[k] - size)});
        EXPECT_LT(off, 1e-6) << p.transpose();
    }
}

TEST(Thinned, LeavesWhatIsSmallAsItIs) {
    const Shape shape = sphere(10, 100.0, Vec3::Zero());
    const Shape same = thinned(shape, shape.triangles.size());
    EXPECT_EQ(same.triangles, shape.triangles);
    EXPECT_EQ(same.vertices.size(), shape.vertices.size());
}

TEST(Thinned, PointsAreSomeOfThose) {
    Shape cloud = sphere(100, 500.0, Vec3(1e5, 0, 0));
    cloud.triangles.clear();
    const Shape fewer = thinned(cloud, 1'000);
    EXPECT_LE(fewer.vertices.size(), 1'000U);
    EXPECT_GT(fewer.vertices.size(), 200U);
    const auto key = [](const Vec3& p) { return std::array{p.x(), p.y(), p.z()}; };
    std::set<std::array<double, 3>> all;
    for (const Vec3& p : cloud.vertices) all.insert(key(p));
    for (const Vec3& p : fewer.vertices) EXPECT_TRUE(all.count(key(p)));
}

}  // namespace tearline::page
