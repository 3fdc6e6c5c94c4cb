#include "core/ground/place_points.h"

#include <algorithm>
#include <array>
#include <map>
#include <stdexcept>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/tolerances.h"
#include "core/damage/foot.h"
#include "core/damage/tape_point.h"
#include "core/hull/corner_shape.h"
#include "core/job/effective_json.h"
#include "core/patch/build_patch.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::ground {

namespace {

/// The hull round the marks as far as any tape reaches; all of one measured by hand.
Result<surface::Patch> patch_about_marks(const job::Job& job, const hull::Hull& hull) {
    patch::PatchRequest request;
    request.exact = job.hull.exact;
    request.model_surface = hull.surface;
    request.laid_from = job.damage.side;
    request.skin = job.hull.skin.value_or(0.0);
    if (hull.by_hand) {
        const Vec3 middle = 0.5 * (hull.report.extent_min + hull.report.extent_max);
        const auto nearer = [&](const Vec3& a, const Vec3& b) {
            return (a - middle).squaredNorm() < (b - middle).squaredNorm();
        };
        request.seeds = {*std::min_element(hull.vertices.begin(), hull.vertices.end(), nearer)};
        request.reach = (hull.report.extent_max - hull.report.extent_min).norm();
        request.narrow_bends = true;
    } else {
        // From the first mark on: the others are looked for, and told by name, when it is there.
        double apart = 0.0;
        for (const job::Mark& mark : job.marks) {
            if (!mark.at) continue;
            if (request.seeds.empty()) request.seeds.push_back(*mark.at);
            apart = std::max(apart, (*mark.at - request.seeds.front()).norm());
        }
        for (const job::TapedPoint& point : job.taped)
            for (const auto& [name, length] : point.distances)
                request.reach = std::max(request.reach, length);
        request.reach += apart + tolerance::patch_margin;
    }
    return patch::build_patch(hull, request);
}

Vec3 direction_of(job::TapedSide side, const job::HullOptions& hull) {
    switch (side) {
        case job::TapedSide::none:
            return Vec3::Zero();
        case job::TapedSide::up:
            return hull.up;
        case job::TapedSide::down:
            return -hull.up;
        case job::TapedSide::forward:
            return hull.bow;
        case job::TapedSide::aft:
            return -hull.bow;
        case job::TapedSide::starboard:
            return hull.bow.cross(hull.up);
        case job::TapedSide::port:
            return -hull.bow.cross(hull.up);
    }
    throw std::logic_error("direction_of: no such side");
}

tl::unexpected<Error> refused(const job::Mark& mark, const std::string& key_below,
                              std::string what) {
    return tl::unexpected<Error>(Error{.key = "marks." + mark.name + key_below,
                                       .what = std::move(what),
                                       .line = mark.line,
                                       .place = mark.at});
}

/// Finds the points of one job, marks first.
class Placer {
public:
    Placer(PlacedJob& placed, const hull::Hull& hull) : placed_(placed), hull_(hull) {}

    Result<void> run() {
        for (std::size_t i = 0; i < placed_.job.marks.size(); ++i)
            if (auto done = place_mark(i); !done) return done;
        for (const job::TapedPoint& point : placed_.job.taped) {
            if (point.use == job::TapedPoint::Use::mark) continue;
            const auto place = find(point);
            if (!place) return tl::unexpected(place.error());
            put(point, place->position);
        }
        return {};
    }

private:
    [[nodiscard]] const surface::Patch& patch() const { return *placed_.about_marks; }

    Result<damage::TapedPlace> find(const job::TapedPoint& point) {
        auto place = searched(point);
        if (!place) {
            place.error().line = point.line;
            return place;
        }
        placed_.warnings.insert(placed_.warnings.end(), place->warnings.begin(),
                                place->warnings.end());
        return place;
    }

    [[nodiscard]] Result<damage::TapedPlace> searched(const job::TapedPoint& point) const {
        if (point.distances.empty())
            return corner() != nullptr
                       ? round_corner(point)
                       : damage::below_plane(patch(), point.at.head<2>(), point.path);
        std::vector<damage::TapeLine> lines;
        for (const auto& [name, length] : point.distances)
            lines.push_back({name, mark_.at(name), length});
        return damage::tape_point(patch(), lines, direction_of(point.side, placed_.job.hull),
                                  point.path);
    }

    [[nodiscard]] const hull::CornerShape* corner() const {
        return hull_.by_hand ? hull_.by_hand->corner.get() : nullptr;
    }

    /// [x, y] of a corner: along its line, and round it by tape.
    [[nodiscard]] Result<damage::TapedPlace> round_corner(const job::TapedPoint& point) const {
        const hull::CornerFrame& frame = corner()->frame();
        const double along = point.at.dot(frame.line), round = point.at.dot(frame.across);
        if (!corner()->holds(along, round))
            return bad_input(point.path, place_text(point.at) +
                                             ": lies outside the corner that was measured, "
                                             "hull.corner.length along it or flats round it");
        const damage::Foot foot = damage::foot_of(patch(), corner()->at(along, round));
        return damage::TapedPlace{foot.at, foot.sample.position, {}};
    }

    Result<void> place_mark(std::size_t index) {
        job::Mark& mark = placed_.job.marks[index];
        const auto& taped = placed_.job.taped;
        const auto own = std::find_if(taped.begin(), taped.end(), [&](const auto& point) {
            return point.use == job::TapedPoint::Use::mark && point.index == index;
        });
        if (own == taped.end()) {
            const damage::Foot foot = damage::foot_of(patch(), mark.at.value());
            if (!(foot.distance <= tolerance::outline_reach) || foot.over_rim)
                return refused(mark, ".at", "lies off the hull; marks stand on it");
            mark.at = foot.sample.position;
            mark_[mark.name] = foot.at;
            return {};
        }
        if (mark.at || own->distances.size() > 1) {  // in the plane, or from two marks
            const auto place = find(*own);
            if (!place) return tl::unexpected(place.error());
            mark.at = place->position;
            mark_[mark.name] = place->at;
            return {};
        }
        if (index == 0) return {};  // placed with the second one
        return place_first_two(own->distances.front().second);
    }

    /// Half their distance aft and forward of the middle; on the line of a corner, whichever way
    /// it runs.
    Result<void> place_first_two(double apart) {
        if (corner() != nullptr) return place_on_corner(apart);
        const auto middle = middle_of_figures();
        if (!middle) return tl::unexpected(middle.error());
        const std::array<double, 1> half{0.5 * apart};
        for (std::size_t i = 0; i < 2; ++i) {
            const Vec3 way = (i == 0 ? -1.0 : 1.0) * placed_.job.hull.bow;
            const auto ray = surface::trace_geodesic(patch(), {*middle, way}, half);
            if (ray.left_patch) return outside_figures(placed_.job.marks[i]);
            set(placed_.job.marks[i], ray.at.front());
        }
        return {};
    }

    /// Behind the middle of the net or of the battens, along their plane's normal: over a corner
    /// the place that is nearest to it lies on a flat, aside of the bend.
    [[nodiscard]] Result<surface::Location> middle_of_figures() const {
        const Vec3 middle = 0.5 * (hull_.report.extent_min + hull_.report.extent_max);
        if (placed_.job.hull.sections) return damage::foot_of(patch(), middle).at;
        const auto behind = damage::below_plane(patch(), middle.head<2>(),
                                                "marks." + placed_.job.marks.front().name);
        if (!behind) return tl::unexpected(behind.error());
        return behind->at;
    }

    Result<void> place_on_corner(double apart) {
        for (std::size_t i = 0; i < 2; ++i) {
            const double along = (i == 0 ? -0.5 : 0.5) * apart;
            if (!corner()->holds(along, 0.0)) return outside_figures(placed_.job.marks[i]);
            set(placed_.job.marks[i], damage::foot_of(patch(), corner()->at(along, 0.0)).at);
        }
        return {};
    }

    static tl::unexpected<Error> outside_figures(const job::Mark& mark) {
        return refused(mark, "",
                       "stands outside the hull that was measured; measure farther out or set the "
                       "marks nearer");
    }

    void set(job::Mark& mark, const surface::Location& at) {
        mark.at = patch().sample(at).position;
        mark_[mark.name] = at;
    }

    void put(const job::TapedPoint& point, const Vec3& at) {
        job::Damage& damage = placed_.job.damage;
        switch (point.use) {
            case job::TapedPoint::Use::outline:
                damage.outline[point.index] = at;
                break;
            case job::TapedPoint::Use::end:
                damage.end[point.index] = at;
                break;
            case job::TapedPoint::Use::centre:
                damage.centre = at;
                break;
            case job::TapedPoint::Use::press_first:
                placed_.job.layup.press_first = at;
                break;
            case job::TapedPoint::Use::sounding:
                damage.soundings[point.index].at = at;
                break;
            case job::TapedPoint::Use::mark:
                break;
        }
    }

    PlacedJob& placed_;
    const hull::Hull& hull_;
    std::map<std::string, surface::Location> mark_;
};

}  // namespace

Result<PlacedJob> place_points(const job::Job& job, const hull::Hull& hull) {
    PlacedJob placed{job, std::nullopt, {}};
    if (job.marks.empty() && job.taped.empty()) return placed;
    auto patch = patch_about_marks(job, hull);
    if (!patch) {
        // Points by their place on a corner need no marks.
        if (job.marks.empty()) return tl::unexpected(patch.error());
        return refused(job.marks.front(), "", patch.error().message());
    }
    placed.about_marks = std::move(*patch);
    if (auto done = Placer(placed, hull).run(); !done) return tl::unexpected(done.error());
    placed.job.taped.clear();
    placed.job.effective_json = job::effective_json(placed.job);
    return placed;
}

}  // namespace tearline::ground
