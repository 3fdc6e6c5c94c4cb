#include "core/patch/repair_region.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/surface/closed_spline.h"
#include "core/surface/fast_marching.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

std::vector<Vec3> without_repeats(const std::vector<Vec3>& seeds) {
    std::vector<Vec3> points;
    for (const Vec3& p : seeds)
        if (points.empty() || !(p == points.back())) points.push_back(p);
    while (points.size() > 1 && points.back() == points.front()) points.pop_back();
    return points;
}

/// The smooth and the straight join between the seeds, and the fan they span.
void add_outline_points(const std::vector<Vec3>& seeds, const Vec3& centre,
                        std::vector<Vec3>& points) {
    constexpr int along = 16;  // samples from one seed to the next
    constexpr int inward = 6;  // rings from the outline to the centre
    const surface::ClosedSpline spline(seeds);
    for (std::size_t i = 0; i < seeds.size(); ++i)
        for (int k = 0; k < along; ++k) {
            const double s = static_cast<double>(k) / along;
            const Vec3 smooth = spline.at(i, s);
            const Vec3 straight = (1.0 - s) * seeds[i] + s * seeds[(i + 1) % seeds.size()];
            points.push_back(straight);
            for (int ring = 0; ring < inward; ++ring)
                points.push_back(smooth + (centre - smooth) * ring / inward);
        }
}

}  // namespace

RepairRegion repair_region(const PatchRequest& request) {
    RepairRegion region;
    const std::vector<Vec3> seeds = without_repeats(request.seeds);
    for (const Vec3& p : seeds) region.centre += p / static_cast<double>(seeds.size());
    if (seeds.size() >= 3)
        add_outline_points(seeds, region.centre, region.points);
    else
        region.points = seeds;
    region.reach = request.damage_radius + request.reach;
    region.disc = request.damage_radius;
    for (const Vec3& p : region.points)
        region.radius = std::max(region.radius, (p - region.centre).norm());
    region.radius += region.reach;
    return region;
}

std::vector<double> distance_from(const RepairRegion& region, const surface::SurfaceMesh& mesh,
                                  double limit) {
    const surface::BoxTree tree = surface::build_box_tree(mesh.position, mesh.triangle);
    std::vector<surface::KnownDistance> known;
    for (const Vec3& p : region.points) {
        const surface::NearestTriangle found =
            surface::nearest_triangle(tree, mesh.position, mesh.triangle, p);
        const auto& t = mesh.triangle[found.triangle.index()];
        const Vec3 foot = found.weights[0] * mesh.position[t[0]] +
                          found.weights[1] * mesh.position[t[1]] +
                          found.weights[2] * mesh.position[t[2]];
        for (const std::int32_t v : t) known.push_back({v, (mesh.position[v] - foot).norm()});
    }
    // A disc passes an opening as if the hull went on there: what lies behind it is no farther off.
    if (region.disc > 0.0)
        for (const auto& loop : surface::boundary_loops(mesh)) {
            const auto from_centre = [&](std::int32_t v) {
                return (mesh.position[static_cast<std::size_t>(v)] - region.centre).norm();
            };
            if (std::all_of(loop.begin(), loop.end(),
                            [&](std::int32_t v) { return from_centre(v) < region.disc; }))
                for (const std::int32_t v : loop) known.push_back({v, from_centre(v)});
        }
    return surface::march_distance(mesh, known, limit);
}

}  // namespace tearline::patch
