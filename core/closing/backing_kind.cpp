#include "core/closing/backing_kind.h"

#include <array>

namespace tearline::closing {

job::BackingKind backing_kind(job::BackingKind asked, double strain) {
    if (asked != job::BackingKind::choose) return asked;
    if (strain <= sheet_strain) return job::BackingKind::sheet;
    if (strain <= petals_strain) return job::BackingKind::petals;
    return job::BackingKind::stations;
}

double sphere_strain(double radius, double sphere) {
    return radius * radius / (8.0 * sphere * sphere);
}

std::optional<double> plywood_radius(double thickness) {
    constexpr std::array<std::array<double, 2>, 3> table{
        {{1.8, 132.0}, {3.2, 305.0}, {4.8, 533.0}}};
    for (std::size_t i = 0; i + 1 < table.size(); ++i) {
        const auto& [t0, r0] = table[i];
        const auto& [t1, r1] = table[i + 1];
        if (thickness < t0 || thickness > t1) continue;
        return r0 + (r1 - r0) * (thickness - t0) / (t1 - t0);
    }
    return std::nullopt;
}

}  // namespace tearline::closing
