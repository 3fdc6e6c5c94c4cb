#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/base/outline.h"
#include "core/base/tolerances.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/lay_down.h"
#include "core/pieces/lay_membrane.h"
#include "core/pieces/strain_measures.h"
#include "core/pieces/tolerances.h"

namespace tearline::pieces {

namespace {

double width_across(const Piece& piece, double turn_degrees) {
    const double turn = turn_degrees * std::numbers::pi / 180.0;
    return breadth_along(piece.flat, Vec2(std::sin(turn), std::cos(turn)));
}

std::string worst_text(const Piece& piece) {
    const auto worst = worst_place(piece);
    return place_text(worst ? worst->on_hull : piece.base.front());
}

/// A limit as the job gives it, but for rounding.
std::string limit_text(double limit) {
    return shortest(std::round(limit * 1000.0) / 1000.0);
}

/// A figure over its limit, told so finely that it reads as over it.
std::string over_text(double value, double limit) {
    int digits = 1;
    while (digits < 4 && fixed(value, digits) == fixed(limit, digits)) ++digits;
    return fixed(value, digits);
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

Sentence complaint(const Piece& piece, const job::Fabric& fabric) {
    const Sentence near = plainly(" near " + worst_text(piece), "");
    if (fabric.kind == job::FabricKind::mat && piece.strain_max > fabric.strain_limit)
        return "must give " + over_text(100.0 * piece.strain_max, 100.0 * fabric.strain_limit) +
               " %" + near + plainly(", over the strain_limit of ", ", more than mat bears, ") +
               limit_text(100.0 * fabric.strain_limit) + " %";
    if (fabric.kind != job::FabricKind::mat && piece.shear_max.value_or(0.0) > fabric.shear_limit)
        return "must shear by " + over_text(*piece.shear_max, fabric.shear_limit) + " degrees" +
               near + plainly(", over the shear_limit of ", ", more than the cloth bears, ") +
               limit_text(fabric.shear_limit) + " degrees";
    if (roll_need(piece, fabric) > fabric.roll_width)
        return "is " + said_length(roll_need(piece, fabric), 0) + " wide, " +
               plainly("over the roll_width of ", "wider than its roll, ") +
               said_length(fabric.roll_width, 0);
    return {};
}

}  // namespace tearline::pieces
