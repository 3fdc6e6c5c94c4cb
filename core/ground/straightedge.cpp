#include "core/ground/straightedge.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/damage/foot.h"
#include "core/ground/tolerances.h"

namespace tearline::ground {

namespace {

/// A place of the surface in the plane of the straightedge.
struct Place {
    Vec2 profile{0, 0};  ///< [mm] along the straightedge, and over the place sounded
    Vec3 at{0, 0, 0};
    Vec3 normal{0, 0, 1};
};

/// The plane that a straightedge is held in.
class Section {
public:
    Section(const OldSurface& old, const surface::Location& at, const Vec3& direction)
        : old_(old), origin_(old.patch.sample(at)) {
        along_ = (direction - direction.dot(origin_.normal) * origin_.normal).normalized();
    }

    /// The surface `u` along the plane, looked for from a height on; none where it is not known or
    /// stands as a wall.
    [[nodiscard]] std::optional<Place> place(double u, double height) const {
        constexpr int most_steps = 12;
        for (int step = 0; step < most_steps; ++step) {
            const Vec3 over = origin_.position + u * along_ + height * origin_.normal;
            const damage::Foot foot = damage::foot_of(old_.widest(), over);
            const Vec3& normal = foot.sample.normal;
            const double facing = normal.dot(origin_.normal);
            if (foot.over_rim || !(facing > tolerance::straightedge_wall)) return std::nullopt;
            const double rise = normal.dot(foot.sample.position - over) / facing;
            height += rise;
            if (std::abs(rise) <= tolerance::straightedge_height)
                return Place{{u, height}, over + rise * origin_.normal, normal};
        }
        return std::nullopt;
    }

    /// Where a place lies in the chart of the repair.
    [[nodiscard]] Vec2 chart(const Place& place) const {
        return old_.patch.chart_point(old_.patch.nearest(place.at).at);
    }
    [[nodiscard]] bool ground_off(const Place& place) const {
        const Vec2 at = chart(place);
        return std::any_of(old_.ground.begin(), old_.ground.end(),
                           [&](const Region2& region) { return contains(region, at); });
    }

    /// [-] of the surface, along the plane.
    [[nodiscard]] double slope(const Place& place) const {
        return -place.normal.dot(along_) / place.normal.dot(origin_.normal);
    }
    [[nodiscard]] Place here() const { return {{0, 0}, origin_.position, origin_.normal}; }
    [[nodiscard]] const Vec3& along() const { return along_; }
    [[nodiscard]] const Vec3& normal() const { return origin_.normal; }

private:
    const OldSurface& old_;
    surface::SurfaceSample origin_;
    Vec3 along_{1, 0, 0};
};

/// What lies under one half of a straightedge.
struct Half {
    std::vector<Place> old, ground;
    Place last;         ///< the farthest that is known
    double end = 0.0;   ///< [mm] along the plane, where the tip stands
    bool whole = true;  ///< known as far as the tip
};

/// The edge of the ground area between two places, one of them in it.
Place edge_of_ground(const Section& section, Place in, Place out) {
    constexpr int halvings = 24;
    for (int i = 0; i < halvings; ++i) {
        const Vec2 middle = 0.5 * (in.profile + out.profile);
        const auto place = section.place(middle.x(), middle.y());
        if (!place) break;
        (section.ground_off(*place) ? in : out) = *place;
    }
    return out;
}

Half half_under(const Section& section, double end) {
    constexpr int steps = 100;
    Half half;
    half.end = end;
    Place before = section.here();
    bool was_ground = section.ground_off(before);
    (was_ground ? half.ground : half.old).push_back(before);
    double climb = 0.0;
    for (int i = 1; i <= steps; ++i) {
        const double u = end * i / steps;
        const auto place = section.place(u, before.profile.y() + climb * end / steps);
        if (!place) {
            half.whole = false;
            break;
        }
        const bool ground = section.ground_off(*place);
        // The edge itself: on a bulge the straightedge rests there.
        if (ground != was_ground)
            half.old.push_back(was_ground ? edge_of_ground(section, before, *place)
                                          : edge_of_ground(section, *place, before));
        (ground ? half.ground : half.old).push_back(*place);
        before = *place;
        was_ground = ground;
        climb = section.slope(before);
    }
    half.last = before;
    return half;
}

/// The highest chord over the place from one half to the other.
struct Chord {
    const Place* ahead = nullptr;
    const Place* behind = nullptr;
    double height = -std::numeric_limits<double>::infinity();
    double slope = 0.0;

    [[nodiscard]] double at(double u) const { return height + slope * u; }
};

Chord highest_chord(const Half& ahead, const Half& behind) {
    Chord best;
    for (const Place& a : ahead.old)
        for (const Place& b : behind.old) {
            const Vec2 run = a.profile - b.profile;
            // A place that was not ground carries the edge itself.
            const double slope = run.x() > 0.0 ? run.y() / run.x() : 0.0;
            const double height = a.profile.y() - slope * a.profile.x();
            if (height > best.height) best = {&a, &b, height, slope};
        }
    return best;
}

/// Where the ends of an edge of this half length stand, its middle square over the place.
double tip_of(const Chord& chord, double half, double way) {
    const double square = 1.0 / std::hypot(1.0, chord.slope);
    return -chord.height * chord.slope * square * square + way * half * square;
}

EdgeContact contact(const Section& section, const Half& half, const Chord& chord,
                    const Place& place) {
    EdgeContact out;
    out.at = place.at;
    out.under_tip = std::abs(place.profile.x() - half.end) < tolerance::straightedge_settled;
    // Under a tip the surface rises past it; elsewhere the edge rests on a point of the surface.
    out.lift = out.under_tip ? Vec3(place.normal / place.normal.dot(section.normal()))
                             : Vec3(section.normal() - chord.slope * section.along());
    return out;
}

/// What is not known under a tip must not stand over the edge.
bool may_be_unknown(const Section& section, const Half& half, const Chord& chord) {
    if (half.whole) return true;
    const double beyond = half.end - half.last.profile.x();
    return half.last.profile.y() + section.slope(half.last) * beyond <=
           chord.at(half.end) + tolerance::straightedge_beyond;
}

Error refused(double length, const std::string& why) {
    return {.what = "length: the straightedge of " + fixed(length, 0) + " mm " + why};
}

Error reaches_off(double length) {
    return refused(length,
                   "reaches farther than the hull is known there; use a shorter one, or lay it the "
                   "other way");
}

}  // namespace

double StraightedgeRest::depth_of(double read) const {
    return read * std::hypot(1.0, slope) - gap;
}

Result<StraightedgeRest> straightedge_rest(const OldSurface& old, const surface::Location& at,
                                           const Straightedge& edge) {
    const Section section(old, at, edge.direction);
    double end_ahead = 0.5 * edge.length, end_behind = -0.5 * edge.length;
    Half ahead, behind;
    Chord chord;
    constexpr int most_settlings = 6;
    for (int i = 0; i < most_settlings; ++i) {
        ahead = half_under(section, end_ahead);
        behind = half_under(section, end_behind);
        chord = highest_chord(ahead, behind);
        if (chord.ahead == nullptr && ahead.whole && behind.whole)
            return tl::unexpected(
                refused(edge.length,
                        "does not reach over the ground area on both sides; use a longer one"));
        if (chord.ahead == nullptr) return tl::unexpected(reaches_off(edge.length));
        end_ahead = tip_of(chord, 0.5 * edge.length, 1.0);
        end_behind = tip_of(chord, 0.5 * edge.length, -1.0);
        if (std::abs(end_ahead - ahead.end) < tolerance::straightedge_settled &&
            std::abs(end_behind - behind.end) < tolerance::straightedge_settled)
            break;
    }
    if (!may_be_unknown(section, ahead, chord) || !may_be_unknown(section, behind, chord))
        return tl::unexpected(reaches_off(edge.length));
    StraightedgeRest rest;
    rest.gap = chord.height;
    rest.slope = chord.slope;
    rest.ahead = contact(section, ahead, chord, *chord.ahead);
    rest.behind = contact(section, behind, chord, *chord.behind);
    const double run = chord.ahead->profile.x() - chord.behind->profile.x();
    rest.ahead.share = run > 0.0 ? -chord.behind->profile.x() / run : 0.5;
    rest.behind.share = 1.0 - rest.ahead.share;
    for (const Half* half : {&ahead, &behind})
        for (const Place& place : half->ground)
            rest.over.push_back({place.profile, section.chart(place)});
    return rest;
}

}  // namespace tearline::ground
