#include "core/patch/unroll_tube.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <queue>
#include <set>
#include <utility>

#include "core/surface/fast_marching.h"
#include "core/surface/intrinsic.h"
#include "core/surface/mesh_parts.h"
#include "core/surface/patch_index.h"
#include "core/surface/tutte_chart.h"

namespace tearline::patch {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr int sheets = 3;  ///< copies of the tube side by side, the damage on the middle one
/// [mm] the chart goes on so far beyond the outermost joint to either side.
constexpr double spare = 30.0;

using Loops = std::vector<std::vector<std::int32_t>>;

/// Whether a mesh is a band with two rims.
bool is_band(const surface::SurfaceMesh& mesh, const Loops& rims) {
    if (rims.size() != 2) return false;
    std::size_t rim_edges = 0;
    for (const auto& rim : rims) rim_edges += rim.size();
    const std::size_t faces = mesh.triangle.size();
    const std::size_t edges = (3 * faces + rim_edges) / 2;
    return mesh.position.size() + faces == edges;
}

/// A way over vertices from one rim to the other that keeps far from the damage.
std::vector<std::int32_t> cut_across(const surface::SurfaceMesh& mesh, const Loops& rims,
                                     const std::vector<double>& from_damage) {
    const std::size_t n = mesh.position.size();
    std::vector<std::vector<std::pair<std::int32_t, double>>> links(n);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i) {
            const std::int32_t a = mesh.triangle[t][i], b = mesh.triangle[t][(i + 1) % 3];
            const double near = 1.0 + std::min(from_damage[a], from_damage[b]);
            const double cost = mesh.edge_length[t][i] / (near * near);
            links[a].emplace_back(b, cost);
            links[b].emplace_back(a, cost);
        }
    std::vector<double> cost(n, infinity);
    std::vector<std::int32_t> before(n, -1);
    std::vector<bool> arrived(n, false);
    for (const std::int32_t v : rims[1]) arrived[v] = true;
    using Entry = std::pair<double, std::int32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    for (const std::int32_t v : rims[0]) {
        cost[v] = 0.0;
        open.emplace(0.0, v);
    }
    while (!open.empty()) {
        const auto [here, v] = open.top();
        open.pop();
        if (here > cost[v]) continue;
        if (arrived[v]) {
            std::vector<std::int32_t> way;
            for (std::int32_t at = v; at >= 0; at = before[at]) way.push_back(at);
            return way;
        }
        for (const auto& [next, step] : links[v]) {
            if (!(here + step < cost[next])) continue;
            cost[next] = here + step;
            before[next] = v;
            open.emplace(cost[next], next);
        }
    }
    return {};
}

/// How many turns it is on from a triangle over each of its edges: 0 but across the cut.
std::vector<std::array<int, 3>> turns_over(const surface::SurfaceMesh& mesh,
                                           const std::vector<std::array<std::int32_t, 3>>& across,
                                           const std::vector<std::int32_t>& cut) {
    std::vector<std::array<int, 3>> turns(mesh.triangle.size(), {0, 0, 0});
    for (std::size_t k = 0; k + 1 < cut.size(); ++k)
        for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t a = mesh.triangle[t][i], b = mesh.triangle[t][(i + 1) % 3];
                if (across[t][i] < 0) continue;
                if (a == cut[k] && b == cut[k + 1]) turns[t][i] = 1;
                if (b == cut[k] && a == cut[k + 1]) turns[t][i] = -1;
            }
    return turns;
}

/// Corners that are one vertex.
class Joined {
public:
    explicit Joined(std::size_t count) : of_(count) { std::iota(of_.begin(), of_.end(), 0); }
    std::size_t root(std::size_t i) {
        while (of_[i] != i) i = of_[i] = of_[of_[i]];
        return i;
    }
    void join(std::size_t a, std::size_t b) { of_[root(a)] = root(b); }

private:
    std::vector<std::size_t> of_;
};

/// All copies of a tube side by side.
class Sheets {
public:
    Sheets(const surface::SurfaceMesh& mesh, const std::vector<std::int32_t>& cut)
        : tube_(mesh), count_(mesh.triangle.size()), across_(surface::neighbours(mesh)) {
        const auto& across = across_;
        const auto turns = turns_over(mesh, across, cut);
        Joined corners(3 * sheets * count_);
        for (int s = 0; s < sheets; ++s)
            for (std::size_t t = 0; t < count_; ++t)
                for (int i = 0; i < 3; ++i) {
                    const std::int32_t n = across[t][i];
                    const int there = s + turns[t][i];
                    if (n < 0 || there < 0 || there >= sheets) continue;
                    int k = 0;
                    while (mesh.triangle[n][k] != mesh.triangle[t][(i + 1) % 3]) ++k;
                    const auto other = static_cast<std::size_t>(n);
                    corners.join(corner(t, s, i), corner(other, there, (k + 1) % 3));
                    corners.join(corner(t, s, (i + 1) % 3), corner(other, there, k));
                }
        number(corners);
    }

    [[nodiscard]] const surface::SurfaceMesh& mesh() const { return rolled_; }
    [[nodiscard]] std::int32_t vertex(std::size_t triangle, int sheet, int i) const {
        return rolled_.triangle[triangle + static_cast<std::size_t>(sheet) * count_][i];
    }

    /// The triangles to keep, as a mesh of their own.
    [[nodiscard]] UnrolledTube kept(const std::vector<bool>& keep) const {
        UnrolledTube out;
        std::vector<std::int32_t> number(rolled_.position.size(), -1);
        for (std::size_t t = 0; t < rolled_.triangle.size(); ++t) {
            if (!keep[t]) continue;
            std::array<std::int32_t, 3> v{};
            for (std::size_t i = 0; i < 3; ++i) {
                std::int32_t& at = number[rolled_.triangle[t][i]];
                if (at < 0) {
                    at = static_cast<std::int32_t>(out.mesh.position.size());
                    out.mesh.position.push_back(rolled_.position[rolled_.triangle[t][i]]);
                }
                v[i] = at;
            }
            out.mesh.triangle.push_back(v);
            out.mesh.edge_length.push_back(rolled_.edge_length[t]);
            out.mesh.corner_normal.push_back(rolled_.corner_normal[t]);
            out.source.push_back(static_cast<std::int32_t>(t % count_));
            const auto& beyond = across_[t % count_];
            out.on_rim.push_back({beyond[0] < 0, beyond[1] < 0, beyond[2] < 0});
            out.turn.push_back(static_cast<int>(t / count_) - sheets / 2);
        }
        return out;
    }

private:
    [[nodiscard]] std::size_t corner(std::size_t triangle, int sheet, int i) const {
        return 3 * (triangle + static_cast<std::size_t>(sheet) * count_) +
               static_cast<std::size_t>(i);
    }

    void number(Joined& corners) {
        std::vector<std::int32_t> number(3 * sheets * count_, -1);
        for (int s = 0; s < sheets; ++s)
            for (std::size_t t = 0; t < count_; ++t) {
                std::array<std::int32_t, 3> v{};
                for (int i = 0; i < 3; ++i) {
                    std::int32_t& at = number[corners.root(corner(t, s, i))];
                    if (at < 0) {
                        at = static_cast<std::int32_t>(rolled_.position.size());
                        rolled_.position.push_back(tube_.position[tube_.triangle[t][i]]);
                    }
                    v[i] = at;
                }
                rolled_.triangle.push_back(v);
                rolled_.edge_length.push_back(tube_.edge_length[t]);
                rolled_.corner_normal.push_back(tube_.corner_normal[t]);
            }
    }

    const surface::SurfaceMesh& tube_;
    std::size_t count_;
    std::vector<std::array<std::int32_t, 3>> across_;
    surface::SurfaceMesh rolled_;
};

/// A corner of the tube's mesh near a point of the damage.
struct NearDamage {
    std::size_t triangle = 0;
    int corner = 0;
    double distance = 0.0;  ///< [mm]
};

std::vector<NearDamage> near_damage(const RepairRegion& region, const surface::SurfaceMesh& mesh) {
    const surface::BoxTree tree = surface::build_box_tree(mesh.position, mesh.triangle);
    std::vector<NearDamage> out;
    for (const Vec3& p : region.points) {
        const auto found = surface::nearest_triangle(tree, mesh.position, mesh.triangle, p);
        const std::size_t t = found.triangle.index();
        Vec3 foot = Vec3::Zero();
        for (int i = 0; i < 3; ++i) foot += found.weights[i] * mesh.position[mesh.triangle[t][i]];
        for (int i = 0; i < 3; ++i)
            out.push_back({t, i, (mesh.position[mesh.triangle[t][i]] - foot).norm()});
    }
    return out;
}

double surface_area(const surface::SurfaceMesh& mesh) {
    double twice = 0.0;
    for (const auto& [a, b, c] : mesh.triangle)
        twice += (mesh.position[b] - mesh.position[a])
                     .cross(mesh.position[c] - mesh.position[a])
                     .norm();
    return 0.5 * twice;
}

/// The rim of what is rolled out: along one rim of the tube, up one end, back along the other rim
/// and down the other end.
struct Strip {
    std::vector<std::int32_t> rim;
    std::array<std::size_t, 4> corner{};  ///< places in `rim` where those runs begin, the first 0
};

/// @return  nothing where the rim has other runs than those
std::optional<Strip> strip_of(const UnrolledTube& unrolled) {
    const surface::SurfaceMesh& mesh = unrolled.mesh;
    const Loops loops = surface::boundary_loops(mesh);
    if (loops.size() != 1) return std::nullopt;
    std::set<std::pair<std::int32_t, std::int32_t>> on_rim;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i)
            if (unrolled.on_rim[t][i])
                on_rim.insert(std::minmax(mesh.triangle[t][i], mesh.triangle[t][(i + 1) % 3]));
    Strip strip{loops.front(), {}};
    const std::size_t n = strip.rim.size();
    const auto is_own = [&](std::size_t k) {
        return on_rim.contains(std::minmax(strip.rim[k % n], strip.rim[(k + 1) % n]));
    };
    std::size_t first = 0;
    while (first < n && !(is_own(first) && !is_own(first + n - 1))) ++first;
    if (first == n) return std::nullopt;
    std::rotate(strip.rim.begin(), strip.rim.begin() + static_cast<std::ptrdiff_t>(first),
                strip.rim.end());
    std::size_t runs = 1;
    for (std::size_t k = 1; k < n; ++k) {
        if (is_own(k) == is_own(k - 1)) continue;
        if (runs == 4) return std::nullopt;
        strip.corner[runs++] = k;
    }
    if (runs != 4) return std::nullopt;
    return strip;
}

}  // namespace

std::vector<Vec2> rolled_strip(const UnrolledTube& unrolled) {
    const surface::SurfaceMesh& mesh = unrolled.mesh;
    const auto strip = strip_of(unrolled);
    if (!strip) return {};
    const auto& rim = strip->rim;
    const auto step = [&](std::size_t k) {
        return (mesh.position[rim[(k + 1) % rim.size()]] - mesh.position[rim[k]]).norm();
    };
    std::array<double, 4> length{};
    for (std::size_t side = 0; side < 4; ++side) {
        const std::size_t end = side < 3 ? strip->corner[side + 1] : rim.size();
        for (std::size_t k = strip->corner[side]; k < end; ++k) length[side] += step(k);
    }
    const double wide = 0.5 * (length[0] + length[2]);
    const double high = surface_area(mesh) / wide;
    const std::array<Vec2, 4> corner{Vec2(0, 0), Vec2(wide, 0), Vec2(wide, high), Vec2(0, high)};
    constexpr double bulge = 0.02;  // [-] of a side: no three places lie on one line
    std::vector<Vec2> places;
    for (std::size_t side = 0; side < 4; ++side) {
        const Vec2 way = corner[(side + 1) % 4] - corner[side];
        const std::size_t end = side < 3 ? strip->corner[side + 1] : rim.size();
        double along = 0.0;
        for (std::size_t k = strip->corner[side]; k < end; ++k) {
            const double share = along / length[side];
            places.emplace_back(corner[side] + share * way -
                                4.0 * bulge * share * (1.0 - share) * turned_left(way));
            along += step(k);
        }
    }
    return surface::tutte_chart(mesh, rim, places);
}

double joints_apart(double girth) {
    return std::max(0.25 * girth, least_joints_apart);
}

std::vector<Vec2> rolled_flat(const surface::SurfaceMesh& mesh) {
    const auto across = surface::neighbours(mesh);
    std::vector<Vec2> chart(mesh.position.size(), Vec2::Zero());
    std::vector<bool> placed(mesh.position.size(), false), seen(mesh.triangle.size(), false);
    const surface::FlatTriangle first = surface::lay_flat(mesh.edge_length[0]);
    for (std::size_t i = 0; i < 3; ++i) {
        chart[mesh.triangle[0][i]] = first[i];
        placed[mesh.triangle[0][i]] = true;
    }
    // Nearest first, so that ways are short and their errors small.
    using Entry = std::pair<double, std::size_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    open.emplace(0.0, 0);
    seen[0] = true;
    while (!open.empty()) {
        const std::size_t t = open.top().second;
        open.pop();
        for (std::size_t i = 0; i < 3; ++i) {
            const std::int32_t next = across[t][i];
            if (next < 0 || seen[static_cast<std::size_t>(next)]) continue;
            const auto n = static_cast<std::size_t>(next);
            seen[n] = true;
            std::size_t k = 0;
            while (mesh.triangle[n][k] != mesh.triangle[t][(i + 1) % 3]) ++k;
            const surface::FlatTriangle flat = surface::lay_flat(mesh.edge_length[n]);
            const Vec2& a = chart[mesh.triangle[n][k]];
            const Vec2& b = chart[mesh.triangle[n][(k + 1) % 3]];
            const std::int32_t far = mesh.triangle[n][(k + 2) % 3];
            const Vec2 own = (flat[(k + 1) % 3] - flat[k]).normalized();
            const Vec2 arm = flat[(k + 2) % 3] - flat[k], way = (b - a).normalized();
            if (!placed[far])
                chart[far] = a + own.dot(arm) * way + cross2(own, arm) * turned_left(way);
            placed[far] = true;
            open.emplace(chart[far].norm(), n);
        }
    }
    return chart;
}

std::optional<UnrolledTube> unroll_tube(const surface::SurfaceMesh& mesh,
                                        const RepairRegion& region) {
    const Loops rims = surface::boundary_loops(mesh);
    if (!is_band(mesh, rims)) return std::nullopt;
    const auto cut = cut_across(mesh, rims, distance_from(region, mesh, infinity));
    if (cut.size() < 2) return std::nullopt;
    const Sheets rolled(mesh, cut);
    const std::vector<NearDamage> damage = near_damage(region, mesh);
    const auto distance = [&](int sheet, std::size_t first, std::size_t last) {
        std::vector<surface::KnownDistance> known;
        for (std::size_t k = first; k < last; ++k)
            known.push_back(
                {rolled.vertex(damage[k].triangle, sheet, damage[k].corner), damage[k].distance});
        return surface::march_distance(rolled.mesh(), known);
    };
    const double girth = distance(1, 0, 1)[rolled.vertex(damage[0].triangle, 2, damage[0].corner)];
    const auto own = distance(1, 0, damage.size());
    const auto before = distance(0, 0, damage.size()), after = distance(2, 0, damage.size());
    const double apart = joints_apart(girth);
    if (!(girth > 2.0 * apart)) return std::nullopt;  // no room for damage and joints
    std::vector<bool> keep;
    for (const auto& triangle : rolled.mesh().triangle)
        keep.push_back(std::any_of(triangle.begin(), triangle.end(), [&](std::int32_t v) {
            return own[v] - std::min(before[v], after[v]) <= apart + 2.0 * spare;
        }));
    UnrolledTube out = rolled.kept(keep);
    surface::part_pinched_vertices(out.mesh);
    return out;
}

}  // namespace tearline::patch
