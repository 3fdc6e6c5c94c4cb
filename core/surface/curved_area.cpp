#include "core/surface/curved_area.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "core/surface/across.h"

namespace tearline::surface {

namespace {

double heron(const std::array<double, 3>& edge) {
    // Kahan's order keeps slivers exact.
    std::array<double, 3> e = edge;
    std::sort(e.begin(), e.end(), std::greater<>());
    const double product = (e[0] + (e[1] + e[2])) * (e[2] - (e[0] - e[1])) *
                           (e[2] + (e[0] - e[1])) * (e[0] + (e[1] - e[2]));
    return 0.25 * std::sqrt(std::max(product, 0.0));
}

/// The angle at corner i, between its two edges, across from edge i + 1.
double angle_at(const std::array<double, 3>& edge, std::size_t i) {
    const double across = edge[(i + 1) % 3], left = edge[i], right = edge[(i + 2) % 3];
    const double cosine = (left * left + right * right - across * across) / (2.0 * left * right);
    return std::acos(std::clamp(cosine, -1.0, 1.0));
}

}  // namespace

double curved_area(const SurfaceMesh& mesh) {
    return curved_area(mesh, neighbours(mesh));
}

double curved_area(const SurfaceMesh& mesh, Across across) {
    std::vector<double> missing(mesh.position.size(), 2.0 * std::numbers::pi);
    std::vector<double> third(mesh.position.size(), 0.0);
    double area = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const double flat = heron(mesh.edge_length[t]);
        area += flat;
        for (std::size_t i = 0; i < 3; ++i) {
            const auto v = static_cast<std::size_t>(mesh.triangle[t][i]);
            missing[v] -= angle_at(mesh.edge_length[t], i);
            third[v] += flat / 3.0;
        }
    }
    std::vector<bool> rim(mesh.position.size(), false);
    for (std::size_t t = 0; t < across.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i)
            if (across[t][i] < 0) rim[static_cast<std::size_t>(mesh.triangle[t][i])] = true;

    double bulge = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        double curvature = 0.0;
        int inner = 0;
        for (const std::int32_t v : mesh.triangle[t]) {
            const auto i = static_cast<std::size_t>(v);
            if (rim[i] || !(third[i] > 0.0)) continue;
            curvature += missing[i] / third[i];
            ++inner;
        }
        if (inner == 0) continue;
        const auto& e = mesh.edge_length[t];
        bulge += heron(e) * (curvature / inner) * (e[0] * e[0] + e[1] * e[1] + e[2] * e[2]) / 24.0;
    }
    return area + bulge;
}

}  // namespace tearline::surface
