#include "core/templates/tape_ticks.h"

#include "core/base/numbers.h"
#include "core/pieces/chart_map.h"

namespace tearline::templates {

std::vector<Mark> tape_ticks(const pieces::Piece& piece, const std::vector<TapeWay>& ways) {
    constexpr double tick = 8.0;  // [mm] long
    const pieces::ChartMap map(piece);
    const auto to_flat = [&](const Vec2& chart) { return map.flat_at(chart); };
    std::vector<Mark> marks;
    for (const TapeWay& way : ways) {
        std::size_t last = way.chart.size();
        for (std::size_t i = 0; i < way.chart.size(); ++i)
            if (to_flat(way.chart[i])) last = i;
        if (last + 1 >= way.chart.size()) continue;
        // The edge lies between this point and the next one.
        double inside = 0.0, outside = 1.0;
        constexpr int halvings = 30;
        Vec2 edge = *to_flat(way.chart[last]);
        for (int step = 0; step < halvings; ++step) {
            const double middle = 0.5 * (inside + outside);
            const auto at =
                to_flat((1.0 - middle) * way.chart[last] + middle * way.chart[last + 1]);
            if (at) edge = *at;
            (at ? inside : outside) = middle;
        }
        const double from_middle = way.spacing * (static_cast<double>(last) + inside);
        const auto back = static_cast<std::size_t>(tick / way.spacing);
        const auto inner = to_flat(way.chart[last > back ? last - back : 0]);
        if (!inner || !((edge - *inner).norm() > 0.0)) continue;
        const Vec2 inward = (*inner - edge).normalized();
        marks.push_back({"tick",
                         {edge + tick * inward, edge},
                         way.mark + " " + fixed(way.length - from_middle, 0) + " mm"});
    }
    return marks;
}

}  // namespace tearline::templates
