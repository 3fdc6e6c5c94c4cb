#pragma once
#include <cstddef>
#include <vector>

namespace tearline::hull {

/// Knots as OpenCASCADE wants them: each once, with how often it counts.
struct SplineKnots {
    std::vector<double> value;
    std::vector<int> times;

    explicit SplineKnots(const std::vector<double>& all) {
        for (const double knot : all) {
            if (value.empty() || knot > value.back()) {
                value.push_back(knot);
                times.push_back(0);
            }
            ++times.back();
        }
    }
};

/// The same in one of OpenCASCADE's arrays, which count from 1.
template <class Array, class T>
[[nodiscard]] Array array_of(const std::vector<T>& all) {
    Array array(1, static_cast<int>(all.size()));
    for (std::size_t i = 0; i < all.size(); ++i) array.SetValue(static_cast<int>(i) + 1, all[i]);
    return array;
}

}  // namespace tearline::hull
