#include "core/patch/needles.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

bool is_thin(const std::vector<Vec3>& position, const std::array<std::int32_t, 3>& v) {
    const Vec3& a = position[v[0]];
    const Vec3& b = position[v[1]];
    const Vec3& c = position[v[2]];
    const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
    const double height = (b - a).cross(c - a).norm() / longest;
    return !(height > tolerance::needle_height) && longest > tolerance::needle_shape * height;
}

using Group = std::vector<std::int32_t>;

double cosine(double degrees) {
    return std::cos(degrees * std::numbers::pi / 180.0);
}

/// The facets of a mesh, those that are thin among them.
class Gatherer {
public:
    Gatherer(const std::vector<Vec3>& position, const Needles::Corners& vertex,
             const Needles::Corners& neighbour)
        : position_(position), vertex_(vertex), neighbour_(neighbour), seen_(vertex.size(), -1) {
        for (const auto& v : vertex) {
            thin_.push_back(is_thin(position, v));
            normal_.push_back((position[v[1]] - position[v[0]])
                                  .cross(position[v[2]] - position[v[0]])
                                  .normalized());
        }
    }

    [[nodiscard]] bool is_thin_facet(std::size_t t) const { return thin_[t]; }

    /// The thin facets that hang together over edges that turn less than their cosine says, the
    /// sound ones beside them into `shore`.
    Group gather(std::int32_t start, double least_cosine, Group& shore) {
        Group members{start};
        const std::int32_t round = rounds_++;
        seen_[start] = round;
        shore.clear();
        for (std::size_t k = 0; k < members.size(); ++k)
            for (const std::int32_t n : neighbour_[members[k]]) {
                if (n < 0 || seen_[n] == round) continue;
                if (!(normal_[members[k]].dot(normal_[n]) >= least_cosine)) continue;
                seen_[n] = round;
                (thin_[n] ? members : shore).push_back(n);
            }
        return members;
    }

    /// Whether a cluster is a fillet or a tube in fine steps, each as long as the part: no step is
    /// a crease, and some lie farther from the sound facets than a needle is high. Those know
    /// nothing of its direction; its own facets do.
    [[nodiscard]] bool is_stepped(const Group& members, const Group& shore) const {
        const double crease = cosine(tolerance::crease_degrees);
        for (const std::int32_t t : members)
            for (const std::int32_t n : neighbour_[t])
                if (n >= 0 && !(normal_[t].dot(normal_[n]) > crease)) return false;
        Needles::Corners beside;
        for (const std::int32_t t : shore) beside.push_back(vertex_[t]);
        const surface::BoxTree tree = surface::build_box_tree(position_, beside);
        return std::any_of(members.begin(), members.end(), [&](std::int32_t t) {
            const auto& v = vertex_[t];
            const Vec3 middle = (position_[v[0]] + position_[v[1]] + position_[v[2]]) / 3.0;
            return surface::nearest_triangle(tree, position_, beside, middle).distance >
                   tolerance::needle_height;
        });
    }

private:
    const std::vector<Vec3>& position_;
    const Needles::Corners& vertex_;
    const Needles::Corners& neighbour_;
    std::vector<bool> thin_;
    std::vector<Vec3> normal_;  ///< of the facets as they lie
    std::vector<std::int32_t> seen_;
    std::int32_t rounds_ = 0;
};

}  // namespace

Needles::Needles(const std::vector<Vec3>& position, const Corners& vertex,
                 const Corners& neighbour) {
    // Clusters end at edges that turn more than needles' own normals waver.
    constexpr double waver_degrees = 45.0;
    Gatherer mesh(position, vertex, neighbour);
    std::vector<bool> done(vertex.size(), false);
    Group shore;
    for (std::size_t start = 0; start < vertex.size(); ++start) {
        if (!mesh.is_thin_facet(start) || done[start]) continue;
        if (cluster_.empty()) cluster_.assign(vertex.size(), -1);
        Group members = mesh.gather(static_cast<std::int32_t>(start), cosine(waver_degrees), shore);
        for (const std::int32_t t : members) done[t] = true;
        // One that turns from all beside it is no surface of its own: meshes leave slivers at poles
        // and at ends of edges, any way round. What lies beyond its neighbours stands in for it.
        constexpr double any_way = -1.0;
        if (shore.empty() && members.size() == 1)
            mesh.gather(static_cast<std::int32_t>(start), any_way, shore);
        else if (!shore.empty() && mesh.is_stepped(members, shore))
            shore.clear();
        if (shore.empty()) continue;
        for (const std::int32_t t : members) cluster_[t] = static_cast<std::int32_t>(shore_.size());
        shore_.push_back(shore);
    }
}

surface::NearestTriangle Needles::stand_in(std::int32_t facet, const std::vector<Vec3>& position,
                                           const Corners& vertex, const Vec3& point) const {
    surface::NearestTriangle best;
    for (const std::int32_t t : shore_[cluster_[facet]]) {
        const auto& v = vertex[t];
        const std::array<Vec3, 3> corner{position[v[0]], position[v[1]], position[v[2]]};
        const Vec3 w = surface::nearest_weights(corner, point);
        const double distance =
            (w[0] * corner[0] + w[1] * corner[1] + w[2] * corner[2] - point).norm();
        if (!best.triangle.valid() || distance < best.distance) best = {TriangleId(t), w, distance};
    }
    return best;
}

}  // namespace tearline::patch
