#include "core/closing/plug.h"

#include <algorithm>
#include <cmath>

#include "core/closing/dish_volume.h"

namespace tearline::closing {

namespace {

constexpr double mm3_per_mL = 1000.0;

double mean_perimeter(const Plug& plug) {
    return 0.5 * (plug.bed.perimeter_mm + plug.top.perimeter_mm);
}

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

double plug_volume(const Plug& plug) {
    return dish_volume(plug.thickness, plug.chamfer, plug.bed.area_mm2, plug.bed.perimeter_mm,
                       plug.top.area_mm2);
}

double plug_surface(const Plug& plug) {
    return plug.bed.area_mm2 + plug.top.area_mm2 +
           mean_perimeter(plug) * std::hypot(plug.thickness, plug.chamfer);
}

double paste_mL(const job::Core& core, const Plug& plug, double kerf_share) {
    const double bed = plug.bed.area_mm2 * core.bed;
    const double gap = mean_perimeter(plug) * core.gap * (plug.thickness + core.bed);
    return (bed + gap + kerf_share * plug_volume(plug)) / mm3_per_mL;
}

}  // namespace tearline::closing
