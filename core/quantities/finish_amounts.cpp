#include "core/quantities/finish_amounts.h"

namespace tearline::quantities {

namespace {

double footprint_m2(const Areas& areas) {
    return square_metres_from_mm2(areas.footprint_mm2).value();
}

}  // namespace

std::optional<Grams> gel_coat(const job::Job& job, const Areas& areas) {
    if (job.resin.kind == job::ResinKind::epoxy) return std::nullopt;
    // mm over m2 is litres.
    const Millilitres film(1000.0 * footprint_m2(areas) * job.topcoat.thickness);
    return (1.0 + job.resin.waste) * (film * job.topcoat.density);
}

Millilitres paint(const Areas& areas) {
    return Millilitres(1000.0 * footprint_m2(areas) * paint_coats / paint_m2_a_litre);
}

}  // namespace tearline::quantities
