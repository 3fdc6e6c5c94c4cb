#include "core/templates/tape_ticks.h"

#include <limits>
#include <optional>

#include "core/base/length_text.h"
#include "core/pieces/chart_map.h"
#include "core/templates/label_template.h"

namespace tearline::templates {

namespace {

constexpr double tick = 8.0;    ///< [mm] long
constexpr double letter = 2.5;  ///< [mm] high
constexpr double aside = 4.0;   ///< [mm] from a tick to the middle of its words

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

/// +1 where the words go to the left of the way inward, -1 to the right: away from the next tick.
double free_side(const Crossing& crossing, const std::vector<Mark>& marks) {
    double nearest = std::numeric_limits<double>::infinity(), side = 1.0;
    for (const Mark& mark : marks) {
        if (mark.kind != "tick") continue;
        const Vec2 off = 0.5 * (mark.points[0] + mark.points[1]) - crossing.at;
        if (!(off.norm() < nearest)) continue;
        nearest = off.norm();
        side = cross2(crossing.inward, off) > 0.0 ? -1.0 : 1.0;
    }
    return side;
}

}  // namespace

void add_tape_ticks(const pieces::Piece& piece, const std::vector<TapeWay>& ways,
                    std::vector<Mark>& marks, Units units) {
    const pieces::ChartMap map(piece);
    for (const TapeWay& way : ways) {
        const auto crossing = crossing_of(map, way);
        if (!crossing) continue;
        const std::string text = way.mark + " " + length_text(crossing->left, 0, units);
        marks.push_back({"tape", {crossing->at + tick * crossing->inward, crossing->at}, text});
        // Along the tick, upright as far as that goes.
        const Vec2 middle = crossing->at +
                            (1.0 + 0.5 * text_width(text, letter)) * crossing->inward +
                            free_side(*crossing, marks) * aside * turned_left(crossing->inward);
        Vec2 up = turned_left(crossing->inward);
        if (up.y() < 0.0 || (up.y() == 0.0 && up.x() > 0.0)) up = -up;
        marks.push_back({"label", {middle - 0.5 * letter * up, middle + 0.5 * letter * up}, text});
    }
}

}  // namespace tearline::templates
