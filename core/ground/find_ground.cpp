#include "core/ground/find_ground.h"

#include <cmath>
#include <numbers>
#include <utility>

#include "core/damage/foot.h"
#include "core/dish/ground_edge.h"
#include "core/ground/dish_points.h"
#include "core/ground/ground.h"
#include "core/job/effective_json.h"
#include "core/surface/locate_near.h"

namespace tearline::ground {

namespace {

/// An edge in the chart of the hull about it, and its place on the hull.
struct PlacedEdge {
    dish::GroundEdge edge;
    std::vector<Vec3> outline;  ///< [mm]
    double area_mm2 = 0.0;
};

/// The edge within a disc of sound skin and ground about the centre.
Result<PlacedEdge> edge_within(const job::Job& job, const hull::Hull& hull) {
    plies::PlyLevels flat;
    flat.dish = {{0.0, 0.0}};
    auto ground = bare_ground(job, hull, std::move(flat));
    if (!ground) return tl::unexpected(ground.error());
    const hull::DishPoints& scan =
        ground->dish_before ? *ground->dish_before : *ground->dish_points;
    constexpr double every_point = 1.0;
    const auto laid =
        lay_points(scan, job, *ground, {Region2{ground->outline.chart, {}}}, every_point);
    if (!laid) return tl::unexpected(laid.error());
    const surface::Patch& patch = ground->patch;
    const Vec2 centre = patch.chart_point(damage::foot_of(patch, *job.damage.centre).at);
    auto edge = dish::ground_edge(laid->depths, centre, laid->noise.spread, *job.damage.radius);
    if (!edge) return tl::unexpected(edge.error());
    PlacedEdge placed;
    const Loop2 loop = edge->round(centre);
    for (const Vec2& p : loop)
        placed.outline.push_back(patch.sample(surface::locate_near(patch, p).at).position);
    placed.area_mm2 = area(Region2{loop, {}});
    placed.edge = std::move(*edge);
    return placed;
}

}  // namespace

bool asks_for_ground(const job::Job& job) {
    const job::Damage& damage = job.damage;
    return damage.centre && !damage.radius && !damage.length;
}

Result<JobHull> with_ground_found(const job::Job& job,
                                  const std::function<Result<JobHull>(const job::Job&)>& read) {
    constexpr double sound = 20.0;  // [mm] of skin that has to show round it
    Error error;
    for (const double radius : {60.0, 100.0, 160.0, 250.0, 400.0}) {
        job::Job about = job;
        about.damage.radius = radius;
        const auto there = read(about);
        if (!there) return there;
        const auto found = edge_within(there->job, there->hull);
        if (!found) {
            error = found.error();
            continue;
        }
        if (found->edge.most > radius - sound) continue;
        job::Job known = job;
        known.damage.centre.reset();
        known.damage.outline = found->outline;
        // Places of a job are its scan's, before its scale.
        if (there->hull.scanned)
            for (Vec3& place : known.damage.outline) place /= there->hull.scanned->scale;
        known.effective_json = job::effective_json(known);
        auto whole = read(known);
        if (whole)
            whole->hull.warnings.push_back(
                {warn::GroundFound{2.0 * std::sqrt(found->area_mm2 / std::numbers::pi),
                                   found->edge.spread, found->edge.least, found->edge.most}});
        return whole;
    }
    return tl::unexpected(std::move(error));
}

}  // namespace tearline::ground
