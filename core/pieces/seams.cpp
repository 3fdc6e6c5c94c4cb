#include "core/pieces/seams.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "core/base/tolerances.h"
#include "core/pieces/part_cloth.h"
#include "core/plane/clip_region.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

using Lines = std::vector<std::vector<Vec2>>;

struct Range {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    void add(double x) {
        low = std::min(low, x);
        high = std::max(high, x);
    }
};

Vec2 direction(double angle) {
    return {std::cos(angle), std::sin(angle)};
}

Range range_along(const Region2& region, const Vec2& u) {
    Range range;
    for (const Vec2& p : region.outer) range.add(p.dot(u));
    return range;
}

std::vector<double> even(const Range& range, int cells, double shift) {
    std::vector<double> lines;
    const double step = (range.high - range.low) / cells;
    for (int i = 1; i < cells; ++i) lines.push_back(range.low + step * (i + shift));
    return lines;
}

/// The stretches of a straight line inside a region.
void add_inside(Lines& out, const Region2& region, const Vec2& from, const Vec2& to) {
    const Vec2 d = to - from;
    std::vector<double> cuts{0.0, 1.0};
    const auto cross = [&](const Loop2& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 a = loop[i], e = loop[(i + 1) % loop.size()] - a;
            const double den = cross2(d, e);
            if (den == 0.0) continue;
            const double on_loop = cross2(a - from, d) / den, on_line = cross2(a - from, e) / den;
            if (on_loop >= 0.0 && on_loop < 1.0 && on_line > 0.0 && on_line < 1.0)
                cuts.push_back(on_line);
        }
    };
    cross(region.outer);
    for (const Loop2& hole : region.holes) cross(hole);
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
        if (contains(region, from + 0.5 * (cuts[i] + cuts[i + 1]) * d))
            out.push_back({from + cuts[i] * d, from + cuts[i + 1] * d});
}

/// Places along a line, about 10 mm apart.
std::vector<Vec2> stations(const std::vector<Vec2>& line) {
    std::vector<Vec2> out;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const int count = 1 + static_cast<int>((line[i + 1] - line[i]).norm() / 10.0);
        for (int k = 0; k <= count; ++k)
            out.push_back(line[i] + (line[i + 1] - line[i]) * (double(k) / count));
    }
    return out;
}

}  // namespace

std::int32_t Seams::cell(const Vec2& place) const {
    const Vec2 u = direction(angle);
    const auto column = std::upper_bound(across.begin(), across.end(), place.dot(u));
    const auto row = std::upper_bound(along.begin(), along.end(), place.dot(turned_left(u)));
    return static_cast<std::int32_t>((row - along.begin()) *
                                         static_cast<std::ptrdiff_t>(across.size() + 1) +
                                     (column - across.begin()));
}

Seams even_seams(const Region2& region, double angle, const std::array<int, 2>& cells,
                 const std::array<double, 2>& shift) {
    const Vec2 u = direction(angle);
    return {angle, even(range_along(region, u), cells[0], shift[0]),
            even(range_along(region, turned_left(u)), cells[1], shift[1])};
}

std::vector<Region2> divided(const Region2& region, const Seams& seams) {
    const Vec2 u = direction(seams.angle), v = turned_left(u);
    const auto with_ends = [&](std::vector<double> lines, const Vec2& d) {
        const Range range = range_along(region, d);
        lines.insert(lines.begin(), range.low - 1.0);
        lines.push_back(range.high + 1.0);
        return lines;
    };
    const std::vector<double> columns = with_ends(seams.across, u),
                              rows = with_ends(seams.along, v);
    std::vector<Loop2> loops{region.outer};
    loops.insert(loops.end(), region.holes.begin(), region.holes.end());
    std::vector<Region2> out;
    for (std::size_t j = 0; j + 1 < rows.size(); ++j)
        for (std::size_t i = 0; i + 1 < columns.size(); ++i) {
            const Region2 cell{
                {columns[i] * u + rows[j] * v, columns[i + 1] * u + rows[j] * v,
                 columns[i + 1] * u + rows[j + 1] * v, columns[i] * u + rows[j + 1] * v},
                {}};
            for (Region2& part : plane::united_inside(loops, cell)) out.push_back(std::move(part));
        }
    return out;
}

Lines seam_lines(const Region2& region, const Seams& seams) {
    const Vec2 u = direction(seams.angle), v = turned_left(u);
    const Range along_u = range_along(region, u), along_v = range_along(region, v);
    Lines lines;
    for (const double x : seams.across)
        add_inside(lines, region, x * u + (along_v.low - 1.0) * v,
                   x * u + (along_v.high + 1.0) * v);
    for (const double y : seams.along)
        add_inside(lines, region, (along_u.low - 1.0) * u + y * v,
                   (along_u.high + 1.0) * u + y * v);
    return lines;
}

Lines stretches_inside(const Region2& region, const std::vector<Vec2>& line) {
    Lines pieces, out;
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
        add_inside(pieces, region, line[i], line[i + 1]);
    for (const auto& piece : pieces) {
        const bool goes_on =
            !out.empty() && (out.back().back() - piece.front()).norm() <= tolerance::chart_merge;
        if (!goes_on) out.push_back({piece.front()});
        out.back().push_back(piece.back());
    }
    return out;
}

double distance_alongside(const Lines& lines, const Lines& others) {
    double least = std::numeric_limits<double>::infinity();
    for (const auto& line : lines)
        for (const auto& other : others)
            for (std::size_t i = 0; i + 1 < line.size(); ++i)
                for (std::size_t j = 0; j + 1 < other.size(); ++j) {
                    const Vec2 d = (line[i + 1] - line[i]).normalized();
                    const Vec2 e = (other[j + 1] - other[j]).normalized();
                    if (std::abs(cross2(d, e)) > 0.5) continue;
                    const std::vector<Vec2> stroke{other[j], other[j + 1]};
                    for (const Vec2& p : stations({line[i], line[i + 1]}))
                        least = std::min(least, plane::distance_to_line(stroke, p));
                }
    return least;
}

Extent extent_of(const Region2& region) {
    // Moments of the outer loop's area by the shoelace rule.
    double area = 0.0;
    Vec2 first = Vec2::Zero();
    const Vec2 origin = region.outer.front();
    double xx = 0.0, xy = 0.0, yy = 0.0;
    for (std::size_t i = 0; i < region.outer.size(); ++i) {
        const Vec2 a = region.outer[i] - origin;
        const Vec2 b = region.outer[(i + 1) % region.outer.size()] - origin;
        const double w = cross2(a, b);
        area += w / 2.0;
        first += w / 6.0 * (a + b);
        xx += w / 12.0 * (a.x() * a.x() + a.x() * b.x() + b.x() * b.x());
        yy += w / 12.0 * (a.y() * a.y() + a.y() * b.y() + b.y() * b.y());
        xy +=
            w / 24.0 * (2.0 * a.x() * a.y() + 2.0 * b.x() * b.y() + a.x() * b.y() + b.x() * a.y());
    }
    Extent out;
    const Vec2 c = first / area;
    xx = xx / area - c.x() * c.x();
    yy = yy / area - c.y() * c.y();
    xy = xy / area - c.x() * c.y();
    out.centre = origin + c;
    out.angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
    const Vec2 u = direction(out.angle);
    for (const Vec2& p : region.outer) {
        out.half_long = std::max(out.half_long, std::abs((p - out.centre).dot(u)));
        out.half_wide = std::max(out.half_wide, std::abs((p - out.centre).dot(turned_left(u))));
    }
    return out;
}

}  // namespace tearline::pieces
