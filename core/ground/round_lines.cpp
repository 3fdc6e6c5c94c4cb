#include "core/ground/round_lines.h"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "core/damage/straight_way.h"
#include "core/ground/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/surface/fast_marching.h"
#include "core/surface/intrinsic.h"
#include "core/surface/locate_near.h"
#include "core/surface/surface_behind.h"
#include "core/surface/winding.h"

namespace tearline::ground {
namespace {

/// A vertex as another, so many turns on.
struct Same {
    std::int32_t vertex = 0;
    int turns = 0;
};

/// What each vertex is a copy of.
std::vector<Same> first_copies(const surface::Patch& patch, const surface::Winding& winding) {
    std::vector<std::int32_t> before(patch.mesh.position.size(), -1);
    for (const auto& [a, b] : winding.pairs(patch)) before[static_cast<std::size_t>(b)] = a;
    std::vector<Same> out;
    for (std::size_t v = 0; v < before.size(); ++v) {
        Same same{static_cast<std::int32_t>(v), 0};
        while (before[static_cast<std::size_t>(same.vertex)] >= 0) {
            same.vertex = before[static_cast<std::size_t>(same.vertex)];
            ++same.turns;
        }
        out.push_back(same);
    }
    return out;
}

/// Turns per vertex, smooth all over the tube and a whole one more a turn on.
std::vector<double> harmonic_turns(const surface::Patch& patch, const surface::Winding& winding) {
    const std::vector<Same> same = first_copies(patch, winding);
    const std::vector<bool> once = winding.first_copies();
    const auto n = static_cast<Eigen::Index>(same.size());
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::VectorXd right = Eigen::VectorXd::Zero(n);
    // What is a copy alone hangs on nothing; the first vertex holds the rest.
    for (Eigen::Index v = 0; v < n; ++v) entries.emplace_back(v, v, tolerance::held);
    entries.emplace_back(same.front().vertex, same.front().vertex, 1.0);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
        if (!once[t]) continue;
        const auto& corner = patch.mesh.triangle[t];
        const surface::FlatTriangle flat = surface::lay_flat(patch.mesh.edge_length[t]);
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec2 a = flat[i] - flat[(i + 2) % 3], b = flat[(i + 1) % 3] - flat[(i + 2) % 3];
            const double w =
                std::clamp(a.dot(b) / std::max(cross2(a, b), tolerance::least_twice_area),
                           tolerance::least_weight, tolerance::most_weight);
            const Same &p = same[static_cast<std::size_t>(corner[i])],
                       &q = same[static_cast<std::size_t>(corner[(i + 1) % 3])];
            entries.emplace_back(p.vertex, p.vertex, w);
            entries.emplace_back(q.vertex, q.vertex, w);
            entries.emplace_back(p.vertex, q.vertex, -w);
            entries.emplace_back(q.vertex, p.vertex, -w);
            right[p.vertex] += w * (q.turns - p.turns);
            right[q.vertex] += w * (p.turns - q.turns);
        }
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    const Eigen::VectorXd solved =
        Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>(matrix).solve(right);
    std::vector<double> out;
    for (const Same& s : same) out.push_back(solved[s.vertex] + s.turns);
    return out;
}

surface::Location at_vertex(const surface::Patch& patch, std::int32_t vertex) {
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (patch.mesh.triangle[t][static_cast<std::size_t>(i)] == vertex)
                return {TriangleId(static_cast<std::int32_t>(t)), Vec3::Unit(i)};
    return {};
}

/// The shortest way from a place of the chart round the tube to itself [mm]: over some vertex to
/// the one side and on from its copy to the other.
double girth_from(const surface::Patch& patch, const surface::Winding& winding, const Vec2& from) {
    const auto at = surface::locate_near(patch, from).at;
    const Vec3 here = patch.sample(at).position;
    std::vector<surface::KnownDistance> known;
    for (const std::int32_t v : patch.mesh.triangle[at.triangle.index()])
        known.push_back({v, (patch.mesh.position[static_cast<std::size_t>(v)] - here).norm()});
    const auto distance = surface::march_distance(patch.mesh, known);
    double girth = std::numeric_limits<double>::infinity();
    std::pair<std::int32_t, std::int32_t> far{-1, -1};
    for (const auto& [a, b] : winding.pairs(patch)) {
        const double round =
            distance[static_cast<std::size_t>(a)] + distance[static_cast<std::size_t>(b)];
        if (round < girth) girth = round, far = {a, b};
    }
    if (far.first < 0) return girth;
    // Marching comes out long; the straight ways to the place that it found do not.
    constexpr double spacing = 5.0;  // [mm]
    const auto one = damage::straight_way(patch, at, at_vertex(patch, far.first), spacing);
    const auto other = damage::straight_way(patch, at, at_vertex(patch, far.second), spacing);
    return one && other ? one->length + other->length : girth;
}

}  // namespace

std::optional<RoundLines> RoundLines::of(const surface::Patch& patch, const Vec2& from) {
    const surface::Winding* winding = patch.behind->winding();
    const auto rims = surface::boundary_loops(patch.mesh);
    if (winding == nullptr || rims.size() != 1) return std::nullopt;
    RoundLines out(patch);
    out.rim_ = rims.front();
    out.turn_ = harmonic_turns(patch, *winding);
    const double here = out.turn_at(from);
    for (double& turn : out.turn_) turn -= here;
    out.girth_ = girth_from(patch, *winding, from);
    if (!std::isfinite(out.girth_)) return std::nullopt;
    return out;
}

double RoundLines::turn_at(const Vec2& place) const {
    const auto at = surface::locate_near(*patch_, place).at;
    const auto& corner = patch_->mesh.triangle[at.triangle.index()];
    double turn = 0.0;
    for (int i = 0; i < 3; ++i)
        turn +=
            at.weights[i] * turn_[static_cast<std::size_t>(corner[static_cast<std::size_t>(i)])];
    return turn;
}

std::vector<Vec2> RoundLines::at(double turn) const {
    using Edge = std::pair<std::int32_t, std::int32_t>;
    std::map<Edge, std::vector<Edge>> next;
    for (const auto& t : patch_->mesh.triangle) {
        std::vector<Edge> crossed;
        for (std::size_t i = 0; i < 3; ++i) {
            const Edge edge = std::minmax(t[i], t[(i + 1) % 3]);
            if ((turn_[static_cast<std::size_t>(edge.first)] < turn) !=
                (turn_[static_cast<std::size_t>(edge.second)] < turn))
                crossed.push_back(edge);
        }
        if (crossed.size() != 2) continue;
        next[crossed[0]].push_back(crossed[1]);
        next[crossed[1]].push_back(crossed[0]);
    }
    const auto place = [&](const Edge& edge) -> Vec2 {
        const double a = turn_[static_cast<std::size_t>(edge.first)],
                     b = turn_[static_cast<std::size_t>(edge.second)];
        const Vec2 &p = patch_->chart[static_cast<std::size_t>(edge.first)],
                   &q = patch_->chart[static_cast<std::size_t>(edge.second)];
        return p + (turn - a) / (b - a) * (q - p);
    };
    std::vector<Vec2> longest;
    for (const auto& [start, beside] : next) {
        if (beside.size() != 1) continue;
        std::vector<Vec2> line{place(start)};
        Edge before = start, now = beside.front();
        for (;;) {
            line.push_back(place(now));
            const auto& ways = next.at(now);
            if (ways.size() != 2) break;
            const Edge on = ways[0] == before ? ways[1] : ways[0];
            before = std::exchange(now, on);
        }
        if (line.size() > longest.size()) longest = std::move(line);
    }
    // All the same way: the turn grows to the right of each.
    if (longest.size() > 1) {
        const Vec2 middle = 0.5 * (longest[longest.size() / 2] + longest[longest.size() / 2 - 1]);
        const Vec2 way = longest[longest.size() / 2] - longest[longest.size() / 2 - 1];
        constexpr double beside = 0.5;  // mm
        if (turn_at(middle + beside * turned_left(way.normalized())) > turn)
            std::reverse(longest.begin(), longest.end());
    }
    return longest;
}

std::size_t RoundLines::rim_edge_near(const Vec2& place) const {
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < rim_.size(); ++k) {
        const std::vector<Vec2> edge{
            patch_->chart[static_cast<std::size_t>(rim_[k])],
            patch_->chart[static_cast<std::size_t>(rim_[(k + 1) % rim_.size()])]};
        const double off = plane::distance_to_line(edge, place);
        if (off < least) {
            least = off;
            best = k;
        }
    }
    return best;
}

std::vector<Vec2> RoundLines::along_rim(const Vec2& from, const Vec2& to, double first,
                                        double second) const {
    const std::size_t n = rim_.size(), a = rim_edge_near(from), b = rim_edge_near(to);
    std::vector<Vec2> on, back;
    double outside_on = 0.0, outside_back = 0.0;
    const auto add = [&](std::size_t k, std::vector<Vec2>& line, double& outside) {
        const auto v = static_cast<std::size_t>(rim_[k % n]);
        line.push_back(patch_->chart[v]);
        outside += std::max({0.0, first - turn_[v], turn_[v] - second});
    };
    for (std::size_t k = a; k % n != b; ++k) add(k + 1, on, outside_on);
    for (std::size_t k = a; k % n != b; k += n - 1) add(k, back, outside_back);
    return outside_on <= outside_back ? on : back;
}

Region2 RoundLines::between(double first, double second) const {
    const std::vector<Vec2> early = at(first), late = at(second);
    Region2 region;
    if (early.size() < 2 || late.size() < 2) return region;
    region.outer = early;
    const auto add = [&](const std::vector<Vec2>& line) {
        region.outer.insert(region.outer.end(), line.begin(), line.end());
    };
    add(along_rim(early.back(), late.back(), first, second));
    region.outer.insert(region.outer.end(), late.rbegin(), late.rend());
    add(along_rim(late.front(), early.front(), first, second));
    if (signed_area(region.outer) < 0.0) std::reverse(region.outer.begin(), region.outer.end());
    return region;
}

}  // namespace tearline::ground
