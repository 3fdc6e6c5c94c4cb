#include "core/templates/mark_words.h"

#include <algorithm>

#include "core/base/sheet_words.h"

namespace tearline::templates {

namespace {

bool is_arrow(const Mark& mark) {
    return mark.kind == "bow" || mark.kind == "up" || mark.kind == "starboard";
}

}  // namespace

std::string words_beside(const Mark& mark, const std::vector<Mark>& marks) {
    if (mark.kind == "tick") {
        // A whole word, since a letter alone would look like the name of a mark on the hull.
        const std::string word = in_capitals(mark.text);
        const bool said = std::any_of(marks.begin(), marks.end(), [&](const Mark& other) {
            return is_arrow(other) && other.text.find(word) != std::string::npos;
        });
        return said ? "" : word;
    }
    if (mark.kind == "next_edge" || mark.kind == "next_edge_part") {
        const auto first = std::find_if(marks.begin(), marks.end(), [&](const Mark& other) {
            return other.kind == mark.kind && other.text == mark.text;
        });
        return first == marks.end() || &*first == &mark ? mark.text : "";
    }
    const bool spoken =
        is_arrow(mark) || mark.kind == "fibre" || mark.kind == "tape" || mark.kind == "press_first";
    return spoken ? mark.text : "";
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
