#include "core/dish/scanned_dish.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include "core/plane/box.h"
#include "core/scan/robust.h"

namespace tearline::dish {

namespace {

/// [mm], of noise of 1 mm4. Smoothing at l leaves noise of spread sqrt(2.53 density) / l, and of a
/// rim where the ground turns by 1 in 12 it takes l / 227 (both derived, by the wave law): they are
/// alike at this times the fourth root of the density.
constexpr double length_of_noise = 19.0;
constexpr double least_fairness = 15.0;  // [mm]
constexpr double widths = 3.0;           // [-] l in the narrower side of the ground, at least
constexpr double most_cells = 90.0;      // along the larger side
constexpr double knots_a_length = 4.5;   // three in the shorter length
constexpr double less_fair = 1.5;        // [-] the shorter length tells how much hangs on it
/// [-] l^2 in the area that counts as one place of many when the largest of a smooth field is asked
/// for (derived: by the expected Euler characteristic of what lies above, within 0.1 spreads).
constexpr double one_place = 0.08;

bool in_any(const std::vector<Region2>& regions, const Vec2& p) {
    return std::any_of(regions.begin(), regions.end(),
                       [&](const Region2& region) { return contains(region, p); });
}

/// By how many spreads the largest of so many independent values lies out, on average.
/// @source  fitted to the table of expected normal order statistics within 0.1 from 1 to 1000
double most_of(double count) {
    return count > 1.0 ? std::max(0.0, std::sqrt(2.0 * std::log(count)) - 0.6) : 0.0;
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
    const double length =
        std::max(least_fairness, std::min(length_of_noise * std::pow(noise.density(), 0.25),
                                          (high - low).minCoeff() / widths));
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
    const auto through = [&](double l) {
        const std::vector<double> lengths(static_cast<std::size_t>(grid.cells()), l);
        return scan::FairFit(grid, lengths).through(depths);
    };
    auto field = through(length), shorter = through(length / less_fair);
    if (!field || !shorter)
        return bad_input("damage.scan",
                         "its points in the ground area lie along one line; scan the "
                         "whole of it");
    ScannedDish dish(std::move(ground));
    dish.field_ = std::move(*field);
    dish.less_fair_ = std::move(*shorter);
    dish.length_ = length;
    dish.density_ = noise.density();
    dish.find_deepest();
    if (!(dish.deepest_ > 0.0))
        return bad_input("damage.scan",
                         "shows nothing below the old surface inside the outline: is it the scan "
                         "from after grinding?");
    dish.find_levels();
    return dish;
}

void ScannedDish::find_deepest() {
    deepest_ = std::numeric_limits<double>::infinity();
    const plane::GridField field = sampled(*this, 0.0);
    std::size_t at = 0;
    for (std::size_t i = 0; i < field.value.size(); ++i)
        if (field.value[i] > field.value[at]) at = i;
    const auto columns = static_cast<std::size_t>(field.columns);
    const Vec2 place = field.place(static_cast<int>(at % columns), static_cast<int>(at / columns));
    const double most = field.value[at];
    const double spread = std::sqrt(density_ * field_.noise_gain(place));
    // What may be as deep as the deepest place but for noise is the floor: the larger it is, the
    // farther noise throws its deepest place out. As deep as its middle is the dish.
    double added = 3.0 * spread, places = 0.0;
    std::vector<double> floor;
    constexpr int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
        floor.clear();
        for (const double deep : field.value)
            if (deep > 0.0 && deep >= most - 2.0 * added) floor.push_back(deep);
        const double area = static_cast<double>(floor.size()) * field.step * field.step;
        places = area / (one_place * length_ * length_);
        added = most_of(places) * spread;
    }
    deepest_ = scan::median(floor);
    // The mean of a floor scatters by sqrt(4.9 / places) of one place (derived, by the wave law);
    // its middle, which hangs on where it ends, twice as much (seen over 60 noises).
    constexpr double of_floor = 20.0;
    deepest_error_ =
        depth_error(place) * std::min(1.0, std::sqrt(of_floor / std::max(1.0, places)));
}

double ScannedDish::depth_error(const Vec2& chart_point) const {
    // Of what the shorter length changes, noise alone is worth half its variance (0.53, by the wave
    // law): only what is more is of the ground's own shape.
    constexpr double of_noise = 0.53;
    const double by_noise = density_ * field_.noise_gain(chart_point);
    const double change = field_.at(chart_point) - less_fair_.at(chart_point);
    return std::sqrt(by_noise + std::max(0.0, change * change - of_noise * by_noise));
}

Vec2 ScannedDish::slope(const Vec2& chart_point) const {
    const auto jet = field_.jet(chart_point);
    return {jet.du, jet.dv};
}

}  // namespace tearline::dish
