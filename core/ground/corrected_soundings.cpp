#include "core/ground/corrected_soundings.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/foot.h"

namespace tearline::ground {

namespace {

/// What is wrong with one sounding, where it stands.
tl::unexpected<Error> refused(const PlacedSounding& one, std::string what) {
    return tl::unexpected<Error>(Error{.key = one.name,
                                       .what = std::move(what),
                                       .line = one.sounding.line,
                                       .place = one.sounding.at});
}

}  // namespace

std::vector<PlacedSounding> nearest_places(const job::Job& job, const surface::Patch& patch) {
    std::vector<PlacedSounding> all;
    for (std::size_t i = 0; i < job.damage.soundings.size(); ++i) {
        const job::Sounding& sounding = job.damage.soundings[i];
        if (sounding.after != job.after_ply) continue;
        const damage::Foot foot = damage::foot_of(patch, sounding.at);
        const bool on_patch = foot.distance <= tolerance::outline_reach && !foot.over_rim;
        all.push_back({sounding, "damage.sounding[" + std::to_string(i + 1) + "]", foot.at,
                       patch.chart_point(foot.at), on_patch, std::nullopt});
    }
    return all;
}

Result<std::vector<PlacedSounding>> placed_soundings(const job::Job& job,
                                                     const surface::Patch& patch) {
    auto all = nearest_places(job, patch);
    for (const PlacedSounding& one : all)
        if (!one.on_patch)
            return refused(one, "at: lies off the hull near the damage; check the point");
    constexpr std::size_t least = 5;
    if (all.size() < least)
        return bad_input(
            "damage.sounding",
            std::to_string(all.size()) +
                " soundings have after = " + std::to_string(job.after_ply) +
                (job.after_ply > 0 ? "; take 5 or more on the cured work after that ply"
                                   : "; 5 or more tell the dish as it was ground"));
    return all;
}

bool outline_is_floor(const job::Job& job, const std::vector<PlacedSounding>& soundings,
                      const Loop2& outline) {
    if (job.damage.round) return *job.damage.round == job::Round::floor;
    return std::any_of(soundings.begin(), soundings.end(), [&](const PlacedSounding& one) {
        return one.sounding.depth > 0.0 && !contains(outline, one.chart);
    });
}

bool in_any(const std::vector<Region2>& regions, const Vec2& p) {
    return std::any_of(regions.begin(), regions.end(),
                       [&](const Region2& region) { return contains(region, p); });
}

Result<double> depth_below_old_surface(const Ground& ground, const std::vector<Region2>& area,
                                       PlacedSounding& one) {
    double depth = one.sounding.depth;
    if (one.sounding.from == job::Sounding::From::straightedge) {
        auto rest = straightedge_rest(old_surface(ground, area), one.at,
                                      straightedge_of(ground, one.at, one.sounding));
        if (!rest) return refused(one, rest.error().what);
        depth = rest->depth_of(depth);
        one.under = std::move(*rest);
    }
    return depth;
}

Result<std::vector<dish::ChartSounding>> depths_below_old_surface(
    const job::Job& job, const Ground& ground, const std::vector<Region2>& area,
    std::vector<PlacedSounding>& soundings) {
    std::vector<dish::ChartSounding> all;
    for (PlacedSounding& one : soundings) {
        const double read = one.sounding.depth;
        if (read > 0.0 && !in_any(area, one.chart))
            return refused(one, "lies outside the ground area but is " + fixed(read, 1) +
                                    " mm deep; check the point, or the outline and damage.round");
        const auto depth = depth_below_old_surface(ground, area, one);
        if (!depth) return tl::unexpected(depth.error());
        if (job.hull.skin && *depth > *job.hull.skin + tolerance::sounding_differs)
            return refused(one, "depth: " + fixed(*depth, 1) + " mm is deeper than hull.skin, " +
                                    shortest(*job.hull.skin) +
                                    " mm; measure again, or check hull.skin");
        // Nothing is below zero: cured work that stands proud is as full as can be.
        all.push_back({one.chart, std::max(0.0, *depth), one.name});
    }
    return all;
}

OldSurface old_surface(const Ground& ground, const std::vector<Region2>& area) {
    return {ground.patch, area, ground.around ? &*ground.around : nullptr};
}

Straightedge straightedge_of(const Ground& ground, const surface::Location& at,
                             const job::Sounding& sounding) {
    const Vec3 n = ground.patch.sample(at).normal;
    const Vec3& bow = ground.frame.axis_from;
    const Vec3 x = (bow - bow.dot(n) * n).normalized();
    const double angle = sounding.degrees * std::numbers::pi / 180.0;
    return {std::cos(angle) * x + std::sin(angle) * n.cross(x), sounding.length};
}

}  // namespace tearline::ground
