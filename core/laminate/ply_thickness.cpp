#include "core/laminate/ply_thickness.h"

namespace tearline::laminate {

double ply_thickness(GramsPerSquareMetre weight, double glass_content, double cured_density) {
    // kg/m2 over g/cm3 is mm.
    const double kilograms = weight.value() / 1000.0;
    return kilograms / glass_density + kilograms * resin_per_glass(glass_content) / cured_density;
}

double ply_thickness(const job::Fabric& fabric, const job::Resin& resin) {
    if (fabric.thickness) return *fabric.thickness;
    return ply_thickness(fabric.weight, fabric.glass_content, resin.cured_density);
}

double resin_per_glass(double glass_content) {
    return (1.0 - glass_content) / glass_content;
}

}  // namespace tearline::laminate
