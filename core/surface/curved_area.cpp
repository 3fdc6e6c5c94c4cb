#include "core/surface/curved_area.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "core/surface/across.h"
#include "core/surface/tolerances.h"

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

/// Whether the surface has two normals along an edge.
bool is_crease(const SurfaceMesh& mesh, std::size_t t, std::size_t i, std::size_t n) {
    constexpr double alike = 1.0 - tolerance::one_normal;
    std::size_t k = 0;
    while (mesh.triangle[n][k] != mesh.triangle[t][(i + 1) % 3]) ++k;
    const auto &here = mesh.corner_normal[t], &there = mesh.corner_normal[n];
    return here[i].dot(there[(k + 1) % 3]) < alike || here[(i + 1) % 3].dot(there[k]) < alike;
}

/// What the flat triangles of a mesh miss of the surface behind them.
class Bulge {
public:
    Bulge(const SurfaceMesh& mesh, Across across)
        : mesh_(mesh),
          missing_(mesh.position.size(), 2.0 * std::numbers::pi),
          third_(mesh.position.size(), 0.0),
          joint_(mesh.position.size(), 0.0),
          smooth_(mesh.position.size(), true) {
        for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
            flat_.push_back(heron(mesh.edge_length[t]));
            for (std::size_t i = 0; i < 3; ++i) {
                missing_[at(t, i)] -= angle_at(mesh.edge_length[t], i);
                third_[at(t, i)] += flat_[t] / 3.0;
            }
        }
        find_joints(across);
    }

    [[nodiscard]] double flat() const {
        double sum = 0.0;
        for (const double area : flat_) sum += area;
        return sum;
    }

    /// The angles missing round a vertex are spread over its facets; those round one of a curved
    /// crease are the crease's own bend on both of its sides, each a segment on its chord.
    [[nodiscard]] double area() const {
        double sum = 0.0;
        std::vector<double> bend = missing_;
        for (std::size_t t = 0; t < flat_.size(); ++t) {
            const double curvature = curvature_of(t);
            const auto& e = mesh_.edge_length[t];
            sum += flat_[t] * curvature * (e[0] * e[0] + e[1] * e[1] + e[2] * e[2]) / 24.0;
            for (std::size_t i = 0; i < 3; ++i) bend[at(t, i)] -= curvature * flat_[t] / 3.0;
        }
        for (std::size_t v = 0; v < bend.size(); ++v) sum += bend[v] * joint_[v] / 24.0;
        return sum;
    }

private:
    [[nodiscard]] std::size_t at(std::size_t t, std::size_t i) const {
        return static_cast<std::size_t>(mesh_.triangle[t][i]);
    }

    /// Fills in where the surface is smooth, and the squared edges of the crease at each vertex
    /// inside that it passes.
    void find_joints(Across across) {
        std::vector<bool> rim(smooth_.size(), false);
        for (std::size_t t = 0; t < across.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i) {
                const std::size_t a = at(t, i), b = at(t, (i + 1) % 3);
                if (across[t][i] < 0) rim[a] = rim[b] = true;
                if (across[t][i] < 0 || mesh_.corner_normal.empty()) continue;
                const auto n = static_cast<std::size_t>(across[t][i]);
                if (n < t || !is_crease(mesh_, t, i, n)) continue;
                for (const std::size_t v : {a, b}) {
                    joint_[v] += mesh_.edge_length[t][i] * mesh_.edge_length[t][i];
                    smooth_[v] = false;
                }
            }
        for (std::size_t v = 0; v < rim.size(); ++v) {
            if (!rim[v]) continue;
            smooth_[v] = false;
            joint_[v] = 0.0;
        }
    }

    /// [1/mm2] of a facet, from its corners where the surface is smooth.
    [[nodiscard]] double curvature_of(std::size_t t) const {
        double sum = 0.0;
        int count = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            const std::size_t v = at(t, i);
            if (!smooth_[v] || !(third_[v] > 0.0)) continue;
            sum += missing_[v] / third_[v];
            ++count;
        }
        return count > 0 ? sum / count : 0.0;
    }

    const SurfaceMesh& mesh_;
    std::vector<double> flat_, missing_, third_;
    std::vector<double> joint_;  ///< [mm2] squares of the two edges of a crease at a vertex, or 0
    std::vector<bool> smooth_;
};

}  // namespace

double curved_area(const SurfaceMesh& mesh) {
    return curved_area(mesh, neighbours(mesh));
}

double curved_area(const SurfaceMesh& mesh, Across across) {
    const Bulge bulge(mesh, across);
    return bulge.flat() + bulge.area();
}

}  // namespace tearline::surface
