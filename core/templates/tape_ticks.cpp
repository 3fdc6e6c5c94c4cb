#include "core/templates/tape_ticks.h"

#include <optional>

#include "core/base/length_text.h"
#include "core/pieces/chart_map.h"

namespace tearline::templates {

namespace {

constexpr double tick = 8.0;  ///< [mm] long

struct Crossing {
    Vec2 at{0, 0}, inward{0, 0};  ///< [mm] on the flat piece; a unit vector
    double left = 0.0;            ///< [mm] from there to the mark
};

/// Where a tape leaves a piece for the last time.
std::optional<Crossing> crossing_of(const pieces::ChartMap& map, const TapeWay& way) {
    std::size_t last = way.chart.size();
    for (std::size_t i = 0; i < way.chart.size(); ++i)
        if (map.flat_at(way.chart[i])) last = i;
    if (last + 1 >= way.chart.size()) return std::nullopt;
    // The edge lies between this point and the next one.
    double inside = 0.0, outside = 1.0;
    Crossing crossing{*map.flat_at(way.chart[last]), {0, 0}, 0.0};
    constexpr int halvings = 30;
    for (int step = 0; step < halvings; ++step) {
        const double middle = 0.5 * (inside + outside);
        const auto at =
            map.flat_at((1.0 - middle) * way.chart[last] + middle * way.chart[last + 1]);
        if (at) crossing.at = *at;
        (at ? inside : outside) = middle;
    }
    crossing.left = way.length - way.spacing * (static_cast<double>(last) + inside);
    const auto back = static_cast<std::size_t>(tick / way.spacing);
    const auto inner = map.flat_at(way.chart[last > back ? last - back : 0]);
    if (!inner || !((crossing.at - *inner).norm() > 0.0)) return std::nullopt;
    crossing.inward = (*inner - crossing.at).normalized();
    return crossing;
}

}  // namespace

void add_tape_ticks(const pieces::Piece& piece, const std::vector<TapeWay>& ways,
                    std::vector<Mark>& marks, Units units) {
    const pieces::ChartMap map(piece);
    for (const TapeWay& way : ways) {
        const auto crossing = crossing_of(map, way);
        if (!crossing) continue;
        const std::string text = way.mark + " " + length_text(crossing->left, 0, units);
        marks.emplace_back(Tape{crossing->at + tick * crossing->inward, crossing->at, text});
    }
}

}  // namespace tearline::templates
