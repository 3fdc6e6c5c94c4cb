#include "core/drawing/place_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace tearline::drawing {

namespace {

using Places = std::vector<WordPlacer::Place>;

constexpr double beside = 1.0;  // [-] cost of a place that is not the usual one

double line_cost(Role role) {
    return is_parted(role) ? TextRoom::on_edge : TextRoom::on_line;
}

/// How far upright words reach from their middle in a direction.
double reach(const std::string& text, double height, const Vec2& way) {
    return 0.5 * (std::abs(way.x()) * height * letters_width(text) + std::abs(way.y()) * height);
}

}  // namespace

WordPlacer::WordPlacer(Drawing& drawing) : drawing_(&drawing) {
    for (const Drawing::Line& line : drawing.lines)
        if (line.role != Role::notch && line.role != Role::drill)
            room_.add_line(line.points, line.closed, line_cost(line.role));
    for (const Drawing::Text& text : drawing.texts) room_.add_text(box_of(text));
}

bool WordPlacer::put(const Places& places, double most) {
    const Place* best = nullptr;
    double least = most;
    for (const Place& place : places) {
        if (place.text.text.empty() || place.cost >= least) continue;
        const double cost = place.cost + room_.cost(box_of(place.text));
        if (cost >= least) continue;
        best = &place;
        least = cost;
    }
    if (!best) return false;
    drawing_->texts.push_back(best->text);
    room_.add_text(box_of(best->text));
    return true;
}

namespace {

/// A place on a closed line, and the way it runs there.
struct OnLoop {
    Vec2 at{0, 0}, way{1, 0};
};

/// Places all along a loop, `step` apart.
std::vector<OnLoop> walk(const Loop2& loop, double step) {
    std::vector<OnLoop> places;
    double left = 0.5 * step;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % loop.size()];
        const double length = (b - a).norm();
        for (; length > 0.0 && left <= length; left += step)
            places.push_back({a + left / length * (b - a), (b - a) / length});
        left -= length;
    }
    return places;
}

constexpr double along_clear = 0.75;  // [-] of a capital's height, from a line to words along it

}  // namespace

bool WordPlacer::along(const Loop2& loop, const std::string& text, double height, double spacing,
                       double most) {
    constexpr double step = 6.0;  // [mm] from try to try
    const std::vector<OnLoop> all = walk(loop, step);
    const auto count =
        static_cast<std::size_t>(std::max(1, static_cast<int>(perimeter(loop) / spacing)));
    bool any = false;
    for (std::size_t k = 0; k < count; ++k) {
        // Each stretch of the loop has its words, as near to its middle as may be.
        const std::size_t from = all.size() * k / count, to = all.size() * (k + 1) / count;
        Places places;
        for (std::size_t i = from; i < to; ++i) {
            const double off_middle =
                step * std::abs(static_cast<double>(i) - 0.5 * static_cast<double>(from + to));
            const Vec2 inward = turned_left(all[i].way);
            const double off = stand_off(loop, all[i].at, inward, 0.5 * text_width(text, height));
            const Vec2 middle = all[i].at + (off + (along_clear + 0.5) * height) * inward;
            places.push_back(
                {words_along(middle, all[i].way, text, height), 0.1 * off_middle + off});
        }
        any = put(places, most) || any;
    }
    return any;
}

void WordPlacer::along(const Loop2& loop, const std::string& text, double spacing) {
    constexpr double least_room = 12.0;  // [mm] loops shorter than this round get no words
    if (loop.size() < 3 || !(perimeter(loop) > least_room)) return;
    // Smaller between lines that run close together [mm].
    constexpr double usual = 2.1, smaller = 1.75, smallest = 1.3;
    for (const double height : {usual, smaller, smallest})
        if (along(loop, text, height, spacing, TextRoom::on_line)) return;
    along(loop, text, smallest, perimeter(loop), anywhere);
}

void WordPlacer::along_end(const Vec2& middle, const Vec2& end, const std::string& text) {
    constexpr double height = 2.1, step = 8.0;  // [mm]
    const Vec2 way = (end - middle).normalized(), aside = turned_left(way);
    const double half = 0.5 * text_width(text, height);
    Places places;
    for (double back = half + step; back < (end - middle).norm() - half; back += step)
        for (const double side : {1.0, -1.0})
            places.push_back(
                {words_along(end - back * way + side * (along_clear + 0.5) * height * aside, way,
                             text, height),
                 0.2 * back});
    put(places, TextRoom::on_line);
}

Drawing::Text words_along(const Vec2& middle, const Vec2& way, const std::string& text,
                          double height) {
    const bool readable = way.x() > 0.0 || (way.x() == 0.0 && way.y() > 0.0);
    const Vec2 up = height * turned_left(readable ? way : Vec2(-way));
    return {middle - 0.5 * up, up, text};
}

Drawing::Text upright_words(const Vec2& middle, const std::string& text, double height) {
    return {middle - Vec2(0, 0.5 * height), Vec2(0, height), text, false};
}

namespace {

/// Words that stand `clear` beyond a place in a direction.
Drawing::Text words_beyond(const Vec2& from, const Vec2& way, double clear, const std::string& text,
                           double height) {
    return upright_words(from + (clear + reach(text, height, way)) * way, text, height);
}

}  // namespace

Places beside_arrow(const Vec2& tail, const Vec2& tip, const std::string& text) {
    constexpr double height = 3.0, clear = 2.0;
    const Vec2 along = (tip - tail).normalized(), aside = turned_left(along);
    Places places;
    const auto add = [&](const Vec2& from, const Vec2& way, double cost) {
        places.push_back({words_beyond(from, way, clear, text, height), cost});
    };
    add(tip, along, 0.0);
    for (const double share : {0.5, 0.8, 0.2})
        for (const double side : {1.0, -1.0})
            add(tail + share * (tip - tail), side * aside, beside * (2.0 - share));
    add(tip + clear * along, (along + aside).normalized(), 3.0 * beside);
    add(tip + clear * along, (along - aside).normalized(), 3.0 * beside);
    return places;
}

Places beside_tick(const Vec2& inner, const Vec2& outer, const std::string& text) {
    constexpr double height = 2.5, clear = 1.5;
    const Vec2 inward = (inner - outer).normalized(), aside = turned_left(inward);
    Places places;
    const auto add = [&](const Vec2& from, const Vec2& way, double cost) {
        places.push_back({words_beyond(from, way, clear, text, height), cost});
    };
    // Beyond a line that runs close by the tick's end sooner than on it.
    for (const double further : {0.0, 2.0, 4.0, 6.0, 9.0, 12.0, 16.0, 20.0, 25.0, 30.0})
        add(inner + further * inward, inward, 0.2 * further * beside);
    for (const double along : {1.0, 3.0, 5.0})
        for (const double side : {1.0, -1.0})
            add(inner - along * inward, side * aside, (2.0 + along) * beside);
    // Beside its outer part and on outwards, where the piece inside is too small.
    constexpr double back = 6.0;
    for (const double side : {1.0, -1.0})
        add(outer + back * inward + side * (clear + reach(text, height, aside)) * aside, -inward,
            8.0 * beside);
    add(outer, -inward, 20.0 * beside);
    return places;
}

Places beside_tape(const Vec2& inner, const Vec2& outer, const std::string& text) {
    constexpr double height = 2.5, clear = 1.0;
    const Vec2 inward = (inner - outer).normalized(), aside = turned_left(inward);
    Places places = beside_tick(inner, outer, text);
    // Words longer than the tick stand alongside it, inside the edge.
    for (const double off : {3.0, 5.0, 7.0, 10.0, 14.0})
        for (const double side : {1.0, -1.0})
            for (const double further : {0.0, 2.0, 5.0})
                places.push_back({words_beyond(outer + further * inward + side * off * aside,
                                               inward, clear, text, height),
                                  (1.0 + 0.3 * off + 0.2 * further) * beside});
    return places;
}

Places beside_fibre(const Vec2& from, const Vec2& to, const std::string& text) {
    constexpr double height = 2.5, clear = 1.5;
    Vec2 along = (to - from).normalized();
    if (along.x() < 0.0) along = -along;
    const Vec2 up = turned_left(along), middle = 0.5 * (from + to);
    const double beyond = 0.5 * (to - from).norm() + clear + 0.5 * height * letters_width(text);
    const auto words = [&](const Vec2& base) { return Drawing::Text{base, height * up, text}; };
    Places places;
    for (const double shift : {0.0, 3.0, -3.0, 6.0, -6.0})
        for (const double away : {clear, 2.0 * clear, 3.0 * clear + height}) {
            const double cost = (0.5 * std::abs(shift) + away - clear) * beside;
            places.push_back({words(middle + shift * along + away * up), cost});
            places.push_back({words(middle + shift * along - (away + height) * up), cost + beside});
        }
    for (const double side : {1.0, -1.0})
        places.push_back({words(middle + side * beyond * along - 0.5 * height * up), 6.0 * beside});
    return places;
}

Places beside_ring(const Loop2& ring, const std::string& text) {
    constexpr double height = 2.5, clear = 1.5;
    Vec2 centre(0, 0);
    for (const Vec2& p : ring) centre += p / static_cast<double>(ring.size());
    const double radius = (ring.front() - centre).norm();
    Places places;
    for (const double further : {0.0, 3.0, 6.0, 10.0, 15.0, 20.0})
        for (const Vec2& way : {Vec2(0, -1), Vec2(0, 1), Vec2(1, 0), Vec2(-1, 0), Vec2(0.8, -0.6),
                                Vec2(-0.8, -0.6), Vec2(0.8, 0.6), Vec2(-0.8, 0.6)})
            places.push_back({words_beyond(centre, way, radius + clear + further, text, height),
                              (0.2 * further + (way.x() * way.y() != 0.0 ? 2.0 : 0.0)) * beside});
    return places;
}

namespace {

/// Along a closed line, on one side of it: inwards for -1, outwards for 1.
Places along_ring(const Loop2& loop, double side, const std::string& text, double height) {
    const double clear = 0.6 * height;
    constexpr std::size_t tries = 72;
    const double half_width = 0.5 * height * letters_width(text);
    Places places;
    for (std::size_t k = 0; k < tries; ++k) {
        const std::size_t i = k * loop.size() / tries;
        const Vec2 along = loop[(i + 1) % loop.size()] - loop[i];
        if (!(along.norm() > 0.0)) continue;
        const Vec2 outward = -turned_left(along).normalized();
        const double off = stand_off(loop, loop[i], side * outward, half_width);
        const Vec2 middle = loop[i] + side * (off + clear + 0.5 * height) * outward;
        // Past a corner of the ring, as at the hull's end, the word would stick out of it.
        double cost = off;
        for (const double end : {-half_width, half_width})
            if (contains(loop, middle + end * turned_left(outward)) != (side < 0.0))
                cost += TextRoom::on_edge;
        const Vec2 up = outward.y() >= 0.0 ? outward : Vec2(-outward);
        places.push_back({{middle - 0.5 * height * up, height * up, text}, cost});
    }
    return places;
}

/// [mm] of words along a ring, smaller where lines run close together, at a cost [-]
constexpr std::array<std::array<double, 2>, 3> ring_heights = {
    {{2.5, 0.0}, {2.0, 20.0}, {1.6, 30.0}}};

}  // namespace

Places beside_edge(const Loop2& loop, const std::string& text) {
    constexpr double outside = 40.0;  // [-]
    Places places;
    for (const double side : {-1.0, 1.0})
        for (const auto& [height, cost] : ring_heights)
            for (WordPlacer::Place place : along_ring(loop, side, text, height)) {
                place.cost += cost + (side > 0.0 ? outside : 0.0);
                places.push_back(std::move(place));
            }
    return places;
}

}  // namespace tearline::drawing
