#include "core/scan/girth.h"

#include <Eigen/SparseCholesky>
#include <vector>

#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

constexpr int steps = 96;

double length_of(const std::vector<SurfaceJet>& way) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < way.size(); ++i)
        sum += (way[i + 1].position - way[i].position).norm();
    return sum;
}

/// One Gauss-Newton step of the inner places towards equal steps and the least sum of squares.
std::vector<Vec2> tightened(const std::vector<SurfaceJet>& way, std::vector<Vec2> uv) {
    const int inner = static_cast<int>(uv.size()) - 2;
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::VectorXd right = Eigen::VectorXd::Zero(2 * inner);
    const auto columns = [&](int i) {
        const SurfaceJet& jet = way[static_cast<std::size_t>(i)];
        Eigen::Matrix<double, 3, 2> both;
        both << jet.du, jet.dv;
        return both;
    };
    // Each step's residual is its vector: J' J d = -J' r.
    for (int i = 0; i <= inner; ++i) {
        const Vec3 step = way[static_cast<std::size_t>(i) + 1].position -
                          way[static_cast<std::size_t>(i)].position;
        for (const int a : {i, i + 1}) {
            if (a < 1 || a > inner) continue;
            const double sign_a = a == i ? -1.0 : 1.0;
            const Eigen::Matrix<double, 3, 2> at_a = sign_a * columns(a);
            right.segment<2>(2 * (a - 1)) -= at_a.transpose() * step;
            for (const int b : {i, i + 1}) {
                if (b < 1 || b > inner) continue;
                const double sign_b = b == i ? -1.0 : 1.0;
                const Eigen::Matrix2d block = at_a.transpose() * (sign_b * columns(b));
                for (int r = 0; r < 2; ++r)
                    for (int c = 0; c < 2; ++c)
                        entries.emplace_back(2 * (a - 1) + r, 2 * (b - 1) + c, block(r, c));
            }
        }
    }
    Eigen::SparseMatrix<double> normal(2 * inner, 2 * inner);
    normal.setFromTriplets(entries.begin(), entries.end());
    const Eigen::VectorXd move =
        Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>(normal).solve(right);
    for (int i = 1; i <= inner; ++i)
        uv[static_cast<std::size_t>(i)] += move.segment<2>(2 * (i - 1));
    return uv;
}

}  // namespace

double girth(const FairSurface& surface, const Vec3& from, const Vec3& to) {
    const Vec2 a = surface.base.foot(from).uv, b = surface.base.foot(to).uv;
    std::vector<Vec2> uv;
    for (int i = 0; i <= steps; ++i) uv.push_back(a + (b - a) * i / steps);
    std::vector<SurfaceJet> way;
    const auto look = [&] {
        way.clear();
        for (const Vec2& p : uv) way.push_back(surface.jet(p));
        return length_of(way);
    };
    double length = look();
    constexpr int most_rounds = 20;
    for (int round = 0; round < most_rounds; ++round) {
        const std::vector<Vec2> before = uv;
        uv = tightened(way, uv);
        const double shorter = look();
        if (!(shorter < length)) {
            uv = before;
            return length;
        }
        const bool settled = length - shorter < tolerance::settled_girth * length;
        length = shorter;
        if (settled) break;
    }
    return length;
}

}  // namespace tearline::scan
