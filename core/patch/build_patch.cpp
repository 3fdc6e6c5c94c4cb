#include "core/patch/build_patch.h"

#include <algorithm>
#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/patch/assemble_patch.h"
#include "core/patch/crop_hull.h"
#include "core/patch/cut_at_told_end.h"
#include "core/patch/repair_region.h"
#include "core/patch/rough_scan.h"
#include "core/patch/shorten_facets.h"
#include "core/patch/skin.h"
#include "core/patch/wavy_scan.h"
#include "core/remesh/remesh.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

/// The key of the job file that a seed stands in.
std::string seed_name(const PatchRequest& request, std::size_t seed) {
    if (request.seeds.size() == 1) return request.seed_key;
    return request.seed_key + "[" + std::to_string(seed + 1) + "]";
}

/// Whether a place of a triangle lies on the hull's own end.
bool is_on_hull_end(const remesh::RemeshTriangle& triangle, const Vec3& weights) {
    for (int i = 0; i < 3; ++i)
        if (!triangle.neighbour[i].valid() && triangle.kept[i].hull_end &&
            weights[(i + 2) % 3] <= tolerance::barycentric_slack)
            return true;
    return false;
}

Vec3 place_on(const surface::SurfaceMesh& mesh, const surface::NearestTriangle& found) {
    const auto& corners = mesh.triangle[found.triangle.index()];
    Vec3 place = Vec3::Zero();
    for (std::size_t i = 0; i < 3; ++i)
        place += found.weights[static_cast<int>(i)] *
                 mesh.position[static_cast<std::size_t>(corners[i])];
    return place;
}

/// Keeps the part of the mesh that the first seed lies on; refuses seeds off it.
Result<void> keep_seeded_part(CroppedHull& cropped, const PatchRequest& request) {
    if (cropped.mesh.triangle.empty())
        return bad_input(seed_name(request, 0),
                         "the hull is nowhere near " + place_text(request.seeds.front()) +
                             " mm; points must lie within " + fixed(tolerance::outline_reach, 0) +
                             " mm of it: check the point and the model's unit",
                         request.seeds.front());
    surface::SurfaceMesh plain = plain_mesh(cropped.mesh);
    surface::BoxTree tree = surface::build_box_tree(plain.position, plain.triangle);
    const std::size_t before = cropped.mesh.triangle.size();
    keep_component(cropped.mesh, surface::nearest_triangle(tree, plain.position, plain.triangle,
                                                           request.seeds.front())
                                     .triangle);
    if (cropped.mesh.triangle.size() != before) {
        plain = plain_mesh(cropped.mesh);
        tree = surface::build_box_tree(plain.position, plain.triangle);
    }
    for (std::size_t i = 0; i < request.seeds.size(); ++i) {
        const Vec3& seed = request.seeds[i];
        const surface::NearestTriangle found =
            surface::nearest_triangle(tree, plain.position, plain.triangle, seed);
        const remesh::RemeshTriangle& t = cropped.mesh.triangle[found.triangle];
        const surface::Carried carried =
            cropped.carrier->carry(cropped.carrier->between(t.anchor, found.weights), seed);
        // The middle of a disc may lie in an opening, as far from its edge as that is wide.
        if (request.damage_radius > found.distance && is_on_hull_end(t, found.weights)) continue;
        const double off = std::min(found.distance, (seed - carried.position).norm());
        if (!(off <= tolerance::outline_reach + request.skin)) {
            // Far off, the surface's own equations go on where the hull has ended.
            const Vec3 facet = place_on(plain, found);
            const bool strays = !((carried.position - facet).norm() <= tolerance::outline_reach);
            return bad_input(seed_name(request, i),
                             place_text(seed) + " mm lies " +
                                 fixed(strays ? found.distance : off, 1) +
                                 " mm off the hull; points must lie within " +
                                 fixed(tolerance::outline_reach, 0) +
                                 " mm of it, and the nearest place of the hull is " +
                                 place_text(strays ? facet : carried.position) + " mm",
                             seed);
        }
    }
    return {};
}

/// What noise leaves of a scan is no surface to lay cloth on, and no curvature to measure.
Result<void> refuse_scan(const remesh::RemeshMesh& mesh, const Vec3& damage,
                         const std::string& what_to_do) {
    const auto refused = [&](const std::string& why, const Vec3& at) {
        return bad_input(
            "hull.model",
            "this looks like a scan: " + why + " near " + place_text(at) + " mm; " + what_to_do,
            at);
    };
    if (const auto rough = find_rough_scan(mesh, damage))
        return refused("half of its facets turn by over " + fixed(rough->turn, 1) +
                           " degrees from one to the next, some by " + fixed(rough->most, 0) +
                           ", up and down,",
                       rough->at);
    if (const auto wavy = find_wavy_scan(mesh, damage))
        return refused("it waves up and down by " + fixed(wavy->height, 2) +
                           " mm about smooth surfaces of " + fixed(2.0 * wavy->window, 0) +
                           " mm, all over,",
                       wavy->at);
    return {};
}

/// Removes what lies farther than `limit` from the damage, except enclosed islands.
void crop_by_distance(remesh::RemeshMesh& mesh, const RepairRegion& region, double limit) {
    const surface::SurfaceMesh plain = plain_mesh(mesh);
    const std::vector<double> distance = distance_from(region, plain, limit);
    PerId<TriangleId, bool> remove(mesh.triangle.size());
    TriangleId near(0);
    double nearest = std::numeric_limits<double>::infinity();
    for (const TriangleId t : mesh.triangle.ids()) {
        double least = std::numeric_limits<double>::infinity();
        for (const VertexId v : mesh.triangle[t].vertex)
            least = std::min(least, distance[v.index()]);
        remove[t] = !(least <= limit);
        if (least < nearest) {
            nearest = least;
            near = t;
        }
    }
    // An island that the removed part would leave as a hole, though the hull goes on there: kept.
    PerId<TriangleId, bool> seen(mesh.triangle.size(), false);
    std::vector<TriangleId> stack, island;
    for (const TriangleId start : mesh.triangle.ids()) {
        if (!remove[start] || seen[start]) continue;
        island.clear();
        stack.assign(1, start);
        seen[start] = true;
        bool outer = false;
        while (!stack.empty()) {
            const TriangleId t = stack.back();
            stack.pop_back();
            island.push_back(t);
            for (int i = 0; i < 3; ++i) {
                const TriangleId n = mesh.triangle[t].neighbour[i];
                if (!n.valid())
                    outer = true;
                else if (remove[n] && !seen[n]) {
                    seen[n] = true;
                    stack.push_back(n);
                }
            }
        }
        if (!outer)
            for (const TriangleId t : island) remove[t] = false;
    }
    const auto gone_before = std::count(remove.begin(), remove.begin() + near.value, true);
    remove_triangles(mesh, remove);
    keep_component(mesh, TriangleId(near.index() - static_cast<std::size_t>(gone_before)));
}

Vec3 middle_of(const std::vector<Vec3>& points) {
    Vec3 sum = Vec3::Zero();
    for (const Vec3& p : points) sum += p;
    return sum / static_cast<double>(points.size());
}

double area_of(const remesh::RemeshMesh& mesh) {
    double twice = 0.0;
    for (const TriangleId t : mesh.triangle.ids()) twice += mesh.area_vector(t).norm();
    return 0.5 * twice;
}

}  // namespace

PatchRequest patch_request(const job::Job& job, double reach) {
    PatchRequest request;
    request.reach = reach;
    if (job.damage.centre) {
        request.seeds = {*job.damage.centre};
        request.seed_key = "damage.centre";
        request.damage_radius = job.damage.radius.value_or(
            0.5 * std::max(job.damage.length.value_or(0.0), job.damage.height.value_or(0.0)));
    } else {
        request.seeds = job.damage.outline;
    }
    request.end = job.damage.end;
    request.exact = job.hull.exact;
    request.narrow_bends = job.hull.by_hand();  // a corner may turn within 20 mm
    request.model_surface = job.hull.surface;
    request.laid_from = job.damage.side;
    request.skin = job.hull.skin.value_or(0.0);
    request.below = job.part.below;
    return request;
}

namespace {

/// How far the base surface lies inside the model's face [mm].
double inward_move(const PatchRequest& request) {
    const double model = request.model_surface == job::Side::outside ? 0.0 : request.skin;
    const double base =
        request.laid_from == job::Side::outside ? request.below : request.skin - request.below;
    return base - model;
}

/// How short edges may become where the surface turns [mm]: in a bend of a few millimetres shorter
/// than elsewhere, but no more of them than a bend all across the patch can be meshed with.
double least_edge(const PatchRequest& request, double edge, double across) {
    constexpr double usual = 8.0, in_bends = 32.0, most_along = 4000.0;  // [-]
    if (!request.narrow_bends) return edge / usual;
    return std::max(edge / in_bends, std::min(edge / usual, across / most_along));
}

}  // namespace

Result<surface::Patch> build_patch(const hull::Hull& hull, const PatchRequest& request) {
    if (request.seeds.empty()) return bad_input("damage", "no point says where it is");
    const RepairRegion region = repair_region(request);
    // Where a crease leaves the mesh, a move by the skin frays the rim: it is cut off afterwards.
    const double inward = inward_move(request);
    const bool moves = inward != 0.0;
    const double spare = 2.0 * std::abs(inward);
    constexpr double slack = 1.1;  // marching over coarse triangles is a few per cent long
    const double ball = slack * (region.radius + spare) + tolerance::outline_reach;
    CroppedHull cropped = crop_hull(hull, region.centre, ball);
    if (const auto kept = keep_seeded_part(cropped, request); !kept)
        return tl::unexpected(kept.error());

    if (!hull.cad && !request.exact) {
        if (const auto fair = refuse_scan(cropped.mesh, region.centre, request.if_scan); !fair)
            return tl::unexpected(fair.error());
    }

    shorten_facets(cropped, region.centre, ball, request.seeds.front());
    // First coarse triangles, to measure how far things are; then fine ones where they are needed.
    remesh::RemeshOptions coarse;
    coarse.edge = region.radius / 10.0;
    coarse.least_edge = coarse.edge / (request.narrow_bends ? 8.0 : 2.0);
    coarse.turn = 0.5;
    remesh::remesh(cropped.mesh, *cropped.carrier, coarse);
    crop_by_distance(cropped.mesh, region, slack * (region.reach + spare) + coarse.edge);

    remesh::RemeshOptions fine;
    const double per_triangle = area_of(cropped.mesh) / static_cast<double>(request.triangles);
    fine.edge = std::sqrt(4.0 / std::sqrt(3.0) * per_triangle);
    fine.least_edge = least_edge(request, fine.edge, 2.0 * region.radius);
    remesh::remesh(cropped.mesh, *cropped.carrier, fine);
    const double limit = request.reach + request.damage_radius + fine.edge;
    const double farther = limit + (moves ? spare + 4.0 * fine.edge : 0.0);
    crop_by_distance(cropped.mesh, region, farther);
    if (!request.end.empty()) {
        cut_at_told_end(cropped, ToldEnd(request.end), middle_of(request.seeds));
        remesh::remesh(cropped.mesh, *cropped.carrier, fine);
        crop_by_distance(cropped.mesh, region, farther);
    }

    if (moves) {
        const double outward = inward > 0.0 ? -1.0 : 1.0;
        if (const auto moved = move_by_skin(cropped, outward, std::abs(inward)); !moved)
            return tl::unexpected(moved.error());
        crop_by_distance(cropped.mesh, region, limit);
    }
    auto patch = assemble_patch(cropped, request.laid_from == job::Side::outside ? 1.0 : -1.0,
                                request.not_flat, request.round ? &region : nullptr);
    if (patch) patch->ends_with_figures = hull.by_hand.has_value() && request.end.empty();
    return patch;
}

}  // namespace tearline::patch
