#pragma once
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "core/layout/nest.h"

namespace tearline::test_support {

/// Ovals with a wave in them, some hollow, from a fixed start value.
inline std::vector<layout::Shape> irregular_shapes(std::size_t count, std::uint32_t seed) {
    std::mt19937 random(seed);
    const auto share = [&random] { return double(random() % 1000) / 1000.0; };
    std::vector<layout::Shape> shapes;
    for (std::size_t i = 0; i < count; ++i) {
        const double a = 60 + 200 * share(), b = 60 + 120 * share(), wave = 0.3 * share();
        const int lobes = 2 + static_cast<int>(random() % 3);
        layout::Shape shape{{}, {0.0, 60.0, 120.0, 180.0, 240.0, 300.0}};
        for (int k = 0; k < 90; ++k) {
            const double t = 2 * std::numbers::pi * k / 90, r = 1 + wave * std::cos(lobes * t);
            shape.outline.emplace_back(a * r * std::cos(t), b * r * std::sin(t));
        }
        shapes.push_back(shape);
    }
    return shapes;
}

}  // namespace tearline::test_support
