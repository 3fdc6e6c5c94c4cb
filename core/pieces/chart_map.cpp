#include "core/pieces/chart_map.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/base/tolerances.h"

namespace tearline::pieces {

ChartMap::ChartMap(const Piece& piece) : piece_(&piece) {
    // Triangles apart from one another: at a trimmed crease two sheets share a vertex that has
    // its own chart point in each.
    surface::SurfaceMesh apart;
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t) {
        const auto first = static_cast<std::int32_t>(corner_.size());
        apart.triangle.push_back({first, first + 1, first + 2});
        for (std::size_t i = 0; i < 3; ++i)
            corner_.push_back(piece.corner_chart.empty() ? piece.chart[piece.lay.triangle[t][i]]
                                                         : piece.corner_chart[t][i]);
    }
    grid_ = surface::build_chart_grid(apart, corner_);
}

std::array<Vec2, 3> ChartMap::corners(std::size_t triangle) const {
    return {corner_[3 * triangle], corner_[3 * triangle + 1], corner_[3 * triangle + 2]};
}

std::optional<surface::Location> ChartMap::locate(const Vec2& p) const {
    for (const TriangleId t : grid_.near(p)) {
        const auto [a, b, c] = corners(t.index());
        const double whole = cross2(b - a, c - a);
        if (!(whole > 0.0)) continue;
        const Vec3 w(cross2(b - p, c - p) / whole, cross2(c - p, a - p) / whole,
                     cross2(a - p, b - p) / whole);
        if (w.minCoeff() >= -tolerance::barycentric_slack) return surface::Location{t, w};
    }
    return std::nullopt;
}

surface::Location ChartMap::nearest(const Vec2& p) const {
    if (const auto inside = locate(p)) return *inside;
    surface::Location best;
    double least = std::numeric_limits<double>::infinity();
    const Vec3 point(p.x(), p.y(), 0.0);
    for (std::size_t t = 0; t < piece_->lay.triangle.size(); ++t) {
        const auto [a, b, c] = corners(t);
        const std::array<Vec3, 3> corner{Vec3(a.x(), a.y(), 0.0), Vec3(b.x(), b.y(), 0.0),
                                         Vec3(c.x(), c.y(), 0.0)};
        const Vec3 w = surface::nearest_weights(corner, point);
        const double gap = (w[0] * corner[0] + w[1] * corner[1] + w[2] * corner[2] - point).norm();
        if (gap < least) {
            least = gap;
            best = {TriangleId(t), w};
        }
    }
    return best;
}

Vec2 ChartMap::flat(const surface::Location& at) const {
    const auto& v = piece_->lay.triangle[at.triangle.index()];
    return at.weights[0] * piece_->flat[v[0]] + at.weights[1] * piece_->flat[v[1]] +
           at.weights[2] * piece_->flat[v[2]];
}

std::optional<Vec2> ChartMap::flat_at(const Vec2& chart_point) const {
    const auto at = locate(chart_point);
    if (!at) return std::nullopt;
    return flat(*at);
}

std::vector<ChartMap::Run> ChartMap::runs(const Loop2& chart_loop) const {
    const std::size_t n = chart_loop.size();
    std::vector<std::optional<Vec2>> place;
    place.reserve(n);
    for (const Vec2& p : chart_loop) place.push_back(flat_at(p));
    const auto step = [&](std::size_t i) {
        return (chart_loop[(i + 1) % n] - chart_loop[i % n]).norm();
    };
    // Whether the gap that ends before a covered point is only a trimmed strip, whose two edges
    // lie on each other: then the piece goes on there.
    const auto goes_on = [&](std::size_t first) {
        std::size_t last = first + n - 1;
        while (last > first && !place[last % n]) --last;
        if (last == first) return false;
        return (*place[first] - *place[last % n]).norm() <= step(last) + step(first + n - 1);
    };
    std::vector<std::size_t> starts;
    std::size_t covered = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (!place[i]) continue;
        ++covered;
        if (!place[(i + n - 1) % n] && !goes_on(i)) starts.push_back(i);
    }
    std::vector<Run> found;
    if (covered < 2) return found;
    const bool closed = starts.empty();
    if (closed) starts.push_back(0);
    for (std::size_t k = 0; k < starts.size(); ++k) {
        const std::size_t begin = starts[k];
        const std::size_t end = k + 1 < starts.size() ? starts[k + 1] : starts[0] + n;
        Run run{{}, closed};
        for (std::size_t i = begin; i < end; ++i)
            if (place[i % n]) run.points.push_back(*place[i % n]);
        if (run.points.size() > 1) found.push_back(std::move(run));
    }
    return found;
}

}  // namespace tearline::pieces
