#include "core/quantities/glass_and_resin.h"

#include <stdexcept>

#include "core/laminate/ply_thickness.h"

namespace tearline::quantities {

namespace {

PlyAmounts amounts_of_ply(const templates::LaidPly& ply, const job::Fabric& fabric) {
    PlyAmounts amounts;
    amounts.ply = ply.number;
    for (const templates::LaidPiece& piece : ply.pieces) {
        const double glass_g = (laminate_area(piece.outline, ply.kind) * fabric.weight).value();
        const double resin_g = glass_g * laminate::resin_per_glass(fabric.glass_content);
        amounts.pieces.push_back({glass_g, resin_g});
        amounts.glass_area_mm2 += area(piece.outline.parting_region());
        amounts.glass_g += glass_g;
        amounts.resin_g += resin_g;
    }
    return amounts;
}

}  // namespace

SquareMetres laminate_area(const templates::Template& outline, job::FabricKind kind) {
    const double parted = area(outline.parting_region());
    if (kind != job::FabricKind::mat) return square_metres_from_mm2(parted);
    return square_metres_from_mm2(0.5 * (area(outline.net) + parted));
}

std::vector<PlyAmounts> glass_and_resin(std::span<const templates::LaidPly> plies,
                                        const job::Job& job) {
    std::vector<PlyAmounts> all;
    for (const templates::LaidPly& ply : plies) {
        const auto fabric = job.fabrics.find(ply.fabric);
        if (fabric == job.fabrics.end())
            throw std::logic_error("a ply of an unknown fabric: " + ply.fabric);
        all.push_back(amounts_of_ply(ply, fabric->second));
    }
    return all;
}

}  // namespace tearline::quantities
