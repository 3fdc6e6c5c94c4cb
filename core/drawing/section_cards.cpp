#include "core/drawing/section_cards.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/base/us_constants.h"
#include "core/drawing/draw_parts.h"
#include "core/drawing/words_on_piece.h"
#include "core/plane/polar_table.h"

namespace tearline::drawing {

namespace {

constexpr double card_back = 46.0;    // [mm] least width of a section card
constexpr double card_rim = 2.0;      // [mm] of paper beside the words
constexpr double card_gap = 6.0;      // [mm] between two cards
constexpr double card_letters = 2.1;  // [mm] height of capitals and figures
constexpr double figure_pitch = 4.0;  // [mm] from figure to figure along a card
constexpr int scarf_ring = -1;        // as templates::GrindGuide numbers it

/// Height of a section's edge at a place, between its two nearest points.
std::optional<double> height_at(const std::vector<Vec2>& edge, double at) {
    const auto after = std::lower_bound(edge.begin(), edge.end(), at,
                                        [](const Vec2& point, double x) { return point.x() < x; });
    if (after == edge.begin() || after == edge.end()) return std::nullopt;
    const Vec2 &a = *(after - 1), &b = *after;
    return a.y() + (b.y() - a.y()) * (at - a.x()) / (b.x() - a.x());
}

/// The place on an edge that lies a length along it from the datum; nothing beyond its ends.
std::optional<double> place_along(const std::vector<Vec2>& edge, double length) {
    const auto zero = std::lower_bound(edge.begin(), edge.end(), 0.0,
                                       [](const Vec2& point, double x) { return point.x() < x; });
    if (zero == edge.end()) return std::nullopt;
    const bool onwards = length >= 0.0;
    double left = std::abs(length);
    Vec2 at(0.0, height_at(edge, 0.0).value_or(0.0));
    auto next = onwards ? zero : zero - (zero == edge.begin() ? 0 : 1);
    while (true) {
        const double step = (*next - at).norm();
        if (step >= left && step > 0.0) return at.x() + (next->x() - at.x()) * left / step;
        left -= step;
        at = *next;
        if (onwards ? next + 1 == edge.end() : next == edge.begin()) return std::nullopt;
        next += onwards ? 1 : -1;
    }
}

/// Whether a section shows a ring: the edge of the scarf, and what lies at a depth inside it. For
/// cover plies nothing is ground.
bool is_on_card(const templates::GrindGuide::Ring& ring) {
    constexpr double shown = 0.05;  // [mm] less is 0.0
    return ring.ply == scarf_ring || (ring.ply >= 0 && ring.depth_mm >= shown);
}

/// A place on a section card.
struct Depth {
    double at = 0.0;     ///< [mm] along the section's axis
    double depth = 0.0;  ///< [mm] of the dish, 0 where the scarf ends
};

/// Places of a section with the depth of the dish: where the guide's rings cross its axis. A
/// length on the flat guide is a length along the hull.
std::vector<Depth> depths_on(const templates::Section& section,
                             const templates::GrindGuide& guide) {
    const Vec2 datum = templates::datum_of(guide.marks).value_or(Vec2(0, 0));
    const auto row = static_cast<std::size_t>(section.angle_degrees / 15.0);  // a row each 15
    std::vector<Depth> out;
    for (const auto& ring : guide.rings) {
        if (!is_on_card(ring)) continue;
        for (const Loop2& loop : ring.loops) {
            auto table = plane::polar_table({loop, {}}, datum);
            std::erase_if(table, [](const plane::PolarRow& each) { return each.corner; });
            for (const bool back : {false, true})
                for (const double radius : table[row + (back ? 12 : 0)].radii_mm)
                    if (const auto place = place_along(section.edge, back ? -radius : radius))
                        out.push_back({*place, ring.depth_mm});
        }
    }
    return out;
}

/// The depths of a card in their order along it, and where the figure of each stands [mm along].
struct FittingDepths {
    std::vector<Depth> depths;
    std::vector<double> places;
    std::size_t left_out = 0;  ///< tick and figure, where the card is too short for all
};

/// Depths with their figures pushed apart until none stands by a neighbour's tick, in the order of
/// the ticks. Of too many the one closest to its neighbours goes first, the scarf's end never.
FittingDepths fitting_depths(std::vector<Depth> depths, const templates::Section& section) {
    std::sort(depths.begin(), depths.end(),
              [](const Depth& a, const Depth& b) { return a.at < b.at; });
    FittingDepths out;
    const double low = section.edge.front().x() + figure_pitch;
    const double high = section.edge.back().x() - figure_pitch;
    while (figure_pitch * static_cast<double>(depths.size()) > high - low) {
        std::size_t least = depths.size();
        double room = 0.0;
        for (std::size_t i = 0; i < depths.size(); ++i) {
            if (!(depths[i].depth > 0.0)) continue;
            const double before = i > 0 ? depths[i - 1].at : low;
            const double after = i + 1 < depths.size() ? depths[i + 1].at : high;
            if (least < depths.size() && after - before >= room) continue;
            least = i;
            room = after - before;
        }
        if (least == depths.size()) break;
        depths.erase(depths.begin() + static_cast<std::ptrdiff_t>(least));
        ++out.left_out;
    }
    // Groups of figures that touch, each as near to the middle of its ticks as may be.
    struct Group {
        std::size_t count;
        double sum;  ///< [mm] of the places that its first figure would have, by each of its ticks
        [[nodiscard]] double first() const { return sum / static_cast<double>(count); }
    };
    std::vector<Group> groups;
    for (const Depth& depth : depths) {
        groups.push_back({1, depth.at});
        while (groups.size() > 1) {
            const Group last = groups.back(), before = groups[groups.size() - 2];
            const double shift = figure_pitch * static_cast<double>(before.count);
            if (last.first() >= before.first() + shift) break;
            groups.pop_back();
            groups.back() = {before.count + last.count,
                             before.sum + last.sum - shift * static_cast<double>(last.count)};
        }
    }
    for (const Group& group : groups)
        for (std::size_t i = 0; i < group.count; ++i)
            out.places.push_back(group.first() + figure_pitch * static_cast<double>(i));
    // None beyond the card's own ends.
    for (std::size_t i = 0; i < out.places.size(); ++i) {
        const auto before = static_cast<double>(i);
        const auto after = static_cast<double>(out.places.size() - 1 - i);
        out.places[i] = std::min(std::max(out.places[i], low + figure_pitch * before),
                                 high - figure_pitch * after);
    }
    out.depths = std::move(depths);
    return out;
}

/// As the guide tells it: in inches by thousandths, which a gauge shows.
std::string depth_figure(double mm, Units units) {
    return units == Units::metric ? fixed(mm, 1) : fixed(mm / us::mm_per_inch, 3);
}

/// A tick at each depth, and its figure at the end of a line from the tick.
void add_depths(Drawing& drawing, const templates::Section& section,
                const std::vector<Depth>& depths, const std::vector<double>& places, Units units) {
    constexpr double tick = 4.0, fan = 4.0, clear = 1.0;  // [mm]
    for (std::size_t i = 0; i < depths.size(); ++i) {
        const auto height = height_at(section.edge, depths[i].at);
        const auto there = height_at(section.edge, places[i]);
        if (!height || !there) continue;
        const Vec2 foot(depths[i].at, *height), end(places[i], *there + tick + fan);
        add_line(drawing, Role::tick, {foot, foot + Vec2(0.0, tick), end});
        const std::string figure =
            depths[i].depth > 0.0 ? depth_figure(depths[i].depth, units) : "END";
        // Upwards from the line's end.
        const Vec2 middle = end + Vec2(0.0, clear + 0.5 * text_width(figure, card_letters));
        drawing.texts.push_back(words_along(middle, {0.0, 1.0}, figure, card_letters));
    }
}

/// At each end of a card, what it points to on the hull.
void add_card_ends(Drawing& drawing, const templates::Section& section, double top) {
    constexpr double height = 2.9, inset = 4.0, arrow = 12.0, gap = 2.0;  // [mm]
    for (const bool last : {false, true}) {
        const std::string end = in_capitals(section.ends[last ? 1 : 0]);
        if (end.empty()) continue;
        const double side = last ? 1.0 : -1.0;
        const Vec2 tip((last ? section.edge.back() : section.edge.front()).x() - side * inset,
                       top - 8.0);
        const double off = arrow + gap + 0.5 * text_width(end, height);
        drawing.texts.push_back(upright_words(tip - side * Vec2(off, 0.0), end, height));
        drawing.texts.back().bold = true;
        add_arrow(drawing, Role::arrow, tip - side * Vec2(arrow, 0.0), tip);
    }
}

/// One card: the hull's edge below, a straight back above, depths where they are known.
/// @param of  which part of a repair it is of: ", inner skin"
Drawing card_of(const templates::Section& section, std::vector<Depth> depths, Units units,
                const std::string& of) {
    Drawing drawing;
    double top = section.edge.front().y();
    for (const Vec2& point : section.edge) top = std::max(top, point.y());
    top = section.back.value_or(top + card_back);
    std::vector<Vec2> card = section.edge;
    card.emplace_back(section.edge.back().x(), top);
    card.emplace_back(section.edge.front().x(), top);
    add_line(drawing, Role::cut, std::move(card), true);
    add_line(drawing, Role::datum, {{0.0, top}, {0.0, top - 8.0}});
    // About the datum, but on the card: where the hull ends beside the damage it is short on one
    // side.
    const double left = std::min(section.edge.front().x(), section.edge.back().x()) + card_rim;
    const double right = std::max(section.edge.front().x(), section.edge.back().x()) - card_rim;
    const auto say = [&](double below, const std::string& text, double height = card_letters) {
        Drawing::Text words = upright_words({0.0, top - below}, text, height);
        const double half = 0.5 * words_width(text, height), middle = 0.5 * (left + right);
        const double room = std::max(0.0, 0.5 * (right - left) - half);
        words.base.x() = std::clamp(0.0, middle - room, middle + room);
        if (room == 0.0) words.width = right - left;
        drawing.texts.push_back(std::move(words));
    };
    say(11.0, "DATUM");
    say(16.5, "SECTION " + section.name + of + ": curved edge on the hull", 2.3);
    add_card_ends(drawing, section, top);
    const FittingDepths fit = fitting_depths(std::move(depths), section);
    if (!fit.depths.empty())
        say(22.0, "numbers: depth of the dish below the edge, " + length_unit(units) +
                      "; END: the scarf ends");
    if (fit.left_out > 0)
        say(27.0, std::to_string(fit.left_out) + " depths have no room here: see the grind guide");
    add_depths(drawing, section, fit.depths, fit.places, units);
    return drawing;
}

}  // namespace

Drawing section_cards(const templates::TemplateSet& set) {
    Drawing drawing;
    drawing.name = templates::name_in(set, "section cards");
    drawing.up_on_top = true;  // their figures are read at the hull
    drawing.line_word = "CUT";
    double below = 0.0;
    for (const templates::Section& section : set.sections) {
        // Station cards of a backing say by name what they are.
        const std::string of = set.part.empty() || section.back ? "" : ", " + set.part;
        Drawing card = card_of(section, depths_on(section, set.guide), set.units, of);
        const plane::Box box = extent(card);
        card = placed(std::move(card), 0.0, {0.0, below - box.high.y()});
        below -= box.high.y() - box.low.y() + card_gap;
        drawing.lines.insert(drawing.lines.end(), card.lines.begin(), card.lines.end());
        drawing.texts.insert(drawing.texts.end(), card.texts.begin(), card.texts.end());
    }
    return drawing;
}

}  // namespace tearline::drawing
