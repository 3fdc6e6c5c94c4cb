#include "core/dish/scanned_dish.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "core/plane/box.h"

namespace tearline::dish {

namespace {

/// [-] correlations of the noise: waves up to this long are taken for noise. Rims are rounded over
/// as much, at 12 : 1 by a few hundredths of a mm.
constexpr double smoothed = 5.0;
constexpr double least_fairness = 15.0;  // [mm]
constexpr double most_cells = 90.0;      // along the larger side
constexpr double knots_a_length = 3.0;   // what is finer is noise anyway

bool in_any(const std::vector<Region2>& regions, const Vec2& p) {
    return std::any_of(regions.begin(), regions.end(),
                       [&](const Region2& region) { return contains(region, p); });
}

/// The deepest place of a field over the ground, less what noise adds to the deepest of many.
double deepest_of(const plane::GridField& field, const scan::FairField& smooth, double density) {
    constexpr double of_many = 2.0;  // spreads that the deepest of some dozen places lies out by
    double most = 0.0;
    Vec2 at(0, 0);
    for (int row = 0; row < field.rows; ++row)
        for (int column = 0; column < field.columns; ++column)
            if (field.at(column, row) > most) {
                most = field.at(column, row);
                at = field.place(column, row);
            }
    return std::max(0.0, most - of_many * std::sqrt(density * smooth.noise_gain(at)));
}

}  // namespace

Result<ScannedDish> ScannedDish::through(std::vector<Region2> ground,
                                         std::vector<scan::FieldPoint> depths,
                                         const scan::Noise& noise) {
    std::vector<Vec2> edges;
    for (const Region2& region : ground)
        edges.insert(edges.end(), region.outer.begin(), region.outer.end());
    const auto box = plane::box_round(edges);
    const Vec2 low = box.low, high = box.high;
    const double length = std::max(least_fairness, smoothed * noise.correlation);
    const Vec2 rim = Vec2::Constant(length);
    const double cell = std::max(length / knots_a_length, (high - low).maxCoeff() / most_cells);
    std::size_t within = 0;
    std::erase_if(depths, [&](const scan::FieldPoint& point) {
        return (point.uv - low).minCoeff() < -length || (high - point.uv).minCoeff() < -length;
    });
    for (const scan::FieldPoint& point : depths) within += in_any(ground, point.uv);
    constexpr std::size_t fewest = 50;
    if (within < fewest)
        return bad_input("damage.scan", "only " + std::to_string(within) +
                                            " of its points lie in the ground area; scan it again, "
                                            "or check where its marks are");
    const auto grid = scan::FieldGrid::over(low - rim, high + rim, cell);
    const std::vector<double> lengths(static_cast<std::size_t>(grid.cells()), length);
    ScannedDish dish(std::move(ground));
    auto field = scan::FairFit(grid, lengths).through(depths);
    if (!field)
        return bad_input("damage.scan",
                         "its points in the ground area lie along one line; scan the "
                         "whole of it");
    dish.field_ = std::move(*field);
    dish.deepest_ = std::numeric_limits<double>::infinity();
    dish.deepest_ = deepest_of(sampled(dish, 0.0), dish.field_, noise.density());
    if (!(dish.deepest_ > 0.0))
        return bad_input("damage.scan",
                         "shows nothing below the old surface inside the outline: is it the scan "
                         "from after grinding?");
    dish.find_levels();
    return dish;
}

Vec2 ScannedDish::slope(const Vec2& chart_point) const {
    const auto jet = field_.jet(chart_point);
    return {jet.du, jet.dv};
}

}  // namespace tearline::dish
