#include "core/quantities/finish_amounts.h"

namespace tearline::quantities {

namespace {

double footprint_m2(const Plan& plan) {
    return square_metres_from_mm2(plan.footprint_area_mm2).value();
}

}  // namespace

std::optional<double> gel_coat_g(const Plan& plan) {
    const job::Job& job = plan.job;
    if (job.resin.kind == job::ResinKind::epoxy) return std::nullopt;
    // mm over m2 is litres.
    const Millilitres film(1000.0 * footprint_m2(plan) * job.topcoat.thickness);
    return (1.0 + job.resin.waste) * (film * job.topcoat.density).value();
}

double paint_mL(const Plan& plan) {
    return 1000.0 * footprint_m2(plan) * paint_coats / paint_m2_a_litre;
}

}  // namespace tearline::quantities
