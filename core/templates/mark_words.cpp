#include "core/templates/mark_words.h"

#include <algorithm>
#include <variant>

#include "core/base/overloaded.h"
#include "core/base/sheet_words.h"

namespace tearline::templates {

std::string words_beside(const Mark& mark, const std::vector<Mark>& marks) {
    return std::visit(
        Overloaded{
            [&](const Tick& tick) {
                // A whole word, since a letter alone would look like the name of a mark on the
                // hull.
                const std::string word = in_capitals(tick.towards);
                const bool said = std::any_of(marks.begin(), marks.end(), [&](const Mark& other) {
                    const auto* arrow = std::get_if<Arrow>(&other);
                    return arrow && arrow->text.find(word) != std::string::npos;
                });
                return said ? std::string() : word;
            },
            [&](const NextEdge& edge) {
                const auto first = std::find_if(marks.begin(), marks.end(), [&](const Mark& other) {
                    const auto* same = std::get_if<NextEdge>(&other);
                    return same && same->closed == edge.closed;
                });
                return std::string(first == marks.end() || &*first == &mark ? NextEdge::words : "");
            },
            [](const Arrow& arrow) { return arrow.text; },
            [](const Tape& tape) { return tape.text; },
            [](const Fibre&) { return std::string(Fibre::words); },
            [](const PressFirst&) { return std::string(PressFirst::words); },
            [](const Datum&) { return std::string(); },
            [](const BandSection&) { return std::string(); },
            [](const HullEnd&) { return std::string(); },
            [](const Label&) { return std::string(); },
        },
        mark);
}

std::array<Vec2, 2> middle_part(const std::vector<Vec2>& run, double length) {
    double around = 0.0;
    for (std::size_t i = 1; i < run.size(); ++i) around += (run[i] - run[i - 1]).norm();
    const auto at = [&](double left) -> Vec2 {
        for (std::size_t i = 1; i < run.size(); ++i) {
            const double step = (run[i] - run[i - 1]).norm();
            if (step > 0.0 && left <= step) return run[i - 1] + left / step * (run[i] - run[i - 1]);
            left -= step;
        }
        return run.back();
    };
    const double half = 0.5 * std::min(length, around);
    return {at(0.5 * around - half), at(0.5 * around + half)};
}

TextBox led_name(const GrindGuide::Ring& ring) {
    constexpr double capital = 2.4, gap = 1.2;  // [mm]
    const Vec2& end = ring.leader.back();
    const double right = end.x() < ring.leader.front().x() ? -1.0 : 1.0;
    const double half = 0.5 * (text_width(ring.text, capital) + capital);
    return {end + Vec2(right * (gap + half), 0.0), Vec2(half, 0.0), Vec2(0.0, 0.5 * capital)};
}

}  // namespace tearline::templates
