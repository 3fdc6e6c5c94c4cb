#include "core/plane/convex_parts.h"

#include <algorithm>
#include <limits>

namespace tearline::plane {

namespace {

/// Twice the area of a triangle, positive when it turns left.
double side(const Vec2& a, const Vec2& b, const Vec2& c) {
    return cross2(b - a, c - a);
}

const Vec2& at(const Loop2& loop, std::size_t i) {
    return loop[i % loop.size()];
}

bool is_hollow(const Loop2& loop, std::size_t i) {
    return side(at(loop, i + loop.size() - 1), at(loop, i), at(loop, i + 1)) < 0.0;
}

/// Whether the way from a corner to a point starts into the loop.
bool starts_inside(const Loop2& loop, std::size_t i, const Vec2& to) {
    const Vec2 &before = at(loop, i + loop.size() - 1), &corner = at(loop, i),
               &after = at(loop, i + 1);
    if (side(before, corner, after) >= 0.0)
        return side(corner, to, before) > 0.0 && side(to, corner, after) > 0.0;
    return !(side(corner, to, after) >= 0.0 && side(to, corner, before) >= 0.0);
}

bool is_diagonal(const Loop2& loop, std::size_t i, std::size_t j) {
    const std::size_t n = loop.size();
    const Vec2 &a = loop[i], &b = loop[j];
    if ((i + 1) % n == j || (j + 1) % n == i || a == b) return false;
    if (!starts_inside(loop, i, b) || !starts_inside(loop, j, a)) return false;
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t next = (k + 1) % n;
        if (k == i || k == j || next == i || next == j) continue;
        const Vec2 &c = loop[k], &d = loop[next];
        // Touching counts as crossing: another diagonal will do.
        const bool apart =
            side(a, b, c) * side(a, b, d) > 0.0 || side(c, d, a) * side(c, d, b) > 0.0;
        if (!apart) return false;
    }
    return true;
}

/// The other end of the shortest diagonal from a corner; one that ends in a hollow corner too is
/// worth twice its length.
std::size_t best_diagonal(const Loop2& loop, std::size_t i) {
    std::size_t best = loop.size();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < loop.size(); ++j) {
        if (j == i) continue;
        const double cost = (loop[j] - loop[i]).norm() * (is_hollow(loop, j) ? 0.5 : 1.0);
        if (cost < least && is_diagonal(loop, i, j)) best = j, least = cost;
    }
    return best;
}

}  // namespace

bool is_convex(const Loop2& loop) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[(i + 1) % loop.size()] - loop[i];
        const Vec2 b = loop[(i + 2) % loop.size()] - loop[(i + 1) % loop.size()];
        if (cross2(a, b) < 0.0) return false;
    }
    return true;
}

std::vector<Loop2> convex_parts(const Loop2& loop) {
    std::vector<Loop2> parts, left{loop};
    while (!left.empty()) {
        const Loop2 part = std::move(left.back());
        left.pop_back();
        std::size_t i = 0;
        while (i < part.size() && !is_hollow(part, i)) ++i;
        if (i == part.size()) {
            parts.push_back(part);
            continue;
        }
        const std::size_t j = best_diagonal(part, i);
        if (j == part.size()) {
            parts.push_back(convex_hull(part));
            continue;
        }
        Loop2 one, other;
        for (std::size_t k = i;; ++k) {
            one.push_back(at(part, k));
            if (k % part.size() == j) break;
        }
        for (std::size_t k = j;; ++k) {
            other.push_back(at(part, k));
            if (k % part.size() == i) break;
        }
        left.push_back(std::move(one));
        left.push_back(std::move(other));
    }
    return parts;
}

}  // namespace tearline::plane
