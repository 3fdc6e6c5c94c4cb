#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/outline.h"
#include "core/base/tolerances.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/lay_down.h"
#include "core/pieces/strain_measures.h"
#include "core/pieces/tolerances.h"

namespace tearline::pieces {

namespace {

double width_across(const Piece& piece, double turn_degrees) {
    const double turn = turn_degrees * std::numbers::pi / 180.0;
    return breadth_along(piece.flat, Vec2(std::sin(turn), std::cos(turn)));
}

}  // namespace

std::optional<WorstPlace> worst_place(const Piece& piece) {
    // Where there is next to none, the place is that of rounding.
    const bool none = piece.shear_max ? *piece.shear_max < tolerance::no_shear
                                      : piece.strain_max < tolerance::no_strain;
    if (piece.worst_triangle < 0 || none) return std::nullopt;
    WorstPlace worst;
    for (const std::int32_t v :
         piece.lay.triangle[static_cast<std::size_t>(piece.worst_triangle)]) {
        worst.on_hull += piece.base[static_cast<std::size_t>(v)] / 3.0;
        worst.flat += piece.flat[static_cast<std::size_t>(v)] / 3.0;
    }
    return worst;
}

double roll_need(const Piece& piece, const job::Fabric& fabric) {
    if (fabric.kind != job::FabricKind::mat) {
        const double lap = piece.seams.empty() ? 0.0 : fabric.lap;
        return width_across(piece, -piece.warp_degrees.value_or(0.0)) + lap;
    }
    return least_breadth(piece.flat).width + 2.0 * fabric.tear_margin;
}

bool within_limit(const Piece& piece, const job::Fabric& fabric) {
    return fabric.kind == job::FabricKind::mat
               ? piece.strain_max <= fabric.strain_limit
               : piece.shear_max.value_or(0.0) <= fabric.shear_limit;
}

bool lies_down(const Piece& piece, const job::Fabric& fabric) {
    return within_limit(piece, fabric) && roll_need(piece, fabric) <= fabric.roll_width;
}

warn::Complaint complaint(const Piece& piece, const job::Fabric& fabric) {
    using Of = warn::Complaint::Of;
    if (within_limit(piece, fabric))
        return {Of::width, roll_need(piece, fabric), fabric.roll_width};
    const auto worst = worst_place(piece);
    const Vec3 at = worst ? worst->on_hull : piece.base.front();
    if (fabric.kind == job::FabricKind::mat)
        return {Of::strain, 100.0 * piece.strain_max, 100.0 * fabric.strain_limit, at};
    return {Of::shear, *piece.shear_max, fabric.shear_limit, at};
}

}  // namespace tearline::pieces
