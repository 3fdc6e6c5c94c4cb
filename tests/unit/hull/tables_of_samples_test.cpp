#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <optional>
#include <random>
#include <string>

#include "core/hull/fair_spline.h"
#include "core/hull/read_hull.h"

/// String nets over our own hulls, read as a person reads them: the figures are the exact
/// surface's.
namespace tearline::hull {
namespace {

struct Net {
    std::string model;
    Vec3 place, out;     ///< [mm] on the hull; unit, away from it
    bool bends = false;  ///< sharper than a net of that spacing shows
};

/// How far the hull lies below a point along `-out`: a facet's answer, made exact on its face.
std::optional<double> below(const Hull& hull, const Vec3& point, const Vec3& out) {
    std::optional<double> least;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& v = hull.triangles[t];
        const Vec3 a = hull.vertices[static_cast<std::size_t>(v[0])];
        Eigen::Matrix3d by;
        by << hull.vertices[static_cast<std::size_t>(v[1])] - a,
            hull.vertices[static_cast<std::size_t>(v[2])] - a, out;
        if (std::abs(by.determinant()) < 1e-9) continue;
        const Vec3 at = by.inverse() * (point - a);
        if (at.x() < -1e-9 || at.y() < -1e-9 || at.x() + at.y() > 1.0 + 1e-9 || at.z() < 0.0)
            continue;
        const auto& uv = hull.corner_uv[t];
        Vec3 unknown(0, 0, at.z());
        unknown.head<2>() = uv[0] + at.x() * (uv[1] - uv[0]) + at.y() * (uv[2] - uv[0]);
        for (int step = 0; step < 12; ++step) {
            const FacePoint p = hull.cad->evaluate(hull.face[t], unknown.head<2>());
            Eigen::Matrix3d slope;
            slope << p.du, p.dv, out;
            unknown -= slope.inverse() * (p.position + unknown.z() * out - point);
        }
        if (!least || unknown.z() < *least) least = unknown.z();
    }
    return least;
}

Eigen::MatrixXd offsets_over(const Hull& hull, const Net& net, int count, double spacing) {
    const Vec3 bow = std::abs(net.out.x()) > 0.9 ? Vec3(0, 1, 0) : Vec3(1, 0, 0);
    const Vec3 along = (bow - bow.dot(net.out) * net.out).normalized();
    const Vec3 across = net.out.cross(along);
    Eigen::MatrixXd all(count, count);
    for (int i = 0; i < count; ++i)
        for (int j = 0; j < count; ++j) {
            const double s = spacing * (j - 0.5 * (count - 1)),
                         t = spacing * (i - 0.5 * (count - 1));
            const auto off =
                below(hull, net.place + 150.0 * net.out + s * along + t * across, net.out);
            EXPECT_TRUE(off) << net.model << " " << i << " " << j;
            all(i, j) = off.value_or(0.0);
        }
    return all;
}

TEST(TablesOfSamples, RaiseNoAlarmAndFindASlip) {
    // Read to half a millimetre, and wrong by up to half a millimetre; start value 15.
    std::mt19937 random(15);
    std::uniform_real_distribution<double> error(-0.5, 0.5);
    RecordProperty("seed", 15);
    constexpr int count = 9;
    for (const Net& net :
         {Net{"curlew", {3000, 780, 197}, Vec3(0.06, 0.75, -0.66).normalized()},
          Net{"wigley", {0, 150, -125}, Vec3(0, 1, 0)}, Net{"sphere", {0, 0, -600}, Vec3(0, 0, -1)},
          Net{"cylinder", {1000, 0, -500}, Vec3(0, 0, -1)}, Net{"panel", {0, 0, 0}, Vec3(0, 1, 0)},
          Net{"sandpiper", {1850, 560, 130}, Vec3(0, 0.7, -0.7).normalized(), true},
          Net{"curlew", {3000, 900, 300}, Vec3(0.06, 0.75, -0.66).normalized(), true}}) {
        job::HullOptions options;
        options.model = std::string(TEARLINE_SAMPLES) + "/" + net.model + ".step";
        options.outward = net.model == "panel" ? "as modelled" : "auto";
        const auto hull = read_hull(options, job::Side::outside);
        ASSERT_TRUE(hull) << hull.error().message();
        constexpr double spacing = 30.0;
        const Eigen::MatrixXd exact = offsets_over(*hull, net, count, spacing);
        std::vector<double> sites;
        for (int i = 0; i < count; ++i) sites.push_back(spacing * i);
        const SplineBasis basis(sites);
        const Eigen::MatrixXd halves = (exact.array() * 2.0).round() / 2.0;
        const FairTable read = fair_table(basis, basis, halves);
        EXPECT_TRUE(read.suspicious.empty()) << net.model;
        // A fair surface rounds a chine off.
        EXPECT_LT((read.fitted - exact).cwiseAbs().maxCoeff(), net.bends ? 2.0 : 0.5) << net.model;
        for (int draw = 0; draw < 30; ++draw) {
            const Eigen::MatrixXd wrong =
                exact + Eigen::MatrixXd::NullaryExpr(count, count, [&] { return error(random); });
            EXPECT_TRUE(fair_table(basis, basis, wrong).suspicious.empty()) << net.model;
        }
        Eigen::MatrixXd slip = (exact.array() * 10.0).round() / 10.0;
        slip(3, 5) += 1.0;
        const FairTable found = fair_table(basis, basis, slip);
        // Over a chine or a bilge of 40 mm a net of 30 mm cannot tell a millimetre, and says so.
        if (net.bends) {
            EXPECT_GT(found.tells, 1.0);
            continue;
        }
        ASSERT_FALSE(found.suspicious.empty()) << net.model << " tells " << found.tells;
        EXPECT_EQ(found.suspicious.front().row, 3) << net.model;
        EXPECT_EQ(found.suspicious.front().column, 5) << net.model;
    }
}

}  // namespace
}  // namespace tearline::hull
