#include "core/surface/chart.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/plane/crossings.h"
#include "core/surface/first_fold.h"
#include "core/surface/intrinsic.h"
#include "core/surface/tolerances.h"
#include "core/surface/tutte_chart.h"

namespace tearline::surface {
namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Factor = Eigen::SimplicialLDLT<Sparse>;
constexpr int most_steps = 8;

std::size_t longest_loop(const SurfaceMesh& mesh,
                         const std::vector<std::vector<std::int32_t>>& loops) {
    std::size_t best = 0;
    double most = -1.0;
    for (std::size_t i = 0; i < loops.size(); ++i) {
        double length = 0.0;
        for (std::size_t k = 0; k < loops[i].size(); ++k)
            length +=
                (mesh.position[loops[i][(k + 1) % loops[i].size()]] - mesh.position[loops[i][k]])
                    .norm();
        if (length > most) {
            most = length;
            best = i;
        }
    }
    return best;
}

class Charter {
public:
    explicit Charter(const SurfaceMesh& mesh) : mesh_(mesh) {
        flat_.reserve(mesh.triangle.size());
        cot_.reserve(mesh.triangle.size());
        for (const auto& length : mesh.edge_length) {
            const FlatTriangle f = lay_flat(length);
            flat_.push_back(f);
            std::array<double, 3> cot{};  // of the corner facing edge i -> i+1
            for (int i = 0; i < 3; ++i) {
                const Vec2 a = f[i] - f[(i + 2) % 3];
                const Vec2 b = f[(i + 1) % 3] - f[(i + 2) % 3];
                cot[i] = a.dot(b) / std::max(cross2(a, b), std::numeric_limits<double>::min());
                // Slivers must not drown the rest of the matrix.
                cot[i] = std::clamp(cot[i], -tolerance::most_cotangent, tolerance::most_cotangent);
            }
            cot_.push_back(cot);
        }
    }

    std::vector<Vec2> chart(std::vector<Vec2> start) {
        const auto loops = boundary_loops(mesh_);
        if (loops.empty()) return {};
        rim_ = loops[longest_loop(mesh_, loops)];
        if (start.empty() || folds(start) || rim_crosses(start)) start = best_plane();
        if (folds(start) || rim_crosses(start)) start = tutte_chart(mesh_, rim_);
        if (start.empty() || folds(start)) return {};
        factorize();
        std::vector<Vec2> sound = start;
        std::vector<Vec2> now = start;
        for (int step = 0; step < most_steps; ++step) {
            const double moved = local_global(now);
            if (moved < tolerance::chart_rest) break;
        }
        if (!folds(now) && !rim_crosses(now)) sound = std::move(now);
        return sound;
    }

private:
    [[nodiscard]] bool folds(const std::vector<Vec2>& chart) const {
        for (const auto& t : mesh_.triangle)
            if (!(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]) > 0.0)) return true;
        return false;
    }

    [[nodiscard]] bool rim_crosses(const std::vector<Vec2>& chart) const {
        Region2 region;
        for (const std::int32_t v : rim_) region.outer.push_back(chart[v]);
        return plane::crosses_itself(region);
    }

    [[nodiscard]] std::vector<Vec2> best_plane() const {
        Vec3 normal = Vec3::Zero();
        for (const auto& t : mesh_.triangle)
            normal += (mesh_.position[t[1]] - mesh_.position[t[0]])
                          .cross(mesh_.position[t[2]] - mesh_.position[t[0]]);
        normal.normalize();
        Eigen::Index least = 0;
        normal.cwiseAbs().minCoeff(&least);
        const Vec3 x = normal.cross(Vec3::Unit(least)).normalized();
        const Vec3 y = normal.cross(x);
        std::vector<Vec2> chart;
        chart.reserve(mesh_.position.size());
        for (const Vec3& p : mesh_.position) chart.emplace_back(p.dot(x), p.dot(y));
        return chart;
    }

    void factorize() {
        const auto n = static_cast<Eigen::Index>(mesh_.position.size());
        std::vector<Eigen::Triplet<double>> entries;
        entries.reserve(mesh_.triangle.size() * 6 + 1);
        for (std::size_t t = 0; t < mesh_.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t a = mesh_.triangle[t][i];
                const std::int32_t b = mesh_.triangle[t][(i + 1) % 3];
                const double w = cot_[t][i];
                entries.emplace_back(a, a, w);
                entries.emplace_back(b, b, w);
                entries.emplace_back(std::max(a, b), std::min(a, b), -w);
            }
        entries.emplace_back(0, 0, 1.0);  // the first vertex stays where it is
        Sparse matrix(n, n);
        matrix.setFromTriplets(entries.begin(), entries.end());
        factor_.compute(matrix);
    }

    /// One local-global step, cut short before any triangle turns over.
    /// @return the farthest that a vertex moved [mm]
    double local_global(std::vector<Vec2>& chart) const {
        const auto n = static_cast<Eigen::Index>(chart.size());
        Eigen::MatrixXd right = Eigen::MatrixXd::Zero(n, 2);
        for (std::size_t t = 0; t < mesh_.triangle.size(); ++t) {
            const auto& v = mesh_.triangle[t];
            const FlatTriangle& f = flat_[t];
            // The turn that best takes the flat triangle to its image, edges weighted by
            // cotangents.
            double c = 0.0;
            double s = 0.0;
            for (int i = 0; i < 3; ++i) {
                const Vec2 from = f[(i + 1) % 3] - f[i];
                const Vec2 to = chart[v[(i + 1) % 3]] - chart[v[i]];
                c += cot_[t][i] * from.dot(to);
                s += cot_[t][i] * cross2(from, to);
            }
            const double norm = std::hypot(c, s);
            if (norm > 0.0) {
                c /= norm;
                s /= norm;
            }
            for (int i = 0; i < 3; ++i) {
                const Vec2 e = f[(i + 1) % 3] - f[i];
                const Vec2 turned = cot_[t][i] * Vec2(c * e.x() - s * e.y(), s * e.x() + c * e.y());
                right.row(v[(i + 1) % 3]) += turned.transpose();
                right.row(v[i]) -= turned.transpose();
            }
        }
        right.row(0) += chart[0].transpose();
        const Eigen::MatrixXd solved = factor_.solve(right);
        std::vector<Vec2> step(chart.size());
        for (std::size_t v = 0; v < chart.size(); ++v)
            step[v] = solved.row(static_cast<Eigen::Index>(v)).transpose() - chart[v];
        const double whole = std::min(1.0, 0.8 * first_fold(chart, step));
        double moved = 0.0;
        for (std::size_t v = 0; v < chart.size(); ++v) {
            chart[v] += whole * step[v];
            moved = std::max(moved, whole * step[v].norm());
        }
        return moved;
    }

    /// How much of the step may be taken before a triangle loses its area.
    [[nodiscard]] double first_fold(const std::vector<Vec2>& chart,
                                    const std::vector<Vec2>& step) const {
        double first = std::numeric_limits<double>::infinity();
        for (const auto& t : mesh_.triangle) {
            const Vec2 e = chart[t[1]] - chart[t[0]];
            const Vec2 f = chart[t[2]] - chart[t[0]];
            const Vec2 de = step[t[1]] - step[t[0]];
            const Vec2 df = step[t[2]] - step[t[0]];
            first = std::min(first, surface::first_fold(e, f, de, df));
        }
        return first;
    }

    const SurfaceMesh& mesh_;
    std::vector<FlatTriangle> flat_;
    std::vector<std::array<double, 3>> cot_;
    std::vector<std::int32_t> rim_;
    Factor factor_;
};

}  // namespace

std::vector<Vec2> make_chart(const SurfaceMesh& mesh, std::vector<Vec2> start) {
    return Charter(mesh).chart(std::move(start));
}

ChartQuality chart_quality(const SurfaceMesh& mesh, const std::vector<Vec2>& chart) {
    ChartQuality quality{std::numeric_limits<double>::infinity(), 0.0};
    double worst = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const FlatTriangle f = lay_flat(mesh.edge_length[t]);
        const auto& v = mesh.triangle[t];
        Eigen::Matrix2d from;
        from << f[1] - f[0], f[2] - f[0];
        Eigen::Matrix2d to;
        to << chart[v[1]] - chart[v[0]], chart[v[2]] - chart[v[0]];
        const double area = from.determinant();
        if (!(area > 0.0)) continue;
        const Eigen::Matrix2d j = to * from.inverse();
        // Singular values of a 2 x 2 matrix from its similar and its anti-similar part.
        const double same = std::hypot(j(0, 0) + j(1, 1), j(1, 0) - j(0, 1));
        const double anti = std::hypot(j(0, 0) - j(1, 1), j(1, 0) + j(0, 1));
        const double least = 0.5 * std::abs(same - anti), most = 0.5 * (same + anti);
        quality.least_stretch = std::min(quality.least_stretch, least);
        quality.most_stretch = std::max(quality.most_stretch, most);
        const double off = std::max(most, 1.0 / least);
        if (!(off > worst)) continue;
        worst = off;
        quality.worst = TriangleId(static_cast<std::int32_t>(t));
    }
    return quality;
}

}  // namespace tearline::surface
