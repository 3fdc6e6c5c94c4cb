#include "core/ground/mark_ways.h"

#include <algorithm>

#include "core/base/tolerances.h"
#include "core/damage/foot.h"
#include "core/damage/straight_way.h"

namespace tearline::ground {

namespace {

constexpr double spacing = 2.0;  ///< [mm] between the points of a way

}  // namespace

MarkWays mark_ways(const PlacedJob& placed, const Ground& ground) {
    MarkWays out;
    if (!placed.about_marks) return out;
    const surface::Patch& about = *placed.about_marks;
    const damage::Foot middle = damage::foot_of(about, ground.frame.middle);
    for (const job::Mark& mark : placed.job.marks) {
        const damage::Foot foot = damage::foot_of(about, mark.at.value());
        const auto way = damage::straight_way(about, middle.at, foot.at, spacing);
        if (!way || way->at.size() < 2) continue;
        templates::TapeWay tape{
            mark.name, way->length, way->length / static_cast<double>(way->at.size() - 1), {}};
        for (const surface::Location& at : way->at) {
            const auto near = ground.patch.nearest(about.sample(at).position);
            if (!(near.distance <= tolerance::mesh_bulge)) break;
            tape.chart.push_back(ground.patch.chart_point(near.at));
        }
        const auto& ground_off = ground.region_at(ground.footprint_offset).chart;
        const bool gone = tape.chart.size() == way->at.size() &&
                          std::any_of(ground_off.begin(), ground_off.end(), [&](const auto& part) {
                              return contains(part, tape.chart.back());
                          });
        if (gone) {
            out.warnings.push_back({.cause = warn::MarkInRepair{mark.name}, .at = mark.at});
        }
        out.ways.push_back(std::move(tape));
    }
    return out;
}

}  // namespace tearline::ground
