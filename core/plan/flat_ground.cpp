#include "core/plan/flat_ground.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "core/base/tolerances.h"
#include "core/patch/build_patch.h"
#include "core/plies/net_region.h"
#include "core/surface/fast_marching.h"

namespace tearline::plan {
namespace {

/// The longest way from a vertex over the triangles of a hull [mm]; infinite where it is in parts.
double farthest(const hull::Hull& hull, std::int32_t from) {
    surface::SurfaceMesh mesh;
    mesh.position = hull.vertices;
    mesh.triangle = hull.triangles;
    for (const auto& t : hull.triangles) {
        std::array<double, 3> lengths{};
        for (std::size_t i = 0; i < 3; ++i)
            lengths[i] = (hull.vertices[static_cast<std::size_t>(t[(i + 1) % 3])] -
                          hull.vertices[static_cast<std::size_t>(t[i])])
                             .norm();
        mesh.edge_length.push_back(lengths);
    }
    const auto distance = surface::march_distance(mesh, {{from, 0.0}});
    return *std::max_element(distance.begin(), distance.end());
}

patch::PatchRequest request_of(const FlatJob& asked, bool has_faces) {
    patch::PatchRequest request;
    request.exact = asked.exact;
    request.if_scan =
        "what is laid flat has to be smooth: fit a surface through it first, or say --exact if the "
        "mesh is no scan";
    request.not_flat = {"the model", other_piece(has_faces), ""};
    request.laid_from = asked.side;
    request.seed_key = "--outline";
    request.model_surface = asked.side;  // the model as it is, whichever side it is seen from
    return request;
}

/// The edge of all of a patch.
damage::DamageOutline edge_of(const surface::Patch& patch, const Region2& region) {
    damage::DamageOutline edge;
    edge.chart = region.outer;
    for (const Vec2& p : region.outer) {
        damage::OutlinePoint point;
        point.position = place_over(patch, p);
        point.at = patch.nearest(point.position).at;
        edge.points.push_back(point);
    }
    return edge;
}

Result<FlatGround> all_of(const hull::Hull& hull, const FlatJob& asked) {
    if (hull.report.closed)
        return no_safe_answer(
            "the model is closed, and no closed surface lies flat in one piece: name a face "
            "(--face 1 to " +
            std::to_string(std::max(hull.report.faces, 1)) + ") or a piece of it (--outline)");
    const Vec3 middle = 0.5 * (hull.report.extent_min + hull.report.extent_max);
    const auto nearest = std::min_element(
        hull.triangles.begin(), hull.triangles.end(), [&](const auto& a, const auto& b) {
            const auto away = [&](const auto& t) {
                return (hull.vertices[static_cast<std::size_t>(t[0])] - middle).squaredNorm();
            };
            return away(a) < away(b);
        });
    const std::int32_t seed = (*nearest)[0];
    const double reach = farthest(hull, seed);
    if (!std::isfinite(reach))
        return no_safe_answer(
            hull.cad != nullptr
                ? "it is in several parts that do not hang together: name a face (--face) or a "
                  "piece of one (--outline)"
                : "it is in several parts that do not hang together: give a piece of one "
                  "(--outline)");
    patch::PatchRequest request = request_of(asked, hull.cad != nullptr);
    request.seeds = {hull.vertices[static_cast<std::size_t>(seed)]};
    constexpr double slack = 1.1;  // chords of a coarse mesh are short
    request.reach = slack * reach + tolerance::patch_margin;
    auto patch = patch::build_patch(hull, request);
    if (!patch) return tl::unexpected(patch.error());
    FlatGround ground{std::move(*patch), {}, {}, {}, hull.cad != nullptr};
    ground.region = ground.patch.domain();
    ground.edge = edge_of(ground.patch, ground.region);
    return ground;
}

/// What lies within the outline, on the model as far as `reach` about the straight lines that span
/// it.
Result<FlatGround> piece_within(const hull::Hull& hull, const FlatJob& asked, double reach) {
    patch::PatchRequest request = request_of(asked, hull.cad != nullptr);
    request.seeds = asked.outline;
    request.reach = reach;
    auto patch = patch::build_patch(hull, request);
    if (!patch) return tl::unexpected(patch.error());
    FlatGround ground{std::move(*patch), {}, {}, {}, hull.cad != nullptr};
    job::Damage round;
    round.outline = asked.outline;
    round.join = asked.join;
    round.side = asked.side;
    auto edge = damage::damage_outline(ground.patch, round, asked.bow, asked.up);
    if (!edge) return tl::unexpected(edge.error());
    ground.edge = std::move(*edge);
    const std::array<double, 1> offsets{0.0};
    auto regions = plies::net_regions(ground.patch, ground.edge, offsets);
    if (!regions) return tl::unexpected(regions.error());
    const auto& parts = regions->front().chart;
    if (parts.size() != 1)
        return no_safe_answer("--outline", "what lies within it is in " +
                                               std::to_string(parts.size()) +
                                               " parts; give each its own outline");
    ground.region = parts.front();
    return ground;
}

Result<FlatGround> piece_of(const hull::Hull& hull, const FlatJob& asked) {
    auto near = piece_within(hull, asked, tolerance::patch_margin);
    if (near) return near;
    // Over a chine or a bulge the model leaves those lines by more than the margin.
    double across = 0.0;
    for (const Vec3& p : asked.outline)
        across = std::max(across, (p - asked.outline.front()).norm());
    auto wide = piece_within(hull, asked, across);
    return wide || wide.error().kind == ErrorKind::bad_input ? wide : near;
}

}  // namespace

const char* other_piece(bool has_faces) {
    return has_faces ? "name a face (--face) or a smaller piece (--outline)"
                     : "give a smaller piece (--outline)";
}

Vec3 place_over(const surface::Patch& patch, const Vec2& chart) {
    if (const auto at = patch.locate(chart)) return patch.sample(*at).position;
    const auto nearest =
        std::min_element(patch.chart.begin(), patch.chart.end(), [&](const Vec2& a, const Vec2& b) {
            return (a - chart).squaredNorm() < (b - chart).squaredNorm();
        });
    return patch.mesh.position[static_cast<std::size_t>(nearest - patch.chart.begin())];
}

Result<FlatGround> flat_ground(const hull::Hull& hull, const FlatJob& asked) {
    auto ground = asked.outline.empty() ? all_of(hull, asked) : piece_of(hull, asked);
    if (ground)
        ground->frame = damage::flat_frame(ground->patch, ground->edge, asked.bow, asked.up,
                                           ground->region.holes);
    return ground;
}

}  // namespace tearline::plan
