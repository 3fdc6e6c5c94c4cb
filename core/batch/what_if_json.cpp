#include "core/batch/what_if_json.h"

#include <algorithm>
#include <cmath>

#include "core/quantities/work_time.h"

namespace tearline::batch {

namespace {

/// A ring with fewer points, for a picture of a few centimetres.
Loop2 thinned(const Loop2& loop) {
    constexpr std::size_t most = 90;
    const std::size_t step = std::max<std::size_t>(1, (loop.size() + most - 1) / most);
    Loop2 out;
    for (std::size_t i = 0; i < loop.size(); i += step)
        out.emplace_back(0.1 * std::round(10.0 * loop[i].x()),
                         0.1 * std::round(10.0 * loop[i].y()));
    return out;
}

void write_comparison(formats::JsonWriter& json, const Plan& plan) {
    json.key("laminate");
    if (!plan.comparison || !plan.comparison->ratios) {
        json.null();
        return;
    }
    const laminate::Ratios& ratios = *plan.comparison->ratios;
    json.begin_object().field("strength",
                              std::min(ratios.membrane_strength(), ratios.bending_strength));
    json.field("bending_stiffness", ratios.bending_stiffness);
    json.field("weaker", plan.comparison->weaker).end_object();
}

}  // namespace

void write_what_if(formats::JsonWriter& json, const Plan& plan) {
    json.key("what_if").begin_object();
    json.field("hours",
               quantities::work_time(plan.job, plan.place.areas, plan.quantities).work_hours());
    json.field("cost", plan.shopping.cost).field("cost_complete", plan.shopping.complete);
    json.field("currency", plan.shopping.currency);
    json.field("ratio", plan.job.scarf.ratio);
    json.field("required_ratio",
               plan.scarf_check ? plan.scarf_check->required_ratio : std::optional<double>());
    json.field("us", plan.job.display_units == Units::us);
    json.field("title", plan.job.title);
    write_comparison(json, plan);
    json.key("rings").begin_array();
    for (const templates::GrindGuide::Ring& ring : plan.place.grind_guide.rings) {
        if (ring.ply < -1) continue;  // the gel coat's and the steep places' are for the grinder
        json.begin_object().field("ply", ring.ply).key("loops").begin_array();
        for (const Loop2& loop : ring.loops) json.value(thinned(loop));
        json.end_array().end_object();
    }
    json.end_array().end_object();
}

}  // namespace tearline::batch
