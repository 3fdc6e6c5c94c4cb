#include "core/surface/relax_chart.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/plane/crossings.h"
#include "core/surface/first_fold.h"
#include "core/surface/intrinsic.h"
#include "core/surface/tolerances.h"

namespace tearline::surface {
namespace {

using Matrix = Eigen::Matrix2d;
using Places = Eigen::MatrixXd;  // a row a vertex
constexpr int most_relax_steps = 200;

class Relaxer {
public:
    explicit Relaxer(const SurfaceMesh& mesh) : mesh_(mesh) {
        for (const auto& length : mesh.edge_length) {
            const FlatTriangle f = lay_flat(length);
            Matrix from;
            from << f[1] - f[0], f[2] - f[0];
            whole_ += 0.5 * from.determinant();
            to_plane_.push_back(from.inverse());
            area_.push_back(0.5 * from.determinant());
        }
        for (double& area : area_) area /= whole_;
        const auto loops = boundary_loops(mesh);
        if (!loops.empty()) rim_ = loops.front();
        factorize();
    }

    std::vector<Vec2> relaxed(const std::vector<Vec2>& start) const {
        Places at(static_cast<Eigen::Index>(start.size()), 2);
        for (std::size_t v = 0; v < start.size(); ++v)
            at.row(static_cast<Eigen::Index>(v)) = start[v].transpose();
        double energy = energy_of(at);
        for (int step = 0; step < most_relax_steps; ++step) {
            const Places down = slope(at), way = -factor_.solve(down);
            const double falls = down.cwiseProduct(way).sum();
            constexpr double rest = tolerance::relaxed;
            if (!(falls < 0.0) || -falls < rest * energy) break;
            const auto next = gone(at, way, energy, falls);
            if (!(next.energy < energy * (1.0 - rest))) break;
            at = next.at;
            energy = next.energy;
        }
        std::vector<Vec2> out;
        for (Eigen::Index v = 0; v < at.rows(); ++v) out.emplace_back(at.row(v).transpose());
        return out;
    }

private:
    struct Gone {
        Places at;
        double energy = 0.0;
    };

    /// As far along a way as the energy falls well.
    [[nodiscard]] Gone gone(const Places& at, const Places& way, double energy,
                            double falls) const {
        constexpr double part = 0.8;  // [-] of the way to where the first triangle folds
        double length = std::min(1.0, part * first_fold(at, way));
        for (; length > tolerance::shortest_step; length *= 0.5) {
            Gone there{at + length * way, 0.0};
            there.energy = energy_of(there.at);
            if (there.energy <= energy + tolerance::falls_enough * length * falls &&
                !rim_crosses(there.at))
                return there;
        }
        return {at, energy};
    }

    [[nodiscard]] bool rim_crosses(const Places& at) const {
        Region2 region;
        for (const std::int32_t v : rim_) region.outer.emplace_back(at.row(v).transpose());
        return plane::crosses_itself(region);
    }

    [[nodiscard]] Matrix map(std::size_t t, const Places& at) const {
        const auto& v = mesh_.triangle[t];
        Matrix to;
        to << (at.row(v[1]) - at.row(v[0])).transpose(), (at.row(v[2]) - at.row(v[0])).transpose();
        return to * to_plane_[t];
    }

    [[nodiscard]] double energy_of(const Places& at) const {
        double sum = 0.0;
        for (std::size_t t = 0; t < area_.size(); ++t) {
            const Matrix j = map(t, at);
            const double det = j.determinant();
            if (!(det > 0.0)) return std::numeric_limits<double>::infinity();
            sum += area_[t] * j.squaredNorm() * (1.0 + 1.0 / (det * det));
        }
        return sum;
    }

    [[nodiscard]] Places slope(const Places& at) const {
        Places out = Places::Zero(at.rows(), 2);
        for (std::size_t t = 0; t < area_.size(); ++t) {
            const Matrix j = map(t, at);
            const double det = j.determinant();
            Matrix cofactor;
            cofactor << j(1, 1), -j(1, 0), -j(0, 1), j(0, 0);
            const Matrix by_map =
                2.0 * area_[t] *
                ((1.0 + 1.0 / (det * det)) * j - j.squaredNorm() / (det * det * det) * cofactor);
            const Matrix by_edges = by_map * to_plane_[t].transpose();
            const auto& v = mesh_.triangle[t];
            out.row(v[1]) += by_edges.col(0).transpose();
            out.row(v[2]) += by_edges.col(1).transpose();
            out.row(v[0]) -= (by_edges.col(0) + by_edges.col(1)).transpose();
        }
        return out;
    }

    /// How much of a way may be gone before a triangle loses its area.
    [[nodiscard]] double first_fold(const Places& at, const Places& way) const {
        double first = std::numeric_limits<double>::infinity();
        for (std::size_t t = 0; t < area_.size(); ++t) {
            const Matrix j = map(t, at), d = map(t, way);
            first = std::min(first, surface::first_fold(j.col(0), j.col(1), d.col(0), d.col(1)));
        }
        return first;
    }

    /// The Laplacian by the mesh's own lengths.
    void factorize() {
        std::vector<Eigen::Triplet<double>> entries;
        for (std::size_t t = 0; t < area_.size(); ++t) {
            // Of the slopes of the three corner functions.
            Eigen::Matrix<double, 2, 3> by;
            by.col(1) = to_plane_[t].row(0).transpose();
            by.col(2) = to_plane_[t].row(1).transpose();
            by.col(0) = -by.col(1) - by.col(2);
            const auto& v = mesh_.triangle[t];
            for (int i = 0; i < 3; ++i)
                for (int k = 0; k < 3; ++k) {
                    // Twice for both of its parts, and twice since the energy's own is.
                    const double w = 4.0 * area_[t] * by.col(i).dot(by.col(k));
                    entries.emplace_back(v[i], v[k], w);
                }
        }
        // What is stretched over a short way is mended first, before the whole bends.
        constexpr double short_ways = 100.0;  // [-] squares of that way in the whole area
        for (std::size_t t = 0; t < area_.size(); ++t)
            for (const std::int32_t v : mesh_.triangle[t])
                entries.emplace_back(v, v, 4.0 / 3.0 * area_[t] * short_ways / whole_);
        const auto n = static_cast<Eigen::Index>(mesh_.position.size());
        Eigen::SparseMatrix<double> matrix(n, n);
        matrix.setFromTriplets(entries.begin(), entries.end());
        factor_.compute(matrix);
    }

    const SurfaceMesh& mesh_;
    std::vector<Matrix> to_plane_;  ///< per triangle: from its edges laid flat to unit ones
    std::vector<std::int32_t> rim_;
    double whole_ = 0.0;        ///< [mm2]
    std::vector<double> area_;  ///< [-] per triangle, of the whole
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
};

}  // namespace

std::vector<Vec2> relax_chart(const SurfaceMesh& mesh, std::vector<Vec2> chart) {
    return Relaxer(mesh).relaxed(chart);
}

}  // namespace tearline::surface
