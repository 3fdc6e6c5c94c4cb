#include "core/job/resin_of_kind.h"

#include "core/base/us_constants.h"

namespace tearline::job {

Resin resin_of_kind(ResinKind kind) {
    constexpr double polyester_percent = 1.25;  // common practice, SOURCES.md section 4
    constexpr double epoxy_cured = 1.15;        // [g/cm3] from memory
    Resin resin;
    resin.kind = kind;
    resin.hardener_basis = Basis::mass;
    if (kind == ResinKind::polyester) {
        resin.hardener_percent = polyester_percent;
        return resin;
    }
    resin.density.reset();
    resin.hardener_density.reset();
    resin.hardener_range.reset();
    if (kind == ResinKind::epoxy) resin.cured_density = epoxy_cured;
    return resin;
}

Can us_can() {
    constexpr double fluid_ounces_a_quart = 32.0;
    return {std::nullopt, Millilitres(fluid_ounces_a_quart * us::millilitres_per_fluid_ounce),
            "1 qt"};
}

Topcoat topcoat_over(ResinKind kind) {
    Topcoat topcoat;
    if (kind == ResinKind::epoxy) {
        topcoat.hardener_percent.reset();
        topcoat.hardener_range.reset();
    }
    return topcoat;
}

}  // namespace tearline::job
