#include "core/paper/ink.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace tearline::paper {

namespace {

template <class Visit>
void each_segment(const std::vector<Vec2>& points, bool closed, Visit visit) {
    for (std::size_t i = 1; i < points.size(); ++i) visit(points[i - 1], points[i]);
    if (closed && points.size() > 2) visit(points.back(), points.front());
}

template <class Visit>
void each_ink_segment(const Drawing& drawing, Visit visit) {
    for (const Drawing::Line& line : drawing.lines) each_segment(line.points, line.closed, visit);
    for (const Drawing::Text& text : drawing.texts) {
        const Loop2 box = corners(drawing::box_of(text));
        each_segment(box, true, visit);
        visit(box[0], box[2]);  // so that a small window inside the text is not missed
    }
}

}  // namespace

Box box_round(const Drawing::Text& text) {
    return plane::box_round(corners(drawing::box_of(text)));
}

Box bounds(const Drawing& drawing) {
    std::vector<Vec2> points;
    each_ink_segment(drawing, [&](const Vec2& a, const Vec2& b) {
        points.insert(points.end(), {a, b});
    });
    return plane::box_round(points);
}

std::vector<double> turns_of(const Drawing& drawing) {
    if (drawing.up_on_top) return {0.0};
    return {0.0, 90.0};
}

std::vector<Vec2> ink_points(const Drawing& drawing, double spacing) {
    std::vector<Vec2> out;
    each_ink_segment(drawing, [&](const Vec2& a, const Vec2& b) {
        const int steps = std::max(1, static_cast<int>(std::ceil((b - a).norm() / spacing)));
        for (int i = 0; i <= steps; ++i) out.push_back(a + (b - a) * (double(i) / steps));
    });
    return out;
}

std::vector<Vec2> thin_ink(const Drawing& drawing, double spacing) {
    std::set<std::pair<int, int>> seen;
    std::vector<Vec2> thin;
    for (const Vec2& point : ink_points(drawing, spacing))
        if (seen.insert({static_cast<int>(std::floor(point.x() / spacing)),
                         static_cast<int>(std::floor(point.y() / spacing))})
                .second)
            thin.push_back(point);
    return thin;
}

bool has_ink(const Drawing& drawing, const Box& box) {
    bool found = false;
    each_ink_segment(
        drawing, [&](const Vec2& a, const Vec2& b) { found = found || plane::meets(box, a, b); });
    // A small box may lie inside large words.
    const Vec2 middle = 0.5 * (box.low + box.high);
    return found ||
           std::any_of(drawing.texts.begin(), drawing.texts.end(), [&](const Drawing::Text& text) {
               return contains(corners(drawing::box_of(text)), middle);
           });
}

}  // namespace tearline::paper
