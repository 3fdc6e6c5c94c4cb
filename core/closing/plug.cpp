#include "core/closing/plug.h"

#include <algorithm>
#include <cmath>

namespace tearline::closing {

namespace {

constexpr double mm3_per_mL = 1000.0;

}  // namespace

double plug_thickness(const job::Core& core, double new_far, double old_far) {
    return core.thickness - core.bed - (new_far - old_far);
}

double stand_off(double piece, double k1, double k2) {
    return piece * piece / 8.0 * (std::abs(k1) + std::abs(k2));
}

KerfMove kerf_move(double pitch, double width, double depth, double curvature) {
    KerfMove out;
    out.moves = -pitch * depth * curvature;
    out.closes_up = width < out.moves;
    out.share = std::max(0.0, width / pitch + 0.5 * depth * curvature);
    return out;
}

double kerf_share(double along, double across) {
    return along + across - along * across;
}

double paste_mL(const job::Core& core, double area, double perimeter, double plug,
                double kerf_share) {
    const double bed = area * core.bed;
    const double gap = perimeter * core.gap * (plug + core.bed);
    return (bed + gap + kerf_share * area * plug) / mm3_per_mL;
}

}  // namespace tearline::closing
