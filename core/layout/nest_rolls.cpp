#include "core/layout/nest_rolls.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include "core/base/numbers.h"
#include "core/base/side_by_side.h"
#include "core/layout/nest.h"
#include "core/layout/use_remnant.h"

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

/// The pieces of each fabric, every copy an entry, in the order of laying.
std::vector<std::vector<CutPiece>> by_fabric(std::span<const CutPiece> pieces) {
    std::vector<std::vector<CutPiece>> all;
    for (const CutPiece& piece : pieces) {
        auto same = std::find_if(all.begin(), all.end(), [&](const auto& others) {
            return others.front().fabric == piece.fabric;
        });
        if (same == all.end()) {
            all.emplace_back();
            same = std::prev(all.end());
        }
        same->insert(same->end(), static_cast<std::size_t>(std::max(piece.copies, 1)), piece);
    }
    return all;
}

}  // namespace

std::vector<double> allowed_turns(const CutPiece& piece, double roll_width) {
    if (piece.kind == job::FabricKind::mat)
        return mat_turns(piece.outline->parting_region().outer, roll_width);
    const double along = -piece.outline->warp_degrees;
    return {along, along + 180.0};
}

Result<Rolls> nest_rolls(std::span<const CutPiece> pieces, const Stock& stock) {
    Rolls out;
    auto wanted = by_fabric(pieces);
    for (const job::Remnant& remnant : stock.remnants) {
        const auto same = std::find_if(wanted.begin(), wanted.end(), [&](const auto& of) {
            return !of.empty() && of.front().fabric == remnant.fabric;
        });
        std::vector<CutPiece> none;
        auto cut = use_remnant(remnant, stock.gap, same == wanted.end() ? none : *same);
        if (!cut) return tl::unexpected(cut.error());
        out.remnants.push_back(*std::move(cut));
    }
    std::erase_if(wanted, [](const auto& same) { return same.empty(); });
    out.rolls.resize(wanted.size());
    std::vector<Warnings> told(wanted.size());
    side_by_side(wanted.size(), [&](std::size_t i) {
        const std::vector<CutPiece>& same = wanted[i];
        out.rolls[i] =
            nested(same, stock.fabrics.at(same.front().fabric).roll_width, stock.gap, told[i]);
    });
    for (Warnings& of_roll : told)
        out.warnings.insert(out.warnings.end(), std::make_move_iterator(of_roll.begin()),
                            std::make_move_iterator(of_roll.end()));
    return out;
}

Rolls nest_rolls(std::span<const CutPiece> pieces, const job::Job& job) {
    std::vector<CutPiece> all(pieces.begin(), pieces.end());
    for (CutPiece& piece : all) piece.copies *= job.layup.copies;
    // Without remnants nothing can be locked wrongly.
    return nest_rolls(all, {job.fabrics, job.shop.cutting_gap}).value();
}

}  // namespace tearline::layout
