#include "core/plies/tightest_radius.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/surface/crease_sheets.h"

namespace tearline::plies {
namespace {

constexpr double degree = std::numbers::pi / 180.0;

std::string place(const Vec3& p) {
    return "(" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + ") mm";
}

void offer(std::optional<TightPlace>& tightest, const TightPlace& place) {
    if (!tightest || place.radius < tightest->radius) tightest = place;
}

/// Principal curvatures at depth at each vertex, least and greatest [1/mm].
std::vector<Vec2> curvatures_at_depth(const RegionMesh& region, const DepthField& depth) {
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

std::vector<std::vector<std::int32_t>> links_of(const RegionMesh& region) {
    std::vector<std::vector<std::int32_t>> links(region.chart.size());
    for (const auto& v : region.mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            links[v[i]].push_back(v[(i + 1) % 3]);
            links[v[i]].push_back(v[(i + 2) % 3]);
        }
    return links;
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
            for (const std::int32_t w : links_[found[k]]) {
                const double away = (region_.chart[w] - region_.chart[centre]).norm();
                if (seen_[w] == centre || !(away <= 0.5 * tolerance::curvature_disc)) continue;
                seen_[w] = centre;
                found.push_back(w);
            }
        }
        return sum / static_cast<double>(found.size());
    }

private:
    const RegionMesh& region_;
    const std::vector<Vec2>& values_;
    std::vector<std::vector<std::int32_t>> links_;
    std::vector<std::int32_t> seen_;
};

void add_creases(const RegionMesh& region, const DepthField& depth, TightestRadii& out) {
    for (const auto& line : surface::take_apart(region.mesh, region.crease).lines)
        for (const surface::CreaseVertex& v : line.vertices) {
            if (!(std::abs(v.turn) >= tolerance::slight_crease_degrees * degree)) continue;
            const double d = depth(region.chart[v.vertex]);
            const double radius = d * v.turn < 0.0 ? std::abs(d) : 0.0;
            offer(v.turn > 0.0 ? out.convex : out.concave,
                  {radius, region.mesh.position[v.vertex], std::abs(v.turn),
                   line.vertices.back().along});
        }
}

}  // namespace

double fillet_section(double radius, double turn) {
    return radius * radius * (std::tan(0.5 * turn) - 0.5 * turn);
}

TightestRadii tightest_radii(const RegionMesh& region, const DepthField& depth) {
    TightestRadii out;
    const auto curvatures = curvatures_at_depth(region, depth);
    DiscMean mean(region, curvatures);
    for (std::size_t v = 0; v < curvatures.size(); ++v) {
        const Vec2 k = mean.at(static_cast<std::int32_t>(v));
        const Vec3& at = region.mesh.position[v];
        if (k.y() > tolerance::flat_curvature) offer(out.convex, {1.0 / k.y(), at, 0.0, 0.0});
        if (k.x() < -tolerance::flat_curvature) offer(out.concave, {-1.0 / k.x(), at, 0.0, 0.0});
    }
    add_creases(region, depth, out);
    return out;
}

Warnings radius_warnings(const TightestRadii& radii, double least_radius, int ply,
                         std::string_view fabric) {
    Warnings out;
    const auto radius_text = [&](const TightPlace& p, const char* kind) {
        return "ply " + std::to_string(ply) + " (" + std::string(fabric) + ") lies in a " + kind +
               " radius of " + fixed(p.radius, 1) + " mm near " + place(p.at) +
               ", its fabric needs " + fixed(least_radius, 1) + " mm: ";
    };
    if (radii.concave && radii.concave->radius < least_radius) {
        const TightPlace& p = *radii.concave;
        std::string cure =
            "fill the corner to a fillet of radius " + fixed(least_radius, 1) + " mm";
        if (p.turn > 0.0) {
            const double section =
                fillet_section(least_radius, p.turn) - fillet_section(p.radius, p.turn);
            cure += ", " + fixed(section * p.length / 1000.0, 1) + " cm3 of filler along " +
                    fixed(p.length, 0) + " mm";
        }
        out.push_back({"radius-concave", radius_text(p, "concave") + cure, ply, {}, p.at});
    }
    if (radii.convex && radii.convex->radius < least_radius) {
        const TightPlace& p = *radii.convex;
        std::string cure = "ease the edge to a radius of " + fixed(least_radius, 1) + " mm";
        if (p.turn > 0.0)
            cure += ", which takes off " +
                    fixed((least_radius - p.radius) * (1.0 / std::cos(0.5 * p.turn) - 1.0), 1) +
                    " mm at the edge and starts " +
                    fixed((least_radius - p.radius) * std::tan(0.5 * p.turn), 1) +
                    " mm to either side of it";
        out.push_back({"radius-convex", radius_text(p, "convex") + cure, ply, {}, p.at});
    }
    return out;
}

}  // namespace tearline::plies
