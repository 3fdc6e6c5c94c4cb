#include "core/plan/built_so_far.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/foot.h"
#include "core/ground/ground.h"
#include "core/laminate/ply_thickness.h"
#include "core/plane/box.h"
#include "core/plies/sounded_levels.h"

namespace tearline::plan {

namespace {

/// The ground before anything was laid, and the plies laid since.
struct Before {
    ground::Ground ground;
    std::vector<plies::PlyLevel> plies;
};

std::vector<plies::PlyLevel> laid(const std::vector<plies::PlyLevel>& all, int last) {
    std::vector<plies::PlyLevel> plies;
    for (const plies::PlyLevel& ply : all)
        if (ply.number <= last && !ply.cover) plies.push_back(ply);
    return plies;
}

Result<Before> before(const job::Job& job, const ground::Ground& now) {
    job::Job first = job;
    first.after_ply = 0;
    const auto old = std::count_if(job.damage.soundings.begin(), job.damage.soundings.end(),
                                   [](const job::Sounding& s) { return s.after == 0; });
    if (old == 0) first.damage.soundings.clear();
    auto levels = plies::ply_levels(first);
    if (!levels) return tl::unexpected(levels.error());
    auto ground =
        ground::lay_ground(first, *levels, now.patch, now.outline, now.around, now.dish_before);
    if (!ground) return tl::unexpected(ground.error());
    auto plies = laid(ground->levels.plies, job.after_ply);
    return Before{std::move(*ground), std::move(plies)};
}

/// Where the work was measured: at its soundings, or all over the ground area.
std::vector<Vec2> measured_at(const job::Job& job, const ground::Ground& ground) {
    std::vector<Vec2> places;
    for (const job::Sounding& sounding : job.damage.soundings)
        if (sounding.after == job.after_ply)
            places.push_back(
                ground.patch.chart_point(damage::foot_of(ground.patch, sounding.at).at));
    if (!ground.dish_points) return places;
    constexpr double apart = 5.0;  // [mm]
    for (const Region2& region : ground.region_at(ground.scarf_offset).chart) {
        const auto [low, high] = plane::box_round(region.outer);
        for (double x = low.x(); x < high.x(); x += apart)
            for (double y = low.y(); y < high.y(); y += apart)
                if (contains(region, {x, y})) places.emplace_back(x, y);
    }
    return places;
}

}  // namespace

double glass_content_of(double thickness, GramsPerSquareMetre weight, double cured_density) {
    const double kilograms = weight.value() / 1000.0;
    const double resin = (thickness - kilograms / laminate::glass_density) * cured_density;
    return kilograms / (kilograms + std::max(0.0, resin));
}

Result<BuiltSoFar> built_so_far(const job::Job& job, const ground::Ground& ground) {
    const auto then = before(job, ground);
    if (!then) return tl::unexpected(then.error());
    if (then->plies.empty())
        return bad_input("damage.sounding",
                         "after = " + std::to_string(job.after_ply) +
                             ", but no ply up to that one has a place in the dish as it "
                             "was first sounded; give the number of the last ply that was "
                             "laid");
    double planned = 0.0, built = 0.0, whole = 0.0;
    for (const plies::PlyLevel& ply : then->plies) whole += ply.thickness;
    int places = 0;
    for (const Vec2& at : measured_at(job, ground)) {
        // Only where all of them lie: elsewhere edges and torn bands are in the way.
        const double deep = then->ground.dish->depth(at);
        if (!(plies::laid_at(then->plies, deep) > whole - tolerance::level)) continue;
        planned += whole;
        built += deep - ground.dish->depth(at);
        ++places;
    }
    if (places == 0)
        return bad_input("damage.sounding", "none was taken where all of the first " +
                                                std::to_string(job.after_ply) +
                                                " plies lie; sound the deepest place, too");
    if (!(built > 0.0))
        return bad_input("damage.sounding",
                         "after ply " + std::to_string(job.after_ply) +
                             " the dish is no shallower than before; check the soundings");
    BuiltSoFar so_far;
    so_far.plies = job.after_ply;
    so_far.planned_mm = planned / places;
    so_far.built_mm = built / places;
    for (const plies::PlyLevel& ply : then->plies) {
        const double thickness = ply.thickness * built / planned;
        so_far.each.push_back({ply.number, thickness,
                               glass_content_of(thickness, job.fabrics.at(ply.entry.fabric).weight,
                                                job.resin.cured_density)});
    }
    return so_far;
}

Warnings judged(const BuiltSoFar& built) {
    warn::BuiltSoFar told{built.plies, built.planned_mm, built.built_mm, {}};
    for (const BuiltSoFar::Ply& ply : built.each)
        told.each.push_back({ply.number, ply.thickness_mm, ply.glass_content});
    return {{std::move(told)}};
}

}  // namespace tearline::plan
