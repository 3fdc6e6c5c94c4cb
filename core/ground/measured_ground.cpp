#include "core/ground/measured_ground.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/dish/scanned_dish.h"
#include "core/ground/corrected_soundings.h"
#include "core/ground/dish_points.h"
#include "core/ground/tolerances.h"
#include "core/plane/clip_region.h"
#include "core/plies/sounded_levels.h"
#include "core/surface/locate_near.h"

namespace tearline::ground {

namespace {

/// How far the ground stands over a straightedge that was taken to rest outside it, at most [mm].
double over_edge(const dish::SoundedDish& dish, const StraightedgeRest& rest) {
    double most = 0.0;
    for (const GroundPlace& place : rest.over)
        most = std::max(most, place.profile.y() - dish.depth(place.chart) -
                                  (rest.gap + rest.slope * place.profile.x()));
    return most;
}

/// Straightedges that cannot have lain on the old surface to both sides: the worst is named.
void warn_of_rocking(const std::vector<PlacedSounding>& soundings, const dish::SoundedDish& dish,
                     Warnings& warnings) {
    double most = tolerance::straightedge_rocks;
    const PlacedSounding* worst = nullptr;
    int count = 0;
    for (const PlacedSounding& one : soundings) {
        if (!one.under) continue;
        const double over = over_edge(dish, *one.under);
        if (over > tolerance::straightedge_rocks) ++count;
        if (over > most) {
            most = over;
            worst = &one;
        }
    }
    if (worst == nullptr) return;
    warnings.push_back({warn::StraightedgeRocks{worst->name, most, count}});
}

plies::NetRegion lifted(const surface::Patch& patch, std::vector<Region2> regions, double offset) {
    const auto lift = [&](const Loop2& loop) {
        Loop3 out;
        for (const Vec2& p : loop)
            out.push_back(patch.sample(surface::locate_near(patch, p).at).position);
        return out;
    };
    plies::NetRegion region;
    region.offset = offset;
    for (Region2& part : regions) {
        Region3 base{lift(part.outer), {}};
        for (const Loop2& hole : part.holes) base.holes.push_back(lift(hole));
        region.on_base.push_back(std::move(base));
        region.chart.push_back(std::move(part));
    }
    return region;
}

/// What must still be ground off in a part: the most [mm], and all of it [mm3].
struct ToGrind {
    double most = 0.0, volume = 0.0;
};

ToGrind to_grind(const plane::GridField& more, const Region2& part) {
    ToGrind sum;
    for (int r = 0; r < more.rows; ++r)
        for (int c = 0; c < more.columns; ++c)
            if (more.at(c, r) > 0.0 && contains(part, more.place(c, r))) {
                sum.most = std::max(sum.most, more.at(c, r));
                sum.volume += more.at(c, r) * more.step * more.step;
            }
    return sum;
}

/// Where the ground is steeper than the ratio allows, each part with the most that must come off.
std::vector<TooSteep> too_steep(const job::Job& job, const surface::Patch& patch,
                                const dish::MeasuredDish& dish) {
    const double slack = job.scarf.ratio / (1.0 + tolerance::steeper_share);
    // A gentler wall may reach out of the ground area by as much as it is long.
    const plane::GridField field = dish::sampled(dish, slack * dish.deepest());
    const plane::GridField more = dish::still_to_grind(field, slack);
    std::vector<TooSteep> steep;
    for (Region2& part :
         plane::united_inside(plane::contours(more, tolerance::least_grind), patch.domain())) {
        const ToGrind off = to_grind(more, part);
        if (!(off.volume > tolerance::pinch_of_dust)) continue;
        steep.push_back({lifted(patch, {std::move(part)}, 0.0), off.most});
    }
    return steep;
}

void warn_of_steep(const job::Job& job, const std::vector<TooSteep>& steep, Warnings& warnings) {
    if (steep.empty()) return;
    double most = 0.0;
    for (const TooSteep& part : steep) most = std::max(most, part.to_grind);
    warnings.push_back({warn::GroundSteep{job.scarf.ratio, steep.size(), most}});
}

/// The regions of the ground area, its covers and its torn bands.
Result<void> draw_regions(const job::Job& job, bool floor, Ground& ground) {
    ground.scarf_offset = floor ? ground.levels.dish.back().x() : 0.0;
    double band = 0.0, cover = ground.scarf_offset;
    std::vector<double> offsets{0.0, ground.scarf_offset};
    for (const plies::PlyLevel& ply : ground.levels.plies) {
        const job::Fabric& fabric = job.fabrics.at(ply.entry.fabric);
        if (fabric.kind == job::FabricKind::mat) band = std::max(band, fabric.tear_margin);
    }
    for (std::size_t i = 0; i < job.layup.cover.size(); ++i)
        offsets.push_back(cover += job.layup.cover_step);
    ground.footprint_offset = cover + band;
    offsets.push_back(ground.footprint_offset);
    std::sort(offsets.begin(), offsets.end());
    offsets.erase(std::unique(offsets.begin(), offsets.end()), offsets.end());
    const auto sweep = dish::sweep_offsets(ground.patch, ground.outline, offsets);
    auto regions = plies::net_regions(ground.patch, sweep, offsets);
    if (!regions) return tl::unexpected(regions.error());
    ground.regions = std::move(*regions);
    return {};
}

/// The plies as levels of a dish.
Result<void> place_plies(const job::Job& job, const dish::MeasuredDish& dish, Ground& ground) {
    auto levels = plies::sounded_levels(job, ground.levels, dish, ground.scarf_offset);
    if (!levels) return tl::unexpected(levels.error());
    ground.levels = std::move(levels->levels);
    for (std::size_t i = 0; i < ground.levels.plies.size(); ++i) {
        const plies::PlyLevel& ply = ground.levels.plies[i];
        ground.ply_regions.push_back(
            ply.cover ? ground.region_at(ply.edge_offset)
                      : lifted(ground.patch, std::move(levels->regions[i]), ply.edge_offset));
    }
    return {};
}

/// What is told of any dish that was measured.
void tell(const job::Job& job, const dish::MeasuredDish& dish, bool floor, double planned,
          Ground& ground) {
    Warnings& warnings = ground.levels.warnings;
    warnings.insert(warnings.end(), dish.warnings().begin(), dish.warnings().end());
    if (job.after_ply == 0) {
        ground.too_steep = too_steep(job, ground.patch, dish);
        warn_of_steep(job, ground.too_steep, warnings);
    }
    if (!job.damage.round)
        warnings.push_back({warn::RoundTaken{floor ? std::optional(planned) : std::nullopt}});
}

Result<Ground> lay_sounded_ground(const job::Job& job, Ground ground) {
    auto soundings = placed_soundings(job, ground.patch);
    if (!soundings) return tl::unexpected(soundings.error());
    const bool floor = outline_is_floor(job, *soundings, ground.outline.chart);
    const double planned = ground.levels.dish.back().x();
    if (auto drawn = draw_regions(job, floor, ground); !drawn) return tl::unexpected(drawn.error());
    const auto& area = ground.region_at(ground.scarf_offset).chart;
    auto depths = depths_below_old_surface(job, ground, area, *soundings);
    if (!depths) return tl::unexpected(depths.error());
    auto dish = dish::SoundedDish::through(area, std::move(*depths));
    if (!dish) return tl::unexpected(dish.error());
    if (auto placed = place_plies(job, *dish, ground); !placed)
        return tl::unexpected(placed.error());
    warn_of_rocking(*soundings, *dish, ground.levels.warnings);
    tell(job, *dish, floor, planned, ground);
    ground.dish = std::make_unique<dish::SoundedDish>(std::move(*dish));
    return ground;
}

/// The outline by itself, in the chart.
std::vector<Region2> inside_outline(const Ground& ground) {
    return {Region2{ground.outline.chart, {}}};
}

Result<dish::ScannedDish> dish_in(const job::Job& job, const Ground& ground,
                                  const std::vector<Region2>& area, Warnings& warnings) {
    auto laid = lay_points(*ground.dish_points, job, ground, area);
    if (!laid) return tl::unexpected(laid.error());
    warnings.insert(warnings.end(), laid->warnings.begin(), laid->warnings.end());
    return dish::ScannedDish::through(area, std::move(laid->depths), laid->noise);
}

/// Whether the outline goes round the floor: said, or seen from the ground being deep on it.
Result<bool> outline_is_scanned_floor(const job::Job& job, const Ground& ground) {
    if (job.damage.round) return *job.damage.round == job::Round::floor;
    constexpr double deep = 0.4;  // of the deepest, on the middle of the outline
    Warnings unused;
    const auto dish = dish_in(job, ground, inside_outline(ground), unused);
    if (!dish) return tl::unexpected(dish.error());
    double sum = 0.0;
    for (const Vec2& p : ground.outline.chart) sum += dish->before_cut(p);
    return sum > deep * dish->deepest() * static_cast<double>(ground.outline.chart.size());
}

Result<Ground> lay_scanned_ground(const job::Job& job, Ground ground) {
    const auto floor = outline_is_scanned_floor(job, ground);
    if (!floor) return tl::unexpected(floor.error());
    const double planned = ground.levels.dish.back().x();
    if (auto drawn = draw_regions(job, *floor, ground); !drawn)
        return tl::unexpected(drawn.error());
    Warnings warnings;
    auto dish = dish_in(job, ground, ground.region_at(ground.scarf_offset).chart, warnings);
    if (!dish) return tl::unexpected(dish.error());
    if (auto placed = place_plies(job, *dish, ground); !placed)
        return tl::unexpected(placed.error());
    ground.levels.warnings.insert(ground.levels.warnings.end(), warnings.begin(), warnings.end());
    tell(job, *dish, *floor, planned, ground);
    ground.dish = std::make_unique<dish::ScannedDish>(std::move(*dish));
    return ground;
}

}  // namespace

bool is_measured(const job::Job& job, const Ground& ground) {
    return ground.dish_points || !job.damage.soundings.empty();
}

Result<Ground> lay_measured_ground(const job::Job& job, Ground ground) {
    return ground.dish_points ? lay_scanned_ground(job, std::move(ground))
                              : lay_sounded_ground(job, std::move(ground));
}

Result<double> deepest_scanned(const job::Job& job, const Ground& ground) {
    Warnings unused;
    const auto dish = dish_in(job, ground, inside_outline(ground), unused);
    if (!dish) return tl::unexpected(dish.error());
    return dish->deepest();
}

}  // namespace tearline::ground
