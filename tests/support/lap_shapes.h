#pragma once
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "core/templates/laid_ply.h"

/// Pieces that lap over the hull's end, and the closed forms of a disc that it cuts.
namespace tearline::test {

/// The line of a piece's template where the bend begins, or the one where it ends.
inline const templates::Fold& fold(const templates::LaidPiece& piece, bool first) {
    const templates::Fold* found = nullptr;
    for (const templates::Mark& mark : piece.outline.marks)
        if (const auto* one = std::get_if<templates::Fold>(&mark))
            if ((one->text.find("EDGE") != std::string::npos) == first) found = one;
    if (found == nullptr) throw std::runtime_error("no fold line on " + piece.piece.id);
    return *found;
}

/// How far the edge of a flat piece lies beyond a straight line of it, at the line's middle.
inline double beyond(const templates::LaidPiece& piece, const std::vector<Vec2>& line) {
    const Vec2 along = (line.back() - line.front()).normalized();
    const Vec2 middle = 0.5 * (line.front() + line.back());
    double farthest = 0.0;
    for (const bool left : {false, true}) {
        const Vec2 way = left ? Vec2(-along.y(), along.x()) : Vec2(along.y(), -along.x());
        const Loop2& edge = piece.outline.net.outer;
        for (std::size_t i = 0; i < edge.size(); ++i) {
            const Vec2 a = edge[i] - middle, b = edge[(i + 1) % edge.size()] - middle;
            const double from = a.dot(along), to = b.dot(along);
            if ((from > 0.0) == (to > 0.0)) continue;
            const double reach = (a + from / (from - to) * (b - a)).dot(way);
            // The lap lies on the side of the second fold.
            if ((fold(piece, false).line.front() - middle).dot(way) > 0.0)
                farthest = std::max(farthest, reach);
        }
    }
    return farthest;
}

/// Area of a disc's larger part, cut by a line at a distance from its centre.
inline double segment(double radius, double distance) {
    return radius * radius * (std::numbers::pi - std::acos(distance / radius)) +
           distance * std::sqrt(radius * radius - distance * distance);
}

/// Area of a ply round a disc of radius `reach`, `from` mm off the middle of a round hatch, that
/// laps down its rim: the disc less what the hatch cuts off it, a torus, a cylinder [mm2].
/// @param rho    radius of the ply's bend at the rim [mm]
/// @param flap   how far it goes on down the hatch's wall [mm]
inline double lapped_into_hatch(double reach, double hatch, double from, double rho, double flap) {
    const double half =
        std::acos((hatch * hatch + from * from - reach * reach) / (2.0 * hatch * from));
    const double at_disc =
        std::acos((from * from + reach * reach - hatch * hatch) / (2.0 * from * reach));
    const double lens = hatch * hatch * (half - 0.5 * std::sin(2.0 * half)) +
                        reach * reach * (at_disc - 0.5 * std::sin(2.0 * at_disc));
    const double bend = 2.0 * half * (hatch * rho * std::numbers::pi / 2.0 - rho * rho);
    return std::numbers::pi * reach * reach - lens + bend + 2.0 * half * (hatch - rho) * flap;
}

/// Length of the cut.
inline double chord(double radius, double distance) {
    return 2.0 * std::sqrt(radius * radius - distance * distance);
}

}  // namespace tearline::test
