#include "core/surface/tutte_chart.h"

#include <Eigen/SparseCholesky>
#include <cmath>
#include <numbers>

namespace tearline::surface {
namespace {

/// A circle as long as the rim, by arc length.
std::vector<Vec2> on_circle(const SurfaceMesh& mesh, const std::vector<std::int32_t>& rim) {
    std::vector<Vec2> places;
    double whole = 0.0;
    const auto step = [&](std::size_t k) {
        return (mesh.position[rim[(k + 1) % rim.size()]] - mesh.position[rim[k]]).norm();
    };
    for (std::size_t k = 0; k < rim.size(); ++k) whole += step(k);
    const double radius = whole / (2.0 * std::numbers::pi);
    double along = 0.0;
    for (std::size_t k = 0; k < rim.size(); ++k) {
        const double angle = 2.0 * std::numbers::pi * along / whole;
        places.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
        along += step(k);
    }
    return places;
}

}  // namespace

std::vector<Vec2> tutte_chart(const SurfaceMesh& mesh, const std::vector<std::int32_t>& rim) {
    return tutte_chart(mesh, rim, on_circle(mesh, rim));
}

std::vector<Vec2> tutte_chart(const SurfaceMesh& mesh, const std::vector<std::int32_t>& rim,
                              const std::vector<Vec2>& places) {
    const std::size_t n = mesh.position.size();
    std::vector<Vec2> chart(n, Vec2::Zero());
    std::vector<bool> fixed(n, false);
    for (std::size_t k = 0; k < rim.size(); ++k) {
        chart[rim[k]] = places[k];
        fixed[rim[k]] = true;
    }
    std::vector<Eigen::Index> unknown(n, -1);
    Eigen::Index count = 0;
    for (std::size_t v = 0; v < n; ++v)
        if (!fixed[v]) unknown[v] = count++;
    std::vector<std::pair<std::int32_t, std::int32_t>> links;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) links.emplace_back(t[i], t[(i + 1) % 3]);
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::MatrixXd right;
    const auto loops = boundary_loops(mesh);
    Eigen::Index hubs = 0;
    std::vector<std::pair<std::int32_t, Eigen::Index>> spokes;
    for (const auto& loop : loops) {
        if (fixed[loop.front()]) continue;
        for (const std::int32_t v : loop) spokes.emplace_back(v, count + hubs);
        ++hubs;
    }
    right.setZero(count + hubs, 2);
    const auto link = [&](Eigen::Index a, Eigen::Index b) {
        entries.emplace_back(a, b, -1.0);
        entries.emplace_back(a, a, 1.0);
    };
    for (const auto& [a, b] : links)
        for (const auto& [p, q] : {std::pair(a, b), std::pair(b, a)}) {
            if (unknown[p] < 0) continue;
            if (unknown[q] >= 0) {
                link(unknown[p], unknown[q]);
            } else {
                entries.emplace_back(unknown[p], unknown[p], 1.0);
                right.row(unknown[p]) += chart[q].transpose();
            }
        }
    for (const auto& [v, hub] : spokes) {
        link(unknown[v], hub);
        link(hub, unknown[v]);
    }
    Eigen::SparseMatrix<double> matrix(count + hubs, count + hubs);
    matrix.setFromTriplets(entries.begin(), entries.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix);
    if (factor.info() != Eigen::Success) return {};
    const Eigen::MatrixXd solved = factor.solve(right);
    for (std::size_t v = 0; v < n; ++v)
        if (unknown[v] >= 0) chart[v] = solved.row(unknown[v]).transpose();
    return chart;
}

}  // namespace tearline::surface
