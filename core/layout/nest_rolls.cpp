#include "core/layout/nest_rolls.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/layout/nest.h"

namespace tearline::layout {

namespace {

struct ToCut {
    const PlannedPly* ply = nullptr;
    const PlannedPiece* piece = nullptr;
};

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

std::vector<double> allowed_turns(const PlannedPly& ply, const PlannedPiece& piece,
                                  double roll_width) {
    if (ply.kind == job::FabricKind::mat)
        return mat_turns(piece.outline.parting_region().outer, roll_width);
    const double along = -piece.outline.warp_degrees;
    return {along, along + 180.0};
}

void warn_wide(Plan& plan, const ToCut& item, double width) {
    plan.warnings.push_back(
        warning_of("wider-than-roll", item.ply->fabric + ": the piece does not fit the roll, " +
                                          said_length(width, 0) +
                                          " wide; use a wider roll, turn the axis or join two "
                                          "cloths"));
    plan.warnings.back().ply = item.ply->number;
    plan.warnings.back().piece = item.piece->piece.id;
}

Roll nested(Plan& plan, const std::string& fabric, const std::vector<ToCut>& items, double width) {
    std::vector<Shape> shapes;
    for (const ToCut& item : items)
        shapes.push_back({item.piece->outline.parting_region().outer,
                          allowed_turns(*item.ply, *item.piece, width)});
    NestOptions options;
    options.gap = plan.job.shop.cutting_gap;
    const Nest found = nest(shapes, width, options);
    Roll roll;
    roll.fabric = fabric;
    roll.width_mm = width;
    roll.length_mm = found.length;
    roll.gap_mm = options.gap;
    double used = 0.0;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (!found.places[i]) {
            warn_wide(plan, items[i], width);
            continue;
        }
        const Place& place = *found.places[i];
        roll.placed.push_back({items[i].piece->piece.id, place.move.x(), place.move.y(),
                               std::fmod(place.turn + 360.0, 360.0)});
        used += items[i].piece->outline.area_mm2;
    }
    roll.area_bound_mm = used / width;
    if (roll.length_mm > 0.0) roll.used_fraction = used / (roll.length_mm * roll.width_mm);
    return roll;
}

}  // namespace

void nest_rolls(Plan& plan) {
    plan.rolls.clear();
    std::vector<std::string> fabrics;
    for (const PlannedPly& ply : plan.plies)
        if (std::find(fabrics.begin(), fabrics.end(), ply.fabric) == fabrics.end())
            fabrics.push_back(ply.fabric);
    for (const std::string& fabric : fabrics) {
        std::vector<ToCut> items;
        for (const PlannedPly& ply : plan.plies) {
            if (ply.fabric != fabric) continue;
            for (const PlannedPiece& piece : ply.pieces)
                for (int copy = 0; copy < std::max(plan.job.layup.copies, 1); ++copy)
                    items.push_back({&ply, &piece});
        }
        plan.rolls.push_back(nested(plan, fabric, items, plan.job.fabrics.at(fabric).roll_width));
    }
}

}  // namespace tearline::layout
