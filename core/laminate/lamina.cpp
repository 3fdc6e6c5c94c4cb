#include "core/laminate/lamina.h"

#include <algorithm>
#include <vector>

namespace tearline::laminate {

namespace {

constexpr const char* formula_mark = "ISO 12215-5 formulas, from memory";

// [MPa] below which no formula is followed: at very low glass contents they turn negative.
constexpr double bare_resin_modulus = 3000.0;
constexpr double bare_resin_strength = 20.0;

}  // namespace

Lamina lamina_of(job::FabricKind kind, double psi) {
    Lamina ply;
    const bool mat = kind == job::FabricKind::mat;
    ply.e1 = std::max(bare_resin_modulus, mat ? 38000.0 * psi - 5000.0 : 30000.0 * psi - 500.0);
    ply.e2 = ply.e1;
    ply.g12 = 1700.0 * psi + 2240.0;
    ply.nu12 = mat ? 0.30 : 0.17;
    ply.tensile = std::max(bare_resin_strength,
                           mat ? 800.0 * psi * psi - 80.0 * psi + 37.0 : 400.0 * psi - 10.0);
    ply.flexural = 502.0 * psi * psi + 107.0;
    ply.compressive = 150.0 * psi + 72.0;
    ply.shear = 80.0 * psi + 38.0;
    ply.interlaminar = 22.5 - 17.5 * psi;
    ply.source = formula_mark;
    if (kind == job::FabricKind::biaxial) ply.source += ", as woven turned by 45 degrees";
    return ply;
}

Lamina lamina_of(const job::Fabric& fabric) {
    Lamina ply = lamina_of(fabric.kind, fabric.glass_content);
    const job::DataSheet& sheet = fabric.data_sheet;
    std::vector<const char*> given;
    const auto take = [&given](const std::optional<double>& figure, double& into,
                               const char* name) {
        if (!figure) return;
        into = *figure;
        given.push_back(name);
    };
    take(sheet.modulus, ply.e1, "modulus");
    if (sheet.modulus) ply.e2 = ply.e1;
    take(sheet.modulus_across, ply.e2, "modulus across");
    take(sheet.shear_modulus, ply.g12, "shear modulus");
    take(sheet.poisson, ply.nu12, "Poisson ratio");
    take(sheet.tensile_strength, ply.tensile, "tensile");
    take(sheet.compressive_strength, ply.compressive, "compressive");
    take(sheet.flexural_strength, ply.flexural, "flexural");
    take(sheet.shear_strength, ply.shear, "shear strength");
    if (given.empty()) return ply;
    std::string names;
    for (const char* name : given) names += (names.empty() ? "" : ", ") + std::string(name);
    ply.source = names + " from your data sheet; the rest " + ply.source;
    return ply;
}

}  // namespace tearline::laminate
