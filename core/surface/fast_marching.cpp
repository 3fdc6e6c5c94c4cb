#include "core/surface/fast_marching.h"

#include <algorithm>
#include <cmath>
#include <queue>

#include "core/surface/intrinsic.h"

namespace tearline::surface {
namespace {

/// Distance at the third corner of a triangle from those at the two others, the front straight.
///
/// @param c    length of the edge between the known corners A and B
/// @param da, db  their distances
/// @param ac, bc  lengths of the edges from them to the third corner
double straight_front(double da, double db, double c, double ac, double bc) {
    const double along = std::min(da + ac, db + bc);
    const double slope = (db - da) / c;
    if (!(std::abs(slope) < 1.0)) return along;
    const Vec2 third = third_corner({0, 0}, {c, 0}, bc, ac);
    // The front's direction has component `slope` along the edge; it must come in through the edge.
    const double rise = std::sqrt(1.0 - slope * slope);
    const double entry = third.x() - third.y() * slope / rise;
    if (!(entry >= 0.0 && entry <= c)) return along;
    return std::min(along, da + slope * third.x() + rise * third.y());
}

class Marcher {
public:
    explicit Marcher(const SurfaceMesh& mesh) : mesh_(mesh), first_(mesh.position.size() + 1, 0) {
        for (const auto& t : mesh.triangle)
            for (const std::int32_t v : t) ++first_[v + 1];
        for (std::size_t v = 0; v < mesh.position.size(); ++v) first_[v + 1] += first_[v];
        around_.resize(first_.back());
        auto fill = first_;
        for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
            for (const std::int32_t v : mesh.triangle[t])
                around_[fill[v]++] = static_cast<std::int32_t>(t);
        distance.assign(mesh.position.size(), std::numeric_limits<double>::infinity());
        done_.assign(mesh.position.size(), false);
    }

    void offer(std::int32_t v, double d) {
        if (!(d < distance[v])) return;
        distance[v] = d;
        queue_.push({d, v});
    }

    void run(double limit) {
        while (!queue_.empty()) {
            const auto [d, v] = queue_.top();
            queue_.pop();
            if (done_[v] || d > distance[v]) continue;
            if (d > limit) break;
            done_[v] = true;
            for (std::int32_t k = first_[v]; k < first_[v + 1]; ++k) update(around_[k], v);
        }
        for (std::size_t v = 0; v < distance.size(); ++v)
            if (!done_[v]) distance[v] = std::numeric_limits<double>::infinity();
    }

    std::vector<double> distance;

private:
    /// Updates the corners of a triangle of which `v` has just been settled.
    void update(std::int32_t t, std::int32_t v) {
        const auto& c = mesh_.triangle[t];
        const auto& l = mesh_.edge_length[t];
        const int i = c[0] == v ? 0 : c[1] == v ? 1 : 2;
        const int j = (i + 1) % 3;
        const int k = (i + 2) % 3;
        offer(c[j], distance[v] + l[i]);
        offer(c[k], distance[v] + l[k]);
        if (done_[c[j]]) offer(c[k], straight_front(distance[v], distance[c[j]], l[i], l[k], l[j]));
        if (done_[c[k]]) offer(c[j], straight_front(distance[v], distance[c[k]], l[k], l[i], l[j]));
    }

    const SurfaceMesh& mesh_;
    std::vector<std::int32_t> first_, around_;
    std::vector<bool> done_;
    using Entry = std::pair<double, std::int32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue_;
};

}  // namespace

std::vector<double> march_distance(const SurfaceMesh& mesh, const std::vector<KnownDistance>& known,
                                   double limit) {
    Marcher marcher(mesh);
    for (const KnownDistance& k : known) marcher.offer(k.vertex, k.distance);
    marcher.run(limit);
    return std::move(marcher.distance);
}

}  // namespace tearline::surface
