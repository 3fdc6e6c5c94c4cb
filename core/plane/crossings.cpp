#include "core/plane/crossings.h"

#include <algorithm>

#include "core/plane/box.h"

namespace tearline::plane {
namespace {

struct Side {
    Vec2 a, b;
    std::size_t number;

    [[nodiscard]] Box box() const { return {a.cwiseMin(b), a.cwiseMax(b)}; }
};

std::optional<Vec2> crossing_of(const Side& s, const Side& t, double none) {
    const Vec2 d = s.b - s.a, e = t.b - t.a;
    const auto parts = [none](double one, double other) {
        return (one > none && other < -none) || (one < -none && other > none);
    };
    const double on_s_a = cross2(e, s.a - t.a), on_s_b = cross2(e, s.b - t.a);
    if (!parts(on_s_a, on_s_b)) return std::nullopt;
    if (!parts(cross2(d, t.a - s.a), cross2(d, t.b - s.a))) return std::nullopt;
    return Vec2(s.a + d * (on_s_a / (on_s_a - on_s_b)));
}

std::vector<Side> sides_of(const Region2& region) {
    std::vector<Side> sides;
    const auto add = [&](const Loop2& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            sides.push_back({loop[i], loop[(i + 1) % loop.size()], sides.size()});
    };
    add(region.outer);
    for (const Loop2& hole : region.holes) add(hole);
    return sides;
}

/// Calls found(crossing) for each until it says that it has enough.
template <class Found>
void sweep(const Region2& region, double none, Found found) {
    std::vector<Side> sides = sides_of(region);
    // Swept from left to right: only sides whose x ranges meet are compared.
    const auto left = [](const Side& s) { return std::min(s.a.x(), s.b.x()); };
    std::stable_sort(sides.begin(), sides.end(),
                     [&](const Side& a, const Side& b) { return left(a) < left(b); });
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const Box box = sides[i].box();
        for (std::size_t j = i + 1; j < sides.size() && left(sides[j]) <= box.high.x(); ++j) {
            if (!box.touches(sides[j].box())) continue;
            if (const auto at = crossing_of(sides[i], sides[j], none)) {
                const auto [low, high] = std::minmax(sides[i].number, sides[j].number);
                if (found(Crossing{low, high, *at})) return;
            }
        }
    }
}

}  // namespace

std::vector<Crossing> crossings(const Region2& region, double none) {
    std::vector<Crossing> all;
    sweep(region, none, [&](const Crossing& crossing) {
        all.push_back(crossing);
        return false;
    });
    return all;
}

bool crosses_itself(const Region2& region) {
    bool any = false;
    sweep(region, 0.0, [&](const Crossing&) { return any = true; });
    return any;
}

std::optional<std::size_t> first_side_crossed(const Region2& region, double none) {
    std::optional<std::size_t> first;
    for (const Crossing& crossing : crossings(region, none))
        first = std::min(first.value_or(crossing.side), crossing.side);
    return first;
}

}  // namespace tearline::plane
