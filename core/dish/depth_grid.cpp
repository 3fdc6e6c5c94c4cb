#include <algorithm>
#include <cmath>

#include "core/dish/measured_dish.h"
#include "core/plane/box.h"

namespace tearline::dish {

plane::GridField sampled(const MeasuredDish& dish, double margin) {
    constexpr double cells = 160.0;
    plane::GridField field;
    std::vector<Vec2> edges;
    for (const Region2& region : dish.ground())
        edges.insert(edges.end(), region.outer.begin(), region.outer.end());
    auto [low, high] = plane::box_round(edges);
    field.low = low;
    field.step = (high - field.low).maxCoeff() / cells;
    // A rim of zeros all round, so that every curve closes.
    const Vec2 rim = Vec2::Constant(margin + 2.0 * field.step);
    field.low -= rim;
    high += rim;
    field.columns = static_cast<int>(std::ceil((high.x() - field.low.x()) / field.step)) + 1;
    field.rows = static_cast<int>(std::ceil((high.y() - field.low.y()) / field.step)) + 1;
    field.value.resize(static_cast<std::size_t>(field.columns) *
                       static_cast<std::size_t>(field.rows));
    for (int r = 0; r < field.rows; ++r)
        for (int c = 0; c < field.columns; ++c) field.at(c, r) = dish.depth(field.place(c, r));
    return field;
}

plane::GridField still_to_grind(const plane::GridField& dish, double ratio) {
    plane::GridField need = dish;
    const double fall = dish.step / ratio;  // of the gentlest wall from crossing to crossing
    // Heights fall outward from where it is deep: the same as arrival times that grow.
    const auto relax = [&](int c, int r) {
        const double a = std::max(c > 0 ? need.at(c - 1, r) : 0.0,
                                  c + 1 < need.columns ? need.at(c + 1, r) : 0.0);
        const double b =
            std::max(r > 0 ? need.at(c, r - 1) : 0.0, r + 1 < need.rows ? need.at(c, r + 1) : 0.0);
        const double differ = std::abs(a - b);
        const double from_neighbours =
            differ >= fall ? std::max(a, b) - fall
                           : 0.5 * (a + b - std::sqrt(2.0 * fall * fall - differ * differ));
        if (from_neighbours > need.at(c, r)) need.at(c, r) = from_neighbours;
    };
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round)
        for (int way = 0; way < 4; ++way)
            for (int i = 0; i < need.rows; ++i)
                for (int j = 0; j < need.columns; ++j)
                    relax(way % 2 == 0 ? j : need.columns - 1 - j,
                          way / 2 == 0 ? i : need.rows - 1 - i);
    for (std::size_t i = 0; i < need.value.size(); ++i) need.value[i] -= dish.value[i];
    return need;
}

}  // namespace tearline::dish
