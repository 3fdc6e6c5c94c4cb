#include "core/plies/tightest_radius.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/packed_lists.h"
#include "core/parallel/crease_sheets.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {
namespace {

constexpr double degree = std::numbers::pi / 180.0;

void offer(std::optional<TightPlace>& tightest, const TightPlace& place) {
    if (!tightest || place.radius < tightest->radius) tightest = place;
}

/// Principal curvatures at depth at each vertex, least and greatest [1/mm].
std::vector<Vec2> curvatures_at_depth(const RegionMesh& region, const LayDepth& depth) {
    std::vector<Vec2> out;
    out.reserve(region.curvature.size());
    for (std::size_t v = 0; v < region.curvature.size(); ++v) {
        const double d = depth(region.chart[v]);
        const auto moved = [d](double k) {
            const double left = 1.0 - d * k;  // zero where the depth reaches the centre
            return k / std::max(left, tolerance::least_radius_share);
        };
        out.emplace_back(moved(region.curvature[v].x()), moved(region.curvature[v].y()));
    }
    return out;
}

/// A third of the base area round each vertex [mm2].
std::vector<double> areas_of(const RegionMesh& region) {
    std::vector<double> out(region.chart.size(), 0.0);
    for (const auto& v : region.mesh.triangle) {
        const Vec3& a = region.mesh.position[v[0]];
        const double third =
            (region.mesh.position[v[1]] - a).cross(region.mesh.position[v[2]] - a).norm() / 6.0;
        for (const std::int32_t i : v) out[i] += third;
    }
    return out;
}

/// The vertices across an edge from each; those inside the region stand there twice.
using Links = PackedLists<VertexId, std::int32_t>;

Links links_of(const RegionMesh& region) {
    return {region.chart.size(), [&](auto&& tell) {
                for (const auto& v : region.mesh.triangle)
                    for (int i = 0; i < 3; ++i) {
                        tell(VertexId(v[i]), v[(i + 1) % 3]);
                        tell(VertexId(v[i]), v[(i + 2) % 3]);
                    }
            }};
}

/// Mean over the vertices that hang together with one inside a disc about it.
class DiscMean {
public:
    DiscMean(const RegionMesh& region, const std::vector<Vec2>& values)
        : region_(region), values_(values), links_(links_of(region)), seen_(values.size(), -1) {}

    Vec2 at(std::int32_t centre) {
        std::vector<std::int32_t> found{centre};
        seen_[centre] = centre;
        Vec2 sum(0, 0);
        for (std::size_t k = 0; k < found.size(); ++k) {
            sum += values_[found[k]];
            for (const std::int32_t w : links_[VertexId(found[k])]) {
                if (seen_[w] == centre) continue;
                const double away = (region_.chart[w] - region_.chart[centre]).norm();
                if (!(away <= 0.5 * tolerance::curvature_disc)) continue;
                seen_[w] = centre;
                found.push_back(w);
            }
        }
        return sum / static_cast<double>(found.size());
    }

    [[nodiscard]] const Links& links() const { return links_; }

private:
    const RegionMesh& region_;
    const std::vector<Vec2>& values_;
    Links links_;
    std::vector<std::int32_t> seen_;
};

/// The vertices about one that bend the same way, at least half as tightly as there.
///
/// @param bend  [1/mm] per vertex, positive the way that counts
std::vector<std::int32_t> bend_about(const Links& links, const std::vector<double>& bend,
                                     std::int32_t tightest) {
    std::vector<std::int32_t> found{tightest};
    std::vector<bool> seen(bend.size(), false);
    seen[tightest] = true;
    for (std::size_t k = 0; k < found.size(); ++k)
        for (const std::int32_t w : links[VertexId(found[k])]) {
            if (seen[w] || !(bend[w] >= 0.5 * bend[tightest])) continue;
            seen[w] = true;
            found.push_back(w);
        }
    return found;
}

/// The place of some vertices farthest from a point, with its distance [mm].
std::pair<std::int32_t, double> farthest(const RegionMesh& region,
                                         const std::vector<std::int32_t>& vertices,
                                         const Vec3& from) {
    std::pair<std::int32_t, double> best{vertices.front(), 0.0};
    for (const std::int32_t v : vertices) {
        const double away = (region.mesh.position[v] - from).norm();
        if (away > best.second) best = {v, away};
    }
    return best;
}

/// Turn and length of the smooth bend about a place.
void measure_bend(TightPlace& place, const RegionMesh& region, const Links& links,
                  const std::vector<double>& at_depth, std::int32_t tightest, bool convex) {
    const auto vertices = bend_about(links, at_depth, tightest);
    const std::vector<double> area = areas_of(region);
    // A bend turns by the same angle at any depth: measured on the base surface.
    double turn_times_length = 0.0;
    for (const std::int32_t v : vertices)
        turn_times_length +=
            area[v] * (convex ? region.curvature[v].y() : -region.curvature[v].x());
    const auto end = farthest(region, vertices, region.mesh.position[tightest]).first;
    place.length = farthest(region, vertices, region.mesh.position[end]).second;
    if (!(place.length > 0.0)) return;
    place.turn = std::clamp(turn_times_length / place.length, 0.0, 170.0 * degree);
}

void add_creases(const RegionMesh& region, const LayDepth& depth, TightestRadii& out) {
    for (const auto& line : parallel::take_apart(region.mesh, region.crease).lines)
        for (const parallel::CreaseVertex& v : line.vertices) {
            if (!(std::abs(v.turn) >= tolerance::slight_crease_degrees * degree)) continue;
            const double d = depth(region.chart[v.vertex.index()]);
            const double radius = d * v.turn < 0.0 ? std::abs(d) : 0.0;
            offer(v.turn > 0.0 ? out.convex : out.concave,
                  {radius, region.mesh.position[v.vertex.index()], std::abs(v.turn),
                   line.vertices.back().along});
        }
}

}  // namespace

double fillet_section(double radius, double turn) {
    return radius * radius * (std::tan(0.5 * turn) - 0.5 * turn);
}

TightestRadii tightest_radii(const RegionMesh& region, const LayDepth& depth) {
    TightestRadii out;
    const auto curvatures = curvatures_at_depth(region, depth);
    DiscMean mean(region, curvatures);
    std::vector<double> out_bend(curvatures.size()), in_bend(curvatures.size());
    for (std::size_t v = 0; v < curvatures.size(); ++v) {
        const Vec2 k = mean.at(static_cast<std::int32_t>(v));
        out_bend[v] = k.y();
        in_bend[v] = -k.x();
    }
    const auto add = [&](std::optional<TightPlace>& kind, const std::vector<double>& bend,
                         bool convex) {
        const auto most = std::max_element(bend.begin(), bend.end());
        if (most == bend.end() || !(*most > tolerance::flat_curvature)) return;
        const auto v = static_cast<std::int32_t>(most - bend.begin());
        kind = TightPlace{1.0 / *most, region.mesh.position[v], 0.0, 0.0};
        measure_bend(*kind, region, mean.links(), bend, v, convex);
    };
    add(out.convex, out_bend, true);
    add(out.concave, in_bend, false);
    add_creases(region, depth, out);
    return out;
}

namespace {

/// Filler by volume: cm3, or fluid ounces.
}  // namespace

Warnings radius_warnings(const TightestRadii& radii, double least_radius, int ply,
                         std::string_view fabric) {
    Warnings out;
    const auto tell = [&](const TightPlace& p, auto cause) {
        cause.tight = {std::string(fabric), p.radius, least_radius};
        out.push_back({.cause = std::move(cause), .ply = ply, .at = p.at});
    };
    if (radii.concave && radii.concave->radius < least_radius) {
        const TightPlace& p = *radii.concave;
        warn::RadiusConcave hollow;
        if (p.turn > 0.0) {
            const double section =
                fillet_section(least_radius, p.turn) - fillet_section(p.radius, p.turn);
            hollow.fillet = {section * p.length, p.length};
        }
        tell(p, hollow);
    }
    if (radii.convex && radii.convex->radius < least_radius) {
        const TightPlace& p = *radii.convex;
        const double eased = least_radius - p.radius;
        warn::RadiusConvex edge;
        edge.off = eased * (1.0 / std::cos(0.5 * p.turn) - 1.0);
        if (p.turn > 0.0) edge.starts = eased * std::tan(0.5 * p.turn);
        tell(p, edge);
    }
    return out;
}

}  // namespace tearline::plies
