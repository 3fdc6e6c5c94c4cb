#include "core/paper/ink.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace tearline::paper {

namespace {

/// Whether the segment from a to b meets the box (Liang and Barsky's clipping).
bool meets(const Vec2& a, const Vec2& b, const Box& box) {
    double from = 0.0, to = 1.0;
    const Vec2 step = b - a;
    for (int axis = 0; axis < 2; ++axis) {
        if (step[axis] == 0.0) {
            if (a[axis] < box.low[axis] || a[axis] > box.high[axis]) return false;
            continue;
        }
        double enter = (box.low[axis] - a[axis]) / step[axis];
        double leave = (box.high[axis] - a[axis]) / step[axis];
        if (enter > leave) std::swap(enter, leave);
        from = std::max(from, enter);
        to = std::min(to, leave);
        if (from > to) return false;
    }
    return true;
}

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

void Box::add(const Vec2& point) {
    if (empty()) {
        low = high = point;
        return;
    }
    low = low.cwiseMin(point);
    high = high.cwiseMax(point);
}

Box box_round(const Drawing::Text& text) {
    Box box;
    for (const Vec2& corner : corners(drawing::box_of(text))) box.add(corner);
    return box;
}

Box bounds(const Drawing& drawing) {
    Box box;
    each_ink_segment(drawing, [&](const Vec2& a, const Vec2& b) {
        box.add(a);
        box.add(b);
    });
    return box;
}

std::vector<double> turns_of(const Drawing& shape, double step, double whole) {
    if (shape.lie == drawing::Lie::up_on_top) return {0.0};
    if (shape.lie == drawing::Lie::right_angles) return {0.0, 90.0};
    std::vector<double> turns;
    for (double turn = 0.0; turn < whole; turn += step) turns.push_back(turn);
    return turns;
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
    each_ink_segment(drawing,
                     [&](const Vec2& a, const Vec2& b) { found = found || meets(a, b, box); });
    // A small box may lie inside large words.
    const Vec2 middle = 0.5 * (box.low + box.high);
    return found ||
           std::any_of(drawing.texts.begin(), drawing.texts.end(), [&](const Drawing::Text& text) {
               return contains(corners(drawing::box_of(text)), middle);
           });
}

}  // namespace tearline::paper
