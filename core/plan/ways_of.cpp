#include "core/plan/ways_of.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/job/sides.h"
#include "core/quantities/work_time.h"

namespace tearline::plan {

namespace {

using job::ScarfFrom;

constexpr std::array<std::pair<ScarfFrom, const char*>, 3> all_ways{
    {{ScarfFrom::outside, "outside"}, {ScarfFrom::inside, "inside"}, {ScarfFrom::both, "both"}}};

/// The cloths of a stack in turn, for a dish of another depth.
void lay_in_turn(job::Layup& layup) {
    if (layup.stack.empty()) return;
    layup.fill = std::move(layup.stack);
    layup.stack.clear();
}

job::Job other_way(const job::Job& job, ScarfFrom from) {
    job::Job out = job;
    out.scarf.from = from;
    if (from != ScarfFrom::both)
        out.damage.side = from == ScarfFrom::outside ? job::Side::outside : job::Side::inside;
    if (out.backing) out.backing->stays = job::backing_stays_by_default(out);
    lay_in_turn(out.layup);
    if (out.layup_inside) lay_in_turn(*out.layup_inside);
    // From inside alone its own table says how work lies there.
    if (from == ScarfFrom::inside && out.layup_inside) out.layup = *out.layup_inside;
    return out;
}

/// @param job  as it is planned that way
std::string access_of(const job::Job& job) {
    const bool behind = job.backing && job.backing->access == job::Access::both_sides;
    const bool stays = job.backing && job.backing->stays.value_or(false);
    switch (job.scarf.from.value()) {
        case ScarfFrom::outside:
            return behind || !stays ? "outside; inside for the backing"
                                    : "outside alone; the backing stays in";
        case ScarfFrom::inside:
            return stays ? "inside; the backing outside stays on" : "inside; outside for the mould";
        case ScarfFrom::both:
            return "both faces, one after the other";
    }
    return {};
}

void add_costs(const Plan& part, Way& way) {
    const double radius = std::sqrt(part.place.areas.scarf_mm2 / std::numbers::pi);
    way.ground_radius_mm = std::max(way.ground_radius_mm, radius);
    way.glass_g += part.quantities.totals.glass_g;
    way.resin_g += part.quantities.totals.resin_g;
    way.hours += quantities::work_time(part.job, part.place.areas, part.quantities).work_hours();
    if (!part.scarf_check) return;
    const bool worse = !way.scarf_check || part.scarf_check->required_ratio.value_or(0.0) >
                                               way.scarf_check->required_ratio.value_or(0.0);
    if (worse) way.scarf_check = part.scarf_check;
}

}  // namespace

std::vector<Way> ways_of(const Plan& made, const job::Job& job, const PlanWay& plan) {
    std::vector<Way> ways;
    for (const auto& [from, word] : all_ways) {
        Way way;
        way.from = word;
        way.chosen = job.scarf.from == from;
        const job::Job asked = way.chosen ? job : other_way(job, from);
        way.access = access_of(asked);
        const auto other = way.chosen ? Result<Plan>(made) : plan(asked);
        if (!other) {
            way.refused = other.error().what;
            ways.push_back(std::move(way));
            continue;
        }
        way.dish_mL = other->dish_mm3 / 1000.0;
        if (other->parts.empty()) add_costs(*other, way);
        for (const Plan& part : other->parts) add_costs(part, way);
        ways.push_back(std::move(way));
    }
    return ways;
}

}  // namespace tearline::plan
