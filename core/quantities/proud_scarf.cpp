#include "core/quantities/proud_scarf.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "core/dish/planned_dish.h"
#include "core/quantities/volume_units.h"

namespace tearline::quantities {

namespace {

double thickness_at(const ScarfStep& step, double offset) {
    if (offset <= step.edge) return step.thickness;
    if (offset >= step.edge + step.band) return 0.0;
    return step.thickness * (1.0 - (offset - step.edge) / step.band);
}

/// Where the section changes its slope or jumps, from the outline to the end of the scarf.
std::vector<double> kinks(std::span<const ScarfStep> steps, std::span<const Vec2> dish) {
    const double end = dish.back().x();
    std::vector<double> at;
    for (const Vec2& point : dish) at.push_back(point.x());
    for (const ScarfStep& step : steps)
        for (const double offset : {step.edge, step.edge + step.band})
            if (offset > 0.0 && offset < end) at.push_back(offset);
    std::sort(at.begin(), at.end());
    return at;
}

/// Integral of max(0, start + slope x) (girth + 2 pi x) for x from 0 to length.
double positive_part(double start, double slope, double length, double girth) {
    double from = 0.0, to = length;
    const double end = start + slope * length;
    if (start <= 0.0 && end <= 0.0) return 0.0;
    if (start < 0.0) from = -start / slope;
    if (end < 0.0) to = -start / slope;
    const auto value = [&](double x) {
        return std::max(0.0, start + slope * x) * (girth + 2.0 * std::numbers::pi * x);
    };
    // Simpson's rule is exact for the product of two straight lines.
    return (to - from) / 6.0 * (value(from) + 4.0 * value(0.5 * (from + to)) + value(to));
}

}  // namespace

ProudScarf proud_scarf(std::span<const ScarfStep> steps, std::span<const Vec2> dish) {
    if (dish.size() < 2 || !(dish.back().x() > 0.0))
        throw std::logic_error("a scarf needs a dish profile of at least two points");
    const auto proud = [&](double offset) {
        double sum = -dish::depth_at(dish, offset);
        for (const ScarfStep& step : steps) sum += thickness_at(step, offset);
        return sum;
    };
    const std::vector<double> at = kinks(steps, dish);
    ProudScarf result{0.0, -dish.front().y()};
    for (std::size_t i = 1; i < at.size(); ++i) {
        const double length = at[i] - at[i - 1];
        if (!(length > 0.0)) continue;
        // Linear between kinks, with jumps at them: two points inside give the limits at both ends.
        const double early = proud(at[i - 1] + 0.25 * length);
        const double late = proud(at[i - 1] + 0.75 * length);
        const double middle = 0.5 * (early + late);
        result.mean_mm += middle * length;
        result.max_mm = std::max(result.max_mm, middle + std::abs(late - early));
    }
    result.mean_mm /= at.back() - at.front();
    return result;
}

Millilitres low_volume(std::span<const ScarfStep> steps, std::span<const Vec2> dish, double area,
                       double perimeter, double below) {
    if (dish.size() < 2) throw std::logic_error("a scarf needs a dish profile of two points");
    const auto low = [&](double offset) {
        double sum = dish::depth_at(dish, offset) - below;
        for (const ScarfStep& step : steps) sum -= thickness_at(step, offset);
        return sum;
    };
    double floor = dish.front().y() - below;
    for (const ScarfStep& step : steps) floor -= step.thickness;
    double volume = area * std::max(0.0, floor);
    const std::vector<double> at = kinks(steps, dish);
    for (std::size_t i = 1; i < at.size(); ++i) {
        const double length = at[i] - at[i - 1];
        if (!(length > 0.0)) continue;
        // Linear between kinks, as in proud_scarf.
        const double early = low(at[i - 1] + 0.25 * length), late = low(at[i - 1] + 0.75 * length);
        const double slope = (late - early) / (0.5 * length);
        const double start = early - 0.25 * length * slope;
        volume +=
            positive_part(start, slope, length, perimeter + 2.0 * std::numbers::pi * at[i - 1]);
    }
    return Millilitres(volume / mm3_per_millilitre);
}

}  // namespace tearline::quantities
