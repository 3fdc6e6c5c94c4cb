#include "core/quantities/finish_amounts.h"

namespace tearline::quantities {

Grams topcoat_film(const job::Job& job, const Areas& areas) {
    const double m2 = square_metres_from_mm2(areas.touched_mm2()).value();
    const Millilitres film(1000.0 * m2 * job.topcoat.thickness);  // mm over m2 is litres
    return (1.0 + job.resin.waste) * (film * job.topcoat.density);
}

std::optional<Grams> gel_coat(const job::Job& job, const Areas& areas) {
    if (job.resin.kind == job::ResinKind::epoxy) return std::nullopt;
    return topcoat_film(job, areas);
}

Millilitres paint(const Areas& areas) {
    const double m2 = square_metres_from_mm2(areas.touched_mm2()).value();
    return Millilitres(1000.0 * m2 * paint_coats / paint_m2_a_litre);
}

}  // namespace tearline::quantities
