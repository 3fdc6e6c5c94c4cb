#include "core/quantities/glass_and_resin.h"

#include <stdexcept>

#include "core/laminate/ply_thickness.h"

namespace tearline::quantities {

double laminate_area(const templates::Template& outline, job::FabricKind kind) {
    const double parted = area(outline.parting_region());
    if (kind != job::FabricKind::mat) return parted;
    return 0.5 * (area(outline.net) + parted);
}

void fill_glass_and_resin(Plan& plan) {
    for (PlannedPly& ply : plan.plies) {
        const auto fabric = plan.job.fabrics.find(ply.fabric);
        if (fabric == plan.job.fabrics.end())
            throw std::logic_error("a ply of an unknown fabric: " + ply.fabric);
        ply.glass_area_mm2 = ply.glass_g = ply.resin_g = 0.0;
        for (PlannedPiece& piece : ply.pieces) {
            const SquareMetres counted =
                square_metres_from_mm2(laminate_area(piece.outline, ply.kind));
            piece.glass_g = (counted * fabric->second.weight).value();
            piece.resin_g = piece.glass_g * laminate::resin_per_glass(fabric->second.glass_content);
            ply.glass_area_mm2 += area(piece.outline.parting_region());
            ply.glass_g += piece.glass_g;
            ply.resin_g += piece.resin_g;
        }
    }
}

}  // namespace tearline::quantities
