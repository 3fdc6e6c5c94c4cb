#include "core/paper/drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

namespace tearline::paper {

namespace {

constexpr double degree = std::numbers::pi / 180.0;

Vec2 turned(const Vec2& point, double cosine, double sine) {
    return {cosine * point.x() - sine * point.y(), sine * point.x() + cosine * point.y()};
}

/// Average width of a letter over its line height: Latin by measurement of DejaVu Sans, wide
/// scripts as wide as high.
double text_width(const std::string& text) {
    double width = 0.0;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if ((byte & 0xC0) == 0x80) continue;  // the rest of a letter already counted
        width += byte >= 0xE0 ? 1.0 : 0.56;
    }
    return width;
}

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
    for (const Stroke& stroke : drawing.strokes) each_segment(stroke.points, stroke.closed, visit);
    for (const Words& words : drawing.words) {
        const Loop2 box = corners(words);
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

Words words_at(const Vec2& middle, double height, std::string text, double angle) {
    Words words{middle, height, angle, height * text_width(text), ""};
    words.text = std::move(text);
    return words;
}

Loop2 corners(const Words& words) {
    const double c = std::cos(words.angle * degree), s = std::sin(words.angle * degree);
    const double w = words.width / 2.0, h = words.height / 2.0;
    Loop2 out;
    for (const Vec2& corner : {Vec2(-w, -h), Vec2(w, -h), Vec2(w, h), Vec2(-w, h)})
        out.push_back(words.middle + turned(corner, c, s));
    return out;
}

Box bounds(const Drawing& drawing) {
    Box box;
    for (const Stroke& stroke : drawing.strokes)
        for (const Vec2& point : stroke.points) box.add(point);
    for (const Words& words : drawing.words)
        for (const Vec2& corner : corners(words)) box.add(corner);
    return box;
}

Drawing placed(const Drawing& drawing, double turn_degrees, const Vec2& shift) {
    const double c = std::cos(turn_degrees * degree), s = std::sin(turn_degrees * degree);
    Drawing out = drawing;
    for (Stroke& stroke : out.strokes)
        for (Vec2& point : stroke.points) point = turned(point, c, s) + shift;
    for (Words& words : out.words) {
        words.middle = turned(words.middle, c, s) + shift;
        words.angle += turn_degrees;
    }
    return out;
}

std::vector<double> turns_of(const Drawing& drawing, double step, double whole) {
    if (drawing.lie == Lie::up_on_top) return {0.0};
    if (drawing.lie == Lie::right_angles) return {0.0, 90.0};
    std::vector<double> turns;
    for (double turn = 0.0; turn < whole; turn += step) turns.push_back(turn);
    return turns;
}

Drawing mirrored(const Drawing& drawing) {
    Drawing out = drawing;
    for (Stroke& stroke : out.strokes)
        for (Vec2& point : stroke.points) point.x() = -point.x();
    for (Words& words : out.words) {
        words.middle.x() = -words.middle.x();
        words.angle = -words.angle;
    }
    return out;
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
           std::any_of(drawing.words.begin(), drawing.words.end(),
                       [&](const Words& words) { return contains(corners(words), middle); });
}

}  // namespace tearline::paper
