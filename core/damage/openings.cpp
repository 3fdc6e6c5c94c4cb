#include "core/damage/openings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/follow_surface.h"
#include "core/damage/foot.h"
#include "core/damage/hull_end_way.h"
#include "core/damage/tolerances.h"
#include "core/damage/way_out.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::damage {

namespace {

/// Whether all of an opening lies inside a loop: none of it is part of the loop itself.
bool inside(const Loop2& outline, const Loop2& hole) {
    return std::all_of(hole.begin(), hole.end(), [&](const Vec2& p) {
        return contains(outline, p) && plane::distance_to_loop(outline, p) > tolerance::end_passed;
    });
}

/// Middle and size of a loop in space.
void measure(KeptOpening& opening) {
    const auto& points = opening.edge.points;
    double around = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3& a = points[i].position;
        const Vec3& b = points[(i + 1) % points.size()].position;
        opening.middle += 0.5 * (b - a).norm() * (a + b);
        around += (b - a).norm();
    }
    opening.middle /= around;
    Vec3 widest = Vec3::UnitX(), normal = Vec3::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 a = points[i].position - opening.middle;
        normal += a.cross(points[(i + 1) % points.size()].position - opening.middle);
        for (std::size_t j = 0; j < i; ++j) {
            const Vec3 across = points[i].position - points[j].position;
            if (!(across.norm() > opening.width)) continue;
            opening.width = across.norm();
            widest = across.normalized();
        }
    }
    const Vec3 square = normal.cross(widest).normalized();
    double low = 0.0, high = 0.0;
    for (const OutlinePoint& point : points) {
        const double at = (point.position - opening.middle).dot(square);
        low = std::min(low, at);
        high = std::max(high, at);
    }
    opening.height = high - low;
    opening.area_mm2 = std::abs(signed_area(opening.edge.chart));
}

std::string described(const KeptOpening& opening) {
    return "at " + place_text(opening.middle) + " mm, " + fixed(opening.width, 1) + " x " +
           fixed(opening.height, 1) + " mm";
}

class Openings {
public:
    Openings(const surface::Patch& patch, const DamageOutline& outline, const job::Damage& damage,
             const Vec3& bow, const Vec3& up)
        : patch_(patch), outline_(outline), damage_(damage), bow_(bow), up_(up) {
        const HullEndWay end(patch);
        for (const Loop2& hole : patch.domain().holes) {
            KeptOpening opening;
            opening.in_model = true;
            opening.edge.points = follow_surface(patch, end.round_opening(hole));
            for (const OutlinePoint& point : opening.edge.points)
                opening.edge.chart.push_back(patch.chart_point(point.at));
            measure(opening);
            found_.push_back({std::move(opening), inside(outline.chart, hole)});
        }
    }

    Result<std::vector<KeptOpening>> run() {
        std::optional<std::size_t> rest;
        for (std::size_t i = 0; i < damage_.openings.size(); ++i) {
            const job::Opening& asked = damage_.openings[i];
            if (!asked.centre && asked.outline.empty()) {
                if (rest)
                    return bad_input(key(i), "says no more where it is than damage.opening[" +
                                                 std::to_string(*rest + 1) + "]; give its centre");
                rest = i;
                continue;
            }
            if (auto added = add(asked, i); !added) return tl::unexpected(added.error());
        }
        for (Found& found : found_)
            if (rest && found.inside && !found.named)
                keep(std::move(found.opening), damage_.openings[*rest]), found.named = true;
        if (rest && kept_.empty())
            return bad_input(key(*rest),
                             "there is no opening inside the outline; give its centre "
                             "with radius, or its outline, where the model has none");
        if (auto all = all_named(); !all) return tl::unexpected(all.error());
        return std::move(kept_);
    }

private:
    struct Found {
        KeptOpening opening;
        bool inside = false;
        bool named = false;
    };

    static std::string key(std::size_t i) {
        return "damage.opening[" + std::to_string(i + 1) + "]";
    }

    void keep(KeptOpening opening, const job::Opening& asked) {
        opening.asked = static_cast<std::size_t>(&asked - damage_.openings.data());
        opening.scarf_to = asked.scarf_to;
        opening.clear = asked.clear;
        opening.slit = asked.slit;
        kept_.push_back(std::move(opening));
    }

    /// The opening of the model that a place lies in, or near whose edge it lies.
    Found* found_at(const Vec3& place) {
        const Foot foot = foot_of(patch_, place);
        const Vec2 chart = in_opening(patch_, foot) ? chart_beside(patch_, place, foot)
                                                    : patch_.chart_point(foot.at);
        Found* best = nullptr;
        double nearest = tolerance::outline_reach;
        for (Found& found : found_) {
            const Loop2& loop = found.opening.edge.chart;
            const double off = contains(loop, chart) ? 0.0 : plane::distance_to_loop(loop, chart);
            if (off < nearest) nearest = off, best = &found;
        }
        return best;
    }

    /// A place beside the part of the hull that the repair needs: nobody knows what is there.
    [[nodiscard]] Result<void> within_patch(const Vec3& place, std::size_t i) const {
        const Foot foot = foot_of(patch_, place);
        if (!foot.over_rim || foot.over_hull_end || foot.distance <= tolerance::outline_reach)
            return {};
        double off = std::numeric_limits<double>::infinity();
        for (const OutlinePoint& point : outline_.points)
            off = std::min(off, (point.position - place).norm());
        return out_of_reach(i, off, place);
    }

    Result<void> add(const job::Opening& asked, std::size_t i) {
        for (const Vec3& place : asked.centre ? std::vector<Vec3>{*asked.centre} : asked.outline)
            if (auto near = within_patch(place, i); !near) return near;
        if (asked.centre && !asked.radius) {
            Found* found = found_at(*asked.centre);
            if (found == nullptr)
                return bad_input(key(i) + ".centre",
                                 place_text(*asked.centre) +
                                     " mm lies in no opening of the model; give a radius, too, if "
                                     "the model does not have it" +
                                     listed("; it has openings "),
                                 *asked.centre);
            if (found->named)
                return bad_input(key(i) + ".centre", "names an opening that another names already");
            found->named = true;
            keep(found->opening, asked);
            return {};
        }
        return add_drawn(asked, i);
    }

    /// One that the model does not have, or whose fitting is wider than its hole.
    Result<void> add_drawn(const job::Opening& asked, std::size_t i) {
        job::Damage drawn;
        drawn.centre = asked.centre;
        drawn.radius = asked.radius;
        drawn.outline = asked.outline;
        Found* same = asked.centre ? found_at(*asked.centre) : nullptr;
        auto edge = damage_outline(patch_, drawn, bow_, up_);
        // Drawn about where the model's own edge runs: that is its edge.
        const double size = asked.radius ? std::numbers::pi * *asked.radius * *asked.radius : 0.0;
        const bool alike_in_size =
            same != nullptr && std::abs(std::sqrt(same->opening.area_mm2 / size) - 1.0) < alike;
        const bool round_it = same != nullptr && edge && !edge->cut_at_hull_end &&
                              inside(edge->chart, same->opening.edge.chart);
        if (alike_in_size && !round_it) {
            same->named = true;
            keep(same->opening, asked);
            return {};
        }
        if (!edge) return tl::unexpected(renamed(edge.error(), i));
        if (edge->cut_at_hull_end)
            return bad_input(key(i),
                             "crosses the hull's end or an opening of the model near " +
                                 place_text(edge->points.front().position) +
                                 " mm; give the centre alone for the model's own opening",
                             edge->points.front().position);
        KeptOpening opening;
        opening.edge = std::move(*edge);
        measure(opening);
        for (Found& found : found_)
            if (inside(opening.edge.chart, found.opening.edge.chart)) found.named = true;
        keep(std::move(opening), asked);
        return {};
    }

    static Error renamed(Error error, std::size_t i) {
        const std::string damage = "damage";
        if (error.key.starts_with(damage)) error.key = key(i) + error.key.substr(damage.size());
        return error;
    }

    [[nodiscard]] std::string listed(const std::string& before) const {
        std::string all;
        for (const Found& found : found_)
            all += (all.empty() ? before : "; ") + described(found.opening);
        return all;
    }

    [[nodiscard]] Result<void> all_named() const {
        std::string list;
        std::size_t count = 0;
        const KeptOpening* first = nullptr;
        for (const Found& found : found_) {
            if (!found.inside || found.named) continue;
            ++count;
            if (first == nullptr) first = &found.opening;
            list += (list.empty() ? "" : "; ") + described(found.opening);
        }
        if (first == nullptr) return {};
        return bad_input(
            "damage.opening",
            std::string("missing: the outline goes round ") +
                (count == 1 ? "an opening of the hull, "
                            : std::to_string(count) + " openings of the hull, ") +
                list + "; where a fitting stays add [[damage.opening]] with centre = " +
                point_of_job(first->middle) +
                " and keep = true for each, and the cloth goes round it; a hole right through "
                "needs a backing",
            first->middle);
    }

    static std::string point_of_job(const Vec3& p) {
        return "[" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + "]";
    }

    /// [-] sizes that differ by less are one: a radius is told to the mm.
    static constexpr double alike = 0.05;

    const surface::Patch& patch_;
    const DamageOutline& outline_;
    const job::Damage& damage_;
    const Vec3 bow_, up_;
    std::vector<Found> found_;
    std::vector<KeptOpening> kept_;
};

}  // namespace

tl::unexpected<Error> out_of_reach(std::size_t by, double off, const Vec3& place) {
    return bad_input("damage.opening[" + std::to_string(by + 1) + "]",
                     "lies " + fixed(off, 0) +
                         " mm from the damage's edge, farther than this repair reaches, and has no "
                         "effect: take it out, or give the place of one inside the damage or its "
                         "scarf",
                     place);
}

Result<std::vector<KeptOpening>> kept_openings(const surface::Patch& patch,
                                               const DamageOutline& outline,
                                               const job::Damage& damage, const Vec3& bow,
                                               const Vec3& up) {
    return Openings(patch, outline, damage, bow, up).run();
}

}  // namespace tearline::damage
