#include "core/closing/passes_hole.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tearline::closing {

double least_length(double width, double lap, double thick) {
    const double share = thick / width;
    if (!(share < 1.0)) return std::numeric_limits<double>::infinity();
    return (width + 2.0 * lap) / std::sqrt(1.0 - share * share);
}

bool passes_hole(double length, double width, double lap, double thick) {
    return length >= least_length(width, lap, thick);
}

double roll_radius(double length, double width, double thick) {
    return 0.5 * std::min(length, width) - thick;
}

}  // namespace tearline::closing
