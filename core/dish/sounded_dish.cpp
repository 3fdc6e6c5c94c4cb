#include "core/dish/sounded_dish.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/dish/tolerances.h"

namespace tearline::dish {
namespace {

/// Points along the edges of the ground area, about `spacing` apart.
std::vector<Vec2> along_edges(const std::vector<Region2>& ground, double spacing) {
    std::vector<Vec2> points;
    const auto walk = [&](const Loop2& loop) {
        const int count = std::max(8, static_cast<int>(std::ceil(perimeter(loop) / spacing)));
        const double step = perimeter(loop) / count;
        double passed = 0.0;
        int next = 0;
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
            const double length = (b - a).norm();
            // Counted, not summed: by rounding, a sum comes round to the first point once more.
            for (; next < count && next * step < passed + length; ++next)
                points.push_back(a + (next * step - passed) / length * (b - a));
            passed += length;
        }
    };
    for (const Region2& region : ground) {
        walk(region.outer);
        for (const Loop2& hole : region.holes) walk(hole);
    }
    return points;
}

/// Soundings that tell the shape of a dish: fewer places than that say nothing of its walls.
constexpr std::size_t least_places = 5;

std::string depth_of(const ChartSounding& sounding) {
    return "(" + fixed(sounding.depth, 1) + " mm)";
}

/// Soundings too near to each other for their difference.
Result<std::vector<ChartSounding>> agreeing(std::vector<ChartSounding> soundings) {
    std::vector<ChartSounding> kept;
    for (ChartSounding& sounding : soundings) {
        bool repeated = false;
        for (const ChartSounding& other : kept) {
            const double apart = (sounding.at - other.at).norm();
            const double differ = std::abs(sounding.depth - other.depth);
            if (differ > tolerance::sounding_differs + apart)
                return tl::unexpected<Error>(
                    Error{.key = other.name,
                          .what = depth_of(other) + " and " + sounding.name + " " +
                                  depth_of(sounding) + " lie " + fixed(apart, 1) +
                                  " mm apart and differ by " + fixed(differ, 1) +
                                  " mm: a wall steeper than 45 degrees; measure both again",
                          .subject = true});
            repeated = repeated || apart < tolerance::sounding_repeated;
        }
        if (!repeated) kept.push_back(std::move(sounding));
    }
    return kept;
}

}  // namespace

Result<SoundedDish> SoundedDish::through(std::vector<Region2> ground,
                                         std::vector<ChartSounding> given) {
    const std::size_t count = given.size();
    auto soundings = agreeing(std::move(given));
    if (!soundings) return tl::unexpected(soundings.error());
    if (soundings->size() < least_places && soundings->size() < count)
        return bad_input("damage.sounding",
                         std::to_string(count) + " soundings in only " +
                             std::to_string(soundings->size()) + " place(s), the others within " +
                             fixed(tolerance::sounding_repeated, 0) + " mm of those; sound " +
                             std::to_string(least_places) +
                             " places or more, the deepest one and some "
                             "between it and the edge");
    double around = 0.0;
    for (const Region2& region : ground) around += perimeter(region.outer);
    constexpr double edge_points = 96.0;
    SoundedDish dish(std::move(ground));
    std::vector<PlatePoint> points;
    for (const ChartSounding& sounding : *soundings) {
        points.push_back({sounding.at, sounding.depth});
        dish.deepest_ = std::max(dish.deepest_, sounding.depth);
    }
    // A floor ends at a crease: the walls go on above it, and the floor cuts them off.
    for (PlatePoint& point : points)
        point.at_least = point.height >= dish.deepest_ - tolerance::sounding_floor;
    // Two heights in one place leave the plate undetermined: its weights would grow until rounding
    // shows in the edges of plies.
    for (const Vec2& p : along_edges(dish.ground_, around / edge_points)) {
        const bool crowded =
            std::any_of(points.begin(), points.end(), [&](const PlatePoint& other) {
                return (other.at - p).norm() < tolerance::sounding_repeated;
            });
        if (!crowded) points.push_back({p, 0.0});
    }
    dish.plate_ = ThinPlate(points);
    dish.name_outliers(*soundings, points);
    dish.find_levels();
    return dish;
}

void SoundedDish::name_outliers(const std::vector<ChartSounding>& soundings,
                                const std::vector<PlatePoint>& points) {
    Eigen::MatrixXd inverse = plate_inverse(points);
    Eigen::VectorXd weight = Eigen::VectorXd::Zero(inverse.rows());
    for (std::size_t i = 0; i < points.size(); ++i)
        weight += points[i].height * inverse.col(static_cast<Eigen::Index>(i));
    // Rippa 1999: what the others foretell, without solving again for each one left out.
    for (std::size_t i = 0; i < soundings.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        surprise_.push_back(-weight[k] / inverse(k, k));
    }
    // A misread sounding surprises its neighbours, too: the worst is named and left out, then the
    // others are looked at again. One that stands alone is foretold badly, however well it was
    // read: each by its own variance.
    std::vector<std::size_t> kept(soundings.size());
    std::iota(kept.begin(), kept.end(), std::size_t{0});
    const auto expected = [&](std::size_t i) {
        double deepest = 0.0;
        for (const std::size_t j : kept)
            if (j != i) deepest = std::max(deepest, soundings[j].depth);
        const auto k = static_cast<Eigen::Index>(i);
        return std::clamp(soundings[i].depth - weight[k] / inverse(k, k), 0.0, deepest);
    };
    const auto surprise = [&](std::size_t i) {
        const auto k = static_cast<Eigen::Index>(i);
        return std::abs(expected(i) - soundings[i].depth) * std::sqrt(std::abs(inverse(k, k)));
    };
    constexpr std::size_t most = 5, least_kept = 4;
    while (warnings_.size() < most && kept.size() > least_kept) {
        const std::size_t worst = *std::max_element(
            kept.begin(), kept.end(),
            [&](std::size_t i, std::size_t j) { return surprise(i) < surprise(j); });
        const double by_others = expected(worst), scaled = surprise(worst);
        kept.erase(std::find(kept.begin(), kept.end(), worst));
        const auto k = static_cast<Eigen::Index>(worst);
        weight -= weight[k] / inverse(k, k) * inverse.col(k);
        const Eigen::VectorXd column = inverse.col(k);
        inverse -= column * column.transpose() / column[k];
        std::vector<double> others;
        for (const std::size_t j : kept) others.push_back(surprise(j));
        const auto middle = others.begin() + static_cast<std::ptrdiff_t>(others.size() / 2);
        std::nth_element(others.begin(), middle, others.end());
        if (!(std::abs(by_others - soundings[worst].depth) > tolerance::sounding_outlier &&
              scaled > tolerance::sounding_scatter * *middle))
            return;
        warnings_.push_back(
            {warn::SoundingDisagrees{soundings[worst].name, soundings[worst].depth, by_others}});
    }
}

}  // namespace tearline::dish
