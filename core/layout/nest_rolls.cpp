#include "core/layout/nest_rolls.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include "core/base/numbers.h"
#include "core/layout/nest.h"

namespace tearline::layout {

namespace {

double width_at(const Loop2& outline, double turn_degrees) {
    const double turn = turn_degrees * std::numbers::pi / 180.0;
    return breadth_along(outline, Vec2(std::sin(turn), std::cos(turn)));
}

/// Mat may be cut at any turn; a few are tried, and the one that makes it narrowest where it is too
/// wide for the roll at all of these.
std::vector<double> mat_turns(const Loop2& outline, double roll_width) {
    std::vector<double> turns = {0.0, 30.0, 60.0, 90.0, 120.0, 150.0, 180.0, 270.0};
    if (std::none_of(turns.begin(), turns.end(),
                     [&](double turn) { return width_at(outline, turn) <= roll_width; }))
        turns.push_back(least_breadth(outline).turn_degrees);
    return turns;
}

std::vector<double> allowed_turns(const CutPiece& piece, double roll_width) {
    if (piece.kind == job::FabricKind::mat)
        return mat_turns(piece.outline->parting_region().outer, roll_width);
    const double along = -piece.outline->warp_degrees;
    return {along, along + 180.0};
}

Warning too_wide(const CutPiece& piece, double width) {
    return {warn::WiderThanRoll{piece.fabric, width}, piece.ply, piece.id};
}

/// Pieces of one fabric on its roll.
Roll nested(const std::vector<CutPiece>& pieces, double width, double gap, Warnings& warnings) {
    std::vector<Shape> shapes;
    for (const CutPiece& piece : pieces)
        shapes.push_back({piece.outline->parting_region().outer, allowed_turns(piece, width)});
    NestOptions options;
    options.gap = gap;
    const Nest found = nest(shapes, width, options);
    Roll roll;
    roll.fabric = pieces.front().fabric;
    roll.width_mm = width;
    roll.length_mm = found.length;
    roll.gap_mm = gap;
    double used = 0.0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (!found.places[i]) {
            warnings.push_back(too_wide(pieces[i], width));
            continue;
        }
        const Place& place = *found.places[i];
        roll.placed.push_back(
            {pieces[i].id, place.move.x(), place.move.y(), std::fmod(place.turn + 360.0, 360.0)});
        used += pieces[i].outline->area_mm2;
    }
    roll.area_bound_mm = used / width;
    if (roll.length_mm > 0.0) roll.used_fraction = used / (roll.length_mm * roll.width_mm);
    return roll;
}

}  // namespace

Rolls nest_rolls(std::span<const CutPiece> pieces, const job::Job& job) {
    std::vector<std::vector<CutPiece>> by_fabric;  // in the order of laying
    for (const CutPiece& piece : pieces) {
        auto same = std::find_if(by_fabric.begin(), by_fabric.end(), [&](const auto& others) {
            return others.front().fabric == piece.fabric;
        });
        if (same == by_fabric.end()) {
            by_fabric.emplace_back();
            same = std::prev(by_fabric.end());
        }
        same->insert(same->end(), static_cast<std::size_t>(std::max(job.layup.copies, 1)), piece);
    }
    Rolls out;
    for (const auto& same : by_fabric)
        out.rolls.push_back(nested(same, job.fabrics.at(same.front().fabric).roll_width,
                                   job.shop.cutting_gap, out.warnings));
    return out;
}

}  // namespace tearline::layout
