#include "core/base/text_room.h"

#include <algorithm>
#include <cmath>

namespace tearline {

namespace {

constexpr std::size_t run_points = 24;

/// [-] advance of a letter by the height of a capital: means by kind of DejaVu Sans.
double letter_width(char c) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0xE0) return 1.4;  // scripts whose letters are as wide as high
    if (byte >= 0x80) return 0.9;
    if (c >= 'A' && c <= 'Z') return 0.96;
    if (c >= 'a' && c <= 'z') return 0.82;
    if (c >= '0' && c <= '9') return 0.88;
    return c == ' ' ? 0.44 : 0.65;
}

/// How far a box reaches from its middle along a direction.
double reach(const TextBox& box, const Vec2& way) {
    return std::abs(box.along.dot(way)) + std::abs(box.up.dot(way));
}

/// Whether a side of `a` parts the two boxes.
bool parted_by(const TextBox& a, const TextBox& b) {
    for (const Vec2& side : {a.along, a.up}) {
        const double length = side.norm();
        if (!(length > 0.0)) continue;
        const Vec2 way = side / length;
        if (std::abs((b.middle - a.middle).dot(way)) >= reach(a, way) + reach(b, way)) return true;
    }
    return false;
}

/// Whether a segment meets a box: clipped to its two pairs of sides.
bool meets(const TextBox& box, const Vec2& from, const Vec2& to) {
    double enter = 0.0, leave = 1.0;
    for (const Vec2& side : {box.along, box.up}) {
        const double limit = side.squaredNorm();
        const double a = (from - box.middle).dot(side), step = (to - from).dot(side);
        if (step == 0.0) {
            if (std::abs(a) > limit) return false;
            continue;
        }
        const double t0 = (-limit - a) / step, t1 = (limit - a) / step;
        enter = std::max(enter, std::min(t0, t1));
        leave = std::min(leave, std::max(t0, t1));
    }
    return enter <= leave;
}

}  // namespace

Loop2 corners(const TextBox& box) {
    return {box.middle - box.along - box.up, box.middle + box.along - box.up,
            box.middle + box.along + box.up, box.middle - box.along + box.up};
}

double letters_width(std::string_view text) {
    double width = 0.0;
    for (const char c : text)
        if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) width += letter_width(c);
    return width;
}

double text_width(std::string_view text, double height) {
    constexpr double bold = 1.15;  // of DejaVu Sans, by its regular face
    return (height >= bold_from ? bold : 1.0) * height * letters_width(text);
}

double stand_off(const Loop2& loop, const Vec2& at, const Vec2& way, double half_width) {
    double deepest = 0.0;
    for (const Vec2& p : loop) {
        const Vec2 away = p - at;
        if (away.squaredNorm() < half_width * half_width)
            deepest = std::max(deepest, away.dot(way));
    }
    return deepest;
}

void TextRoom::add_line(const std::vector<Vec2>& points, bool closed, double cost) {
    Line line{{}, cost};
    const std::size_t segments = points.size() < 2 ? 0 : points.size() - (closed ? 0 : 1);
    for (std::size_t i = 0; i < segments; i += run_points) {
        Run run{{points[i]}, points[i], points[i]};
        for (std::size_t k = i; k < std::min(i + run_points, segments); ++k)
            run.points.push_back(points[(k + 1) % points.size()]);
        for (const Vec2& p : run.points)
            run.low = run.low.cwiseMin(p), run.high = run.high.cwiseMax(p);
        line.runs.push_back(std::move(run));
    }
    lines_.push_back(std::move(line));
}

void TextRoom::add_text(const TextBox& box) {
    texts_.push_back(box);
}

double TextRoom::cost(const TextBox& box) const {
    double cost = 0.0;
    for (const TextBox& text : texts_)
        if (!parted_by(box, text) && !parted_by(text, box)) cost += on_words;
    Vec2 low = box.middle, high = box.middle;
    for (const Vec2& corner : corners(box))
        low = low.cwiseMin(corner), high = high.cwiseMax(corner);
    const auto runs_through = [&](const Run& run) {
        if ((run.high.array() < low.array()).any() || (run.low.array() > high.array()).any())
            return false;
        for (std::size_t i = 1; i < run.points.size(); ++i)
            if (meets(box, run.points[i - 1], run.points[i])) return true;
        return false;
    };
    for (const Line& line : lines_)
        if (std::any_of(line.runs.begin(), line.runs.end(), runs_through)) cost += line.cost;
    return cost;
}

}  // namespace tearline
