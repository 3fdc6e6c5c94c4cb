#include "core/pieces/flat_outline.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tearline::pieces {

Region2 flat_outline(const surface::SurfaceMesh& mesh, std::span<const Vec2> flat) {
    Region2 region;
    for (const auto& loop : surface::boundary_loops(mesh)) {
        Loop2 points;
        points.reserve(loop.size());
        for (const std::int32_t v : loop) points.push_back(flat[static_cast<std::size_t>(v)]);
        region.holes.push_back(std::move(points));
    }
    const auto outer = std::max_element(
        region.holes.begin(), region.holes.end(), [](const Loop2& a, const Loop2& b) {
            return std::abs(signed_area(a)) < std::abs(signed_area(b));
        });
    if (outer == region.holes.end()) return region;
    region.outer = std::move(*outer);
    region.holes.erase(outer);
    return region;
}

namespace {

struct Stroke {
    Vec2 a, b;
};

std::optional<Vec2> crossing_of(const Stroke& s, const Stroke& t) {
    const Vec2 d = s.b - s.a, e = t.b - t.a;
    const double on_s_a = cross2(e, s.a - t.a), on_s_b = cross2(e, s.b - t.a);
    const double on_t_a = cross2(d, t.a - s.a), on_t_b = cross2(d, t.b - s.a);
    const bool crosses = ((on_s_a > 0.0) != (on_s_b > 0.0)) && on_s_a != 0.0 && on_s_b != 0.0 &&
                         ((on_t_a > 0.0) != (on_t_b > 0.0)) && on_t_a != 0.0 && on_t_b != 0.0;
    if (!crosses) return std::nullopt;
    return Vec2(s.a + d * (on_s_a / (on_s_a - on_s_b)));
}

std::vector<Stroke> strokes_of(const Region2& region) {
    std::vector<Stroke> out;
    const auto add = [&](const Loop2& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            out.push_back({loop[i], loop[(i + 1) % loop.size()]});
    };
    add(region.outer);
    for (const Loop2& hole : region.holes) add(hole);
    return out;
}

}  // namespace

namespace {

/// Calls found(place) for each crossing until it says that it has enough.
template <class Found>
void sweep_crossings(const Region2& region, Found found) {
    std::vector<Stroke> strokes = strokes_of(region);
    // Swept from left to right: only strokes whose x ranges meet are compared.
    const auto left = [](const Stroke& s) { return std::min(s.a.x(), s.b.x()); };
    std::stable_sort(strokes.begin(), strokes.end(),
                     [&](const Stroke& a, const Stroke& b) { return left(a) < left(b); });
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const Stroke& s = strokes[i];
        const double right = std::max(s.a.x(), s.b.x());
        const double low = std::min(s.a.y(), s.b.y()), high = std::max(s.a.y(), s.b.y());
        for (std::size_t j = i + 1; j < strokes.size() && left(strokes[j]) <= right; ++j) {
            const Stroke& t = strokes[j];
            if (std::max(t.a.y(), t.b.y()) < low || std::min(t.a.y(), t.b.y()) > high) continue;
            if (const auto place = crossing_of(s, t))
                if (found(*place)) return;
        }
    }
}

}  // namespace

std::optional<Vec2> crossing(const Region2& region) {
    std::optional<Vec2> first;
    sweep_crossings(region, [&](const Vec2& place) {
        first = place;
        return true;
    });
    return first;
}

std::vector<Vec2> crossings(const Region2& region) {
    std::vector<Vec2> all;
    sweep_crossings(region, [&](const Vec2& place) {
        all.push_back(place);
        return false;
    });
    return all;
}

}  // namespace tearline::pieces
