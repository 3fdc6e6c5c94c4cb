#include "core/paper/place_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include "core/base/overloaded.h"
#include "core/templates/mark_words.h"

namespace tearline::paper {

namespace {

using Places = std::vector<WordPlacer::Place>;

// [mm] of words beside lines, arrows and ticks: capitals of 2.1
constexpr double line_height = 3.6, tick_height = line_height;
constexpr double clear = 0.8;        // [mm] from a line to the box of words beside it
constexpr double least_room = 12.0;  // [mm] loops shorter than this round get no words

double degrees(const Vec2& direction) {
    return std::atan2(direction.y(), direction.x()) * 180.0 / std::numbers::pi;
}

/// Turned by half a turn where words would stand on their head.
double readable(double angle) {
    while (angle > 90.0) angle -= 180.0;
    while (angle <= -90.0) angle += 180.0;
    return angle;
}

TextBox box_of(const Words& words) {
    const double a = words.angle * std::numbers::pi / 180.0;
    const Vec2 along(std::cos(a), std::sin(a));
    return {words.middle, 0.5 * (words.width + words.height) * along,
            0.5 * words.height * turned_left(along)};
}

double line_cost(Pen pen) {
    return pen == Pen::tear || pen == Pen::cut || pen == Pen::relief ? TextRoom::on_edge
                                                                     : TextRoom::on_line;
}

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

}  // namespace

WordPlacer::WordPlacer(Drawing& drawing) : drawing_(&drawing) {
    for (const Stroke& stroke : drawing.strokes)
        room_.add_line(stroke.points, stroke.closed, line_cost(stroke.pen));
    for (const Words& words : drawing.words) room_.add_text(box_of(words));
}

bool WordPlacer::put(const Places& places, double most) {
    const Place* best = nullptr;
    double least = most;
    for (const Place& place : places) {
        if (place.words.text.empty() || place.cost >= least) continue;
        const double cost = place.cost + room_.cost(box_of(place.words));
        if (cost >= least) continue;
        best = &place;
        least = cost;
    }
    if (!best) return false;
    drawing_->words.push_back(best->words);
    room_.add_text(box_of(best->words));
    return true;
}

double WordPlacer::cost(const Box& box) const {
    const Vec2 half = 0.5 * box.size();
    return room_.cost({0.5 * (box.low + box.high), {half.x(), 0.0}, {0.0, half.y()}});
}

std::optional<Vec2> WordPlacer::free_place(const Region2& inside, const Vec2& size,
                                           const Vec2& near_to) const {
    Box all;
    for (const Vec2& point : inside.outer) all.add(point);
    constexpr double step = 5.0;  // [mm]
    std::optional<Vec2> best;
    for (double x = all.low.x(); x + size.x() < all.high.x(); x += step)
        for (double y = all.low.y(); y + size.y() < all.high.y(); y += step) {
            const Vec2 low(x, y), middle = low + 0.5 * size;
            if (best && (middle - near_to).norm() >= (*best + 0.5 * size - near_to).norm())
                continue;
            Box box;
            box.add(low);
            box.add(low + size);
            if (contains(inside, middle) && cost(box) == 0.0) best = low;
        }
    return best;
}

bool WordPlacer::along(const Loop2& loop, const Words& words, double spacing, double most) {
    const double around = perimeter(loop);
    constexpr double step = 6.0;  // [mm] from try to try
    const std::vector<OnLoop> all = walk(loop, step);
    const auto count = static_cast<std::size_t>(std::max(1, static_cast<int>(around / spacing)));
    bool any = false;
    for (std::size_t k = 0; k < count; ++k) {
        // Each stretch of the loop has its words, as near to its middle as may be.
        const std::size_t from = all.size() * k / count, to = all.size() * (k + 1) / count;
        Places places;
        for (std::size_t i = from; i < to; ++i) {
            const double off_middle =
                step * std::abs(static_cast<double>(i) - 0.5 * static_cast<double>(from + to));
            const Vec2 inward = turned_left(all[i].way);
            const double off = stand_off(loop, all[i].at, inward, 0.5 * words.width);
            const Vec2 middle = all[i].at + (off + clear + 0.5 * words.height) * inward;
            places.push_back(
                {words_at(middle, words.height, words.text, readable(degrees(all[i].way))),
                 0.1 * off_middle + off});
        }
        any = put(places, most) || any;
    }
    return any;
}

void WordPlacer::along(const Loop2& loop, const std::string& text, double spacing) {
    if (loop.size() < 3 || !(perimeter(loop) > least_room)) return;
    constexpr double smaller = 3.0, smallest = 2.2;  // [mm] between lines that run close together
    for (const double height : {line_height, smaller, smallest})
        if (along(loop, words_at({0, 0}, height, text), spacing, TextRoom::on_line)) return;
    along(loop, words_at({0, 0}, smallest, text), perimeter(loop), 1e300);
}

void WordPlacer::along_end(const Vec2& middle, const Vec2& end, const std::string& text) {
    const Vec2 way = (end - middle).normalized(), aside = turned_left(way);
    const double half = 0.5 * words_at({0, 0}, line_height, text).width;
    Places places;
    for (double back = half + 8.0; back < (end - middle).norm() - half; back += 8.0)
        for (const double side : {1.0, -1.0})
            places.push_back(
                {words_at(end - back * way + side * (clear + 0.5 * line_height) * aside,
                          line_height, text, readable(degrees(way))),
                 0.2 * back});
    put(places, TextRoom::on_line);
}

void WordPlacer::name_arrow(const Vec2& tail, const Vec2& tip, const std::string& text,
                            bool level) {
    if (!((tip - tail).norm() > 0.0)) return;
    const Vec2 way = (tip - tail).normalized(), aside = turned_left(way);
    Places places;
    const auto add = [&](const Vec2& middle, double cost) {
        places.push_back(
            {words_at(middle, line_height, text, level ? 0.0 : readable(degrees(way))), cost});
    };
    const double wide = 0.5 * words_at({0, 0}, line_height, text).width;
    const auto reach = [&](const Vec2& to) {
        return std::abs(to.x()) * (wide + 0.5 * line_height) + std::abs(to.y()) * 0.5 * line_height;
    };
    const double beside = clear + (level ? reach(aside) : 0.5 * line_height);
    const double half = level ? reach(way) : wide;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8})
        for (const double side : {1.0, -1.0})
            for (const double away : {beside, beside + line_height})
                add(tail + share * (tip - tail) + side * away * aside,
                    2.0 * std::abs(share - 0.5) + 0.1 * away - 0.05 * side);
    add(tip + (half + 3.0) * way, 3.0);
    add(tail - (half + 3.0) * way, 4.0);
    put(places);
}

void WordPlacer::name_tick(const Vec2& inner, const Vec2& outer, const std::string& text,
                           bool tape) {
    const Vec2 inward = (inner - outer).normalized();
    const Vec2 aside = turned_left(inward);
    const Words level = words_at({0, 0}, tick_height, text);
    const auto reach = [&](const Vec2& way) {
        return 0.5 *
               (std::abs(way.x()) * (level.width + tick_height) + std::abs(way.y()) * tick_height);
    };
    Places places;
    const auto add = [&](const Vec2& from, const Vec2& way, double cost) {
        places.push_back({words_at(from + (clear + reach(way)) * way, tick_height, text), cost});
    };
    for (const double further : {0.0, 2.0, 4.0, 6.0, 9.0, 12.0, 16.0, 20.0, 25.0, 30.0})
        add(inner + further * inward, inward, 0.2 * further);
    for (const double back : {1.0, 3.0, 5.0})
        for (const double side : {1.0, -1.0}) add(inner - back * inward, side * aside, 2.0 + back);
    // Beside its outer part and on outwards, where the piece inside is too small.
    for (const double side : {1.0, -1.0})
        add(outer + 6.0 * inward + side * (clear + reach(aside)) * aside, -inward, 8.0);
    add(outer, -inward, 20.0);
    // Words longer than a tick, as a tape's, stand alongside it, inside the edge.
    if (tape)
        for (const double off : {3.0, 5.0, 7.0, 10.0, 14.0})
            for (const double side : {1.0, -1.0})
                for (const double further : {0.0, 2.0, 5.0})
                    add(outer + further * inward + side * off * aside, inward,
                        1.0 + 0.3 * off + 0.2 * further);
    put(places);
}

void WordPlacer::name_ring(const Loop2& ring, const std::string& text) {
    Vec2 centre(0, 0);
    for (const Vec2& p : ring) centre += p / static_cast<double>(ring.size());
    const double radius = (ring.front() - centre).norm();
    const Words level = words_at({0, 0}, line_height, text);
    Places places;
    for (const double further : {0.0, 3.0, 6.0, 10.0, 15.0, 20.0})
        for (const Vec2& way : {Vec2(0, -1), Vec2(0, 1), Vec2(1, 0), Vec2(-1, 0), Vec2(0.8, -0.6),
                                Vec2(-0.8, -0.6), Vec2(0.8, 0.6), Vec2(-0.8, 0.6)}) {
            const double reach = 0.5 * (std::abs(way.x()) * (level.width + line_height) +
                                        std::abs(way.y()) * line_height);
            places.push_back(
                {words_at(centre + (radius + clear + further + reach) * way, line_height, text),
                 0.2 * further + (way.x() * way.y() != 0.0 ? 2.0 : 0.0)});
        }
    put(places);
}

void WordPlacer::name_mark(const templates::Mark& mark, const std::string& text) {
    // Which way is up or ahead is read upright; what runs along a line is written along it.
    std::visit(Overloaded{
                   [&](const templates::Tick& t) { name_tick(t.inner, t.outer, text, false); },
                   [&](const templates::Tape& t) { name_tick(t.inner, t.outer, text, true); },
                   [&](const templates::PressFirst& press) { name_ring(press.ring(), text); },
                   [&](const templates::NextEdge& edge) {
                       if (edge.closed) return along(edge.line, text, 400.0);
                       const auto part = templates::middle_part(edge.line);
                       name_arrow(part[0], part[1], text, false);
                   },
                   [&](const templates::Arrow& a) { name_arrow(a.tail, a.tip, text, true); },
                   [&](const templates::Fibre& f) { name_arrow(f.from, f.to, text, false); },
                   [](const templates::Datum&) {},
                   [](const templates::BandSection&) {},
                   [](const templates::HullEnd&) {},
                   [](const templates::Label&) {},
               },
               mark);
}

void WordPlacer::name_marks(const std::vector<templates::Mark>& marks) {
    const auto turn_of = [](const templates::Mark& mark) {
        if (std::holds_alternative<templates::Tape>(mark)) return 0;
        if (std::holds_alternative<templates::Tick>(mark)) return 1;
        return std::holds_alternative<templates::NextEdge>(mark) ? 3 : 2;
    };
    for (const int turn : {0, 1, 2, 3})
        for (const templates::Mark& mark : marks) {
            const std::string words = templates::words_beside(mark, marks);
            if (turn_of(mark) == turn && !words.empty()) name_mark(mark, words);
        }
}

}  // namespace tearline::paper
