#include "core/pieces/strain_measures.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/pieces/tolerances.h"

namespace tearline::pieces {

std::vector<double> largest_strains(std::span<const std::array<double, 2>> stretch) {
    std::vector<double> out;
    out.reserve(stretch.size());
    for (const auto& s : stretch)
        out.push_back(std::max(std::abs(s[0] - 1.0), std::abs(s[1] - 1.0)));
    return out;
}

namespace {

/// Area, with sign, of the disc about the origin inside the triangle (origin, a, b).
double sector_area(const Vec2& a, const Vec2& b, double radius) {
    const Vec2 d = b - a;
    // Well inside, as most sides are where triangles are small, the disc has the whole triangle.
    const double well_inside = tolerance::well_inside_disc * radius * radius;
    if (a.squaredNorm() < well_inside && b.squaredNorm() < well_inside)
        return 0.5 * cross2(a, a + d);
    const double dd = d.squaredNorm();
    if (!(dd > 0.0)) return 0.0;
    const double along = -a.dot(d) / dd;
    const double height2 = (a + along * d).squaredNorm();
    const auto slice = [&](const Vec2& p, const Vec2& q) {
        return 0.5 * radius * radius * std::atan2(cross2(p, q), p.dot(q));
    };
    if (height2 >= radius * radius) return slice(a, b);
    const double half = std::sqrt((radius * radius - height2) / dd);
    const double from = std::clamp(along - half, 0.0, 1.0);
    const double to = std::clamp(along + half, 0.0, 1.0);
    if (!(to > from)) return slice(a, b);
    const Vec2 p = a + from * d, q = a + to * d;
    double area = 0.5 * cross2(p, q);
    if (from > 0.0) area += slice(a, p);
    if (to < 1.0) area += slice(q, b);
    return area;
}

/// Whether a line parts the triangle from the disc about the origin: one through a side, the
/// triangle's third corner beyond it.
bool keeps_off(const Vec2& a, const Vec2& b, const Vec2& c, double radius) {
    const auto parts = [&](const Vec2& p, const Vec2& q) {
        // To the right of a side of a counter-clockwise triangle, and at least the radius off.
        const double right = -cross2(p, q);
        return right > 0.0 && right * right >= radius * radius * (q - p).squaredNorm();
    };
    const bool forward = cross2(b - a, c - a) > 0.0;
    return forward ? parts(a, b) || parts(b, c) || parts(c, a)
                   : parts(b, a) || parts(c, b) || parts(a, c);
}

/// Walks outwards from a triangle over those that touch a disc.
class DiscWalk {
public:
    explicit DiscWalk(const DiscMesh& on) : on_(on), seen_(on.across.size(), -1) {}

    [[nodiscard]] std::array<Vec2, 3> corners(std::int32_t t) const {
        const auto& v = on_.mesh.triangle[static_cast<std::size_t>(t)];
        return {on_.flat[v[0]], on_.flat[v[1]], on_.flat[v[2]]};
    }
    [[nodiscard]] Vec2 centre(std::int32_t t) const {
        const auto p = corners(t);
        return (p[0] + p[1] + p[2]) / 3.0;
    }

    /// Calls visit(triangle, shared area) for each triangle that shares area with the disc.
    template <class Visit>
    void visit(std::int32_t start, double radius, Visit visit) {
        ++round_;
        const Vec2 middle = centre(start);
        queue_.assign(1, start);
        seen_[static_cast<std::size_t>(start)] = round_;
        for (std::size_t i = 0; i < queue_.size(); ++i) {
            const std::int32_t t = queue_[i];
            const double area = shared_area(middle, radius, corners(t));
            if (!(area > 0.0)) continue;
            visit(t, area);
            for (const std::int32_t n : on_.across[static_cast<std::size_t>(t)]) {
                if (n < 0 || seen_[static_cast<std::size_t>(n)] == round_) continue;
                seen_[static_cast<std::size_t>(n)] = round_;
                queue_.push_back(n);
            }
        }
    }

private:
    const DiscMesh& on_;
    std::vector<std::int32_t> seen_;
    std::vector<std::int32_t> queue_;
    std::int32_t round_ = -1;
};

}  // namespace

double shared_area(const Vec2& centre, double radius, const std::array<Vec2, 3>& corner) {
    const Vec2 a = corner[0] - centre, b = corner[1] - centre, c = corner[2] - centre;
    if (keeps_off(a, b, c, radius)) return 0.0;
    return sector_area(a, b, radius) + sector_area(b, c, radius) + sector_area(c, a, radius);
}

DiscMean largest_disc_mean(const surface::SurfaceMesh& mesh, std::span<const Vec2> flat,
                           std::span<const double> value, double diameter) {
    return largest_disc_mean(DiscMesh{mesh, flat}, value, diameter);
}

std::optional<double> disc_mean(const DiscMesh& mesh,
                                const std::function<std::optional<double>(std::int32_t)>& value,
                                std::int32_t triangle, double diameter) {
    double sum = 0.0, area = 0.0;
    bool known = true;
    DiscWalk(mesh).visit(triangle, 0.5 * diameter, [&](std::int32_t t, double share) {
        const auto here = known ? value(t) : std::nullopt;
        known = here.has_value();
        sum += share * here.value_or(0.0);
        area += share;
    });
    if (!known || !(area > 0.0)) return std::nullopt;
    return sum / area;
}

DiscMean largest_disc_mean(const DiscMesh& mesh, std::span<const double> value, double diameter) {
    // A heap, of which only the first few are taken: the largest first, of equals the lower number.
    std::vector<std::int32_t> left(value.size());
    std::iota(left.begin(), left.end(), 0);
    const auto comes_later = [&](std::int32_t a, std::int32_t b) {
        const double of_a = value[static_cast<std::size_t>(a)],
                     of_b = value[static_cast<std::size_t>(b)];
        return of_a < of_b || (of_a == of_b && a > b);
    };
    std::make_heap(left.begin(), left.end(), comes_later);
    DiscWalk walk(mesh);
    std::vector<std::int32_t> near;
    std::vector<bool> done(value.size(), false);
    DiscMean best;
    /// @param held  gets the triangles of the disc
    const auto measure = [&](std::int32_t centre, std::vector<std::int32_t>* held) {
        double sum = 0.0, area = 0.0;
        walk.visit(centre, 0.5 * diameter, [&](std::int32_t t, double share) {
            sum += share * value[static_cast<std::size_t>(t)];
            area += share;
            if (held != nullptr) held->push_back(t);
        });
        if (done[static_cast<std::size_t>(centre)]) return;
        done[static_cast<std::size_t>(centre)] = true;
        if (area > 0.0 && (best.triangle < 0 || sum / area > best.value))
            best = {sum / area, centre};
    };
    // A disc with a mean over the best so far holds a triangle with a value over it: only discs
    // about such triangles and what lies within a radius of them need a look. Of a flat piece, all
    // of whose values are the rounding of nothing, that is one.
    for (; !left.empty(); left.pop_back()) {
        std::pop_heap(left.begin(), left.end(), comes_later);
        const std::int32_t t = left.back();
        if (best.triangle >= 0 &&
            !(value[static_cast<std::size_t>(t)] > best.value + tolerance::same_mean))
            break;
        near.clear();
        measure(t, &near);
        for (const std::int32_t centre : near)
            if (!done[static_cast<std::size_t>(centre)]) measure(centre, nullptr);
    }
    return best;
}

}  // namespace tearline::pieces
