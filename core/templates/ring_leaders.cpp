#include "core/templates/ring_leaders.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/plane/room.h"

namespace tearline::templates {

namespace {

constexpr double beside_height = 3.0;  // [mm] of a line of words beside a ring
constexpr double beside_clear = 0.8;   // [mm] from the ring to them
constexpr double pitch = 5.0;          // [mm] from name to name
constexpr int too_steep = -3;          // stands alone, not among the others

/// Where names are led to, seen from the datum, and how far up or down the first of them stands.
struct Quarter {
    double right = 1.0, up = 1.0;  ///< -1 to the left, -1 downwards
    double first = 0.0;            ///< [mm]
};

Vec2 datum_of(const GrindGuide& guide) {
    return datum_of(guide.marks).value_or(Vec2(0, 0));
}

const Loop2& longest(const std::vector<Loop2>& loops) {
    return *std::max_element(loops.begin(), loops.end(), [](const Loop2& a, const Loop2& b) {
        return perimeter(a) < perimeter(b);
    });
}

/// Whether a name has a place inside its ring that no line runs through.
bool has_room(const GrindGuide::Ring& ring, const TextRoom& lines) {
    const Loop2& loop = longest(ring.loops);
    const double half = 0.5 * (text_width(ring.text, 0.7 * beside_height) + beside_height);
    constexpr double step = 4.0;  // [mm] from try to try
    double gone = step;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 side = loop[(i + 1) % loop.size()] - loop[i];
        gone += side.norm();
        if (gone < step || !(side.norm() > 0.0)) continue;
        gone = 0.0;
        const Vec2 way = side.normalized(), inward = turned_left(way);
        const double off = stand_off(loop, loop[i], inward, half);
        const Vec2 middle = loop[i] + (off + beside_clear + 0.5 * beside_height) * inward;
        if (lines.cost({middle, half * way, 0.5 * beside_height * inward}) == 0.0) return true;
    }
    return false;
}

/// A ring as a quarter sees it: how high it rises there.
struct Rising {
    GrindGuide::Ring* ring;
    double height;  ///< [mm] above or below the datum
};

std::vector<Rising> rising(GrindGuide& guide, const Quarter& quarter) {
    const Vec2 datum = datum_of(guide);
    std::vector<Rising> out;
    for (GrindGuide::Ring& ring : guide.rings) {
        if (ring.ply == too_steep) continue;
        double height = 0.0;
        for (const Loop2& loop : ring.loops)
            for (const Vec2& p : loop)
                if (quarter.right * (p.x() - datum.x()) >= 0.0)
                    height = std::max(height, quarter.up * (p.y() - datum.y()));
        out.push_back({&ring, height});
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Rising& a, const Rising& b) { return a.height < b.height; });
    return out;
}

/// Where a level line crosses a ring farthest out [mm].
std::optional<Vec2> outermost_crossing(const GrindGuide::Ring& ring, double y, double right,
                                       const Vec2& datum) {
    std::optional<Vec2> out;
    for (const Loop2& loop : ring.loops)
        for (std::size_t i = 0; i + 1 < loop.size(); ++i) {
            const Vec2 &a = loop[i], &b = loop[i + 1];
            if ((a.y() > y) == (b.y() > y)) continue;
            const Vec2 at = a + (y - a.y()) / (b.y() - a.y()) * (b - a);
            if (right * (at.x() - (out ? out->x() : datum.x())) > 0.0) out = at;
        }
    return out;
}

struct Led {
    GrindGuide::Ring* ring;
    std::vector<Vec2> leader;
};

/// Leader lines level from their rings out past the footprint, where they fan out to their names.
/// In the order of the rings' heights on both stretches, so none comes across another.
std::vector<Led> leaders(GrindGuide& guide, const Quarter& quarter) {
    const std::vector<Rising> rings = rising(guide, quarter);
    if (rings.empty()) return {};
    constexpr double inside = 0.9;           // [-] of a ring's height, where it is not yet level
    constexpr double past = 3.0, fan = 6.0;  // [mm]
    const double start = std::min(quarter.first, 0.3 * rings.front().height);
    double step = pitch;
    for (std::size_t k = 1; k < rings.size(); ++k)
        step = std::min(step, (inside * rings[k].height - start) / static_cast<double>(k));
    const Vec2 datum = datum_of(guide);
    const plane::Box box = plane::box_round(guide.footprint.outer);
    const double elbow = quarter.right > 0.0 ? box.high.x() + past : box.low.x() - past;
    std::vector<Led> out;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        const auto nth = static_cast<double>(k);
        const double level = datum.y() + quarter.up * (start + step * nth);
        const auto at = outermost_crossing(*rings[k].ring, level, quarter.right, datum);
        if (!at) continue;
        const double name = datum.y() + quarter.up * (quarter.first + pitch * nth);
        out.push_back({rings[k].ring, {*at, {elbow, level}, {elbow + quarter.right * fan, name}}});
    }
    return out;
}

/// The lines of the marks, and those that a tape is laid along on either side of the datum.
TextRoom lines_beside(const GrindGuide& guide) {
    constexpr double tape_overhang = 30.0;  // [mm] beyond the footprint
    const Vec2 datum = datum_of(guide);
    const plane::Box box = plane::box_round(guide.footprint.outer, tape_overhang);
    const double reach = (box.high - box.low).norm();
    TextRoom lines;
    for (const Mark& mark : guide.marks) {
        lines.add_line(fields_of(mark).points, false, TextRoom::on_line);
        const auto* arrow = std::get_if<Arrow>(&mark);
        if (!arrow) continue;
        const Vec2 way = (arrow->tip - arrow->tail).normalized();
        lines.add_line({datum - reach * way, datum + reach * way}, false, TextRoom::on_line);
    }
    return lines;
}

/// Whether every name finds a place beside its ring, clear of some other lines too.
bool all_have_room(const GrindGuide& guide, TextRoom lines) {
    for (const GrindGuide::Ring& ring : guide.rings)
        for (const Loop2& loop : ring.loops) lines.add_line(loop, false, TextRoom::on_line);
    return std::all_of(guide.rings.begin(), guide.rings.end(), [&](const GrindGuide::Ring& ring) {
        return ring.ply == too_steep || has_room(ring, lines);
    });
}

}  // namespace

void add_ring_leaders(GrindGuide& guide) {
    const TextRoom lines = lines_beside(guide);
    if (all_have_room(guide, lines)) return;
    std::vector<Led> best;
    double least = 0.0;
    for (const double first : {9.0, 16.0, 24.0, 40.0})
        for (const double up : {1.0, -1.0})
            for (const double right : {1.0, -1.0}) {
                std::vector<Led> found = leaders(guide, {right, up, first});
                double cost = 0.0;
                for (const Led& led : found)
                    cost += lines.cost(leader_text_box({{}, led.ring->text, 0.0, 0, led.leader}));
                const bool better =
                    found.size() > best.size() || (found.size() == best.size() && cost < least);
                if (!better) continue;
                best = std::move(found);
                least = cost;
            }
    for (Led& led : best) led.ring->leader = std::move(led.leader);
}

}  // namespace tearline::templates
