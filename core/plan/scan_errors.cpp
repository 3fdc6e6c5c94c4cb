#include "core/plan/scan_errors.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/base/angle_between.h"
#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/dish/scanned_dish.h"
#include "core/ground/ground.h"
#include "core/rates/tolerances.h"
#include "core/surface/locate_near.h"

namespace tearline::plan {

namespace {

/// Told errors are two spreads.
constexpr double k = 2.0;

/// Some of the points round a region.
std::vector<Vec3> some_of(const std::vector<Region3>& regions, std::size_t wanted) {
    std::vector<Vec3> all;
    for (const Region3& region : regions)
        all.insert(all.end(), region.outer.begin(), region.outer.end());
    const std::size_t stride = std::max<std::size_t>(1, all.size() / wanted);
    std::vector<Vec3> some;
    for (std::size_t i = 0; i < all.size(); i += stride) some.push_back(all[i]);
    return some;
}

/// What an edge's error is made of [mm], one spread each.
struct EdgeError {
    double scale = 0.0, surface = 0.0, pick = 0.0, dish = 0.0;
    Vec3 least_sure{0, 0, 0};  ///< [mm] where the surface is
    [[nodiscard]] double told() const {
        return k * std::hypot(std::hypot(scale, surface, pick), dish);
    }
    [[nodiscard]] warn::ScanEdgeUnsure::Most most() const {
        using Most = warn::ScanEdgeUnsure::Most;
        if (dish > std::max({scale, surface, pick})) return Most::dish;
        return scale > std::max(surface, pick) ? Most::scale
               : surface > pick                ? Most::surface
                                               : Most::picking;
    }
};

/// How sure a hull is that is known by a scan.
class HullTold {
public:
    HullTold(const Vec3& middle, const hull::Scanned& scanned)
        : scanned_(scanned), middle_(middle) {}

    [[nodiscard]] const Vec3& middle() const { return middle_; }
    [[nodiscard]] double height(const Vec3& place) const {
        return scanned_.surface->height_error(place);
    }

    /// The most that the edge of a ply is off.
    [[nodiscard]] EdgeError edge(const templates::LaidPly& ply) const {
        constexpr std::size_t places = 16;
        const Vec3 inner = normal_at(middle_);
        EdgeError error;
        error.least_sure = middle_;
        double farthest = 0.0, most_turn = 0.0, highest = height(middle_);
        for (const Vec3& place : some_of(ply.outlines_3d, places)) {
            farthest = std::max(farthest, (place - middle_).norm());
            const Vec3 normal = normal_at(place);
            most_turn = std::max(most_turn, angle_between(normal, inner));
            if (const double off = height(place); off > highest) {
                highest = off;
                error.least_sure = place;
            }
        }
        error.scale = scanned_.scale_error * farthest;
        error.surface = 2.0 * most_turn * highest;  // across the piece, not from its middle alone
        // Places are picked to the nearest point of the scan, even over its spacing; by eye to 2
        // mm.
        constexpr double by_eye = 2.0;
        error.pick = std::min(by_eye, scanned_.spacing / std::sqrt(12.0));
        return error;
    }

private:
    [[nodiscard]] Vec3 normal_at(const Vec3& place) const {
        return scanned_.surface->normal(place);
    }

    const hull::Scanned& scanned_;
    Vec3 middle_;
};

/// How far a ply's edge is off, one spread [mm], where it is a level of a dish by a scan: by the
/// depth there and the deepest place, from which levels are counted, down the ground's slope.
double off_in_dish(const dish::ScannedDish& dish, const plies::NetRegion& region,
                   const surface::Patch& patch, const hull::Scanned* hull) {
    constexpr std::size_t places = 24;
    std::vector<Vec2> edge;
    for (const Region2& part : region.chart)
        edge.insert(edge.end(), part.outer.begin(), part.outer.end());
    double squares = 0.0, slopes = 0.0, count = 0.0;
    for (std::size_t i = 0; i < edge.size(); i += std::max<std::size_t>(1, edge.size() / places)) {
        double old_surface = 0.0;
        if (hull != nullptr)
            old_surface = hull->surface->height_error(
                patch.sample(surface::locate_near(patch, edge[i]).at).position);
        const double off = std::hypot(dish.depth_error(edge[i]), dish.deepest_error(), old_surface);
        squares += off * off;
        slopes += dish.slope(edge[i]).squaredNorm();
        count += 1.0;
    }
    if (!(count > 0.0)) return 0.0;
    return std::sqrt(squares / count) /
           std::max(std::sqrt(slopes / count), tolerance::flattest_wall);
}

/// How far one ply's edge lies outside the one under it [mm].
double step_of(const templates::LaidPly& ply, const job::Job& job) {
    return ply.cover ? job.layup.cover_step : ply.thickness_mm * job.scarf.ratio;
}

/// Places as the job file has them: in the scan's own coordinates, before its scale.
std::vector<Vec3> as_picked(std::vector<Vec3> places, double scale) {
    for (Vec3& place : places) place /= scale;
    return places;
}

Warnings tell_of_points(const hull::Scanned& scanned, const job::Job& job, const ScanTold& told) {
    Warnings warnings;
    warnings.push_back(
        {warn::ScanFitted{scanned.used, scanned.points, scanned.noise, scanned.fairness,
                          told.middle_mm, job.hull.scan->shows != job::ScanShows::sound_hull}});
    if (scanned.strays > 0)
        warnings.push_back({warn::ScanStrays{scanned.strays, scanned.farthest_stray / scanned.scale,
                                             scanned.stray_off}});
    if (!scanned.holes.empty()) {
        const hull::Scanned::Hole& largest = scanned.holes.front();
        warnings.push_back({warn::ScanHoles{scanned.holes.size(),
                                            2.0 * std::sqrt(largest.area_mm2 / std::numbers::pi),
                                            largest.at / scanned.scale}});
    }
    constexpr double all_round = 270.0;
    if (told.cover_deg < all_round)
        warnings.push_back({warn::ScanOneSided{told.cover_deg, told.most_mm}});
    if (scanned.bend)
        warnings.push_back({warn::ScanBend{scanned.bend->radius, scanned.bend->at / scanned.scale,
                                           as_picked(scanned.bend->middle, scanned.scale)}});
    if (scanned.unfollowed)
        warnings.push_back({warn::ScanUnfollowed{scanned.unfollowed->off,
                                                 scanned.unfollowed->at / scanned.scale}});
    for (const hull::Scanned::Chine& chine : scanned.chines) {
        auto points = as_picked(chine.points, scanned.scale);
        const Vec3 at = points[1];
        warnings.push_back({warn::ScanChine{chine.turn_degrees, at, std::move(points)}});
    }
    for (const hull::Scanned::Chine& chine : scanned.doubtful) {
        auto points = as_picked(chine.points, scanned.scale);
        const Vec3 at = points[1];
        warnings.push_back({warn::ScanChineUnsure{chine.turn_degrees, at, std::move(points)}});
    }
    return warnings;
}

void tell_of_tapes(const hull::Scanned& scanned, const job::Job& job, Warnings& warnings) {
    const std::vector<double>& misfits = scanned.tape_misfits;
    if (misfits.empty()) return;
    double most = 0.0;
    for (const double misfit : misfits) most = std::max(most, std::abs(misfit));
    warnings.push_back({warn::ScanTapes{100.0 * scanned.scale, most, misfits.size()}});
    if (misfits.size() == 1 && job.hull.scan->kind == job::ScanKind::photo)
        warnings.push_back({warn::ScanOneTape{job.hull.scan->tapes.front().length}});
}

ScanTold told_of(const hull::Scanned& scanned, const HullTold& errors,
                 const ground::Ground& ground) {
    ScanTold told;
    told.kind = scanned.kind;
    told.points = scanned.points;
    told.used = scanned.used;
    told.noise_mm = scanned.noise;
    told.correlation_mm = scanned.correlation;
    told.fairness_mm = scanned.fairness;
    told.scale = scanned.scale;
    told.scale_error = scanned.scale_error;
    told.cover_deg = scanned.cover_degrees;
    told.middle_mm = told.most_mm = k * errors.height(errors.middle());
    told.most_at = errors.middle();
    for (const Vec3& place : some_of(ground.region_at(ground.footprint_offset).on_base, 32))
        if (const double off = k * errors.height(place); off > told.most_mm) {
            told.most_mm = off;
            told.most_at = place;
        }
    return told;
}

/// What would make an edge surer that no template can be cut by.
///
/// @param scale  [-] of the scan
std::string what_helps(const EdgeError& error, double scale) {
    using Most = warn::ScanEdgeUnsure::Most;
    switch (error.most()) {
        case Most::scale:
            return "by this scan, whose size is not known better: tape a longer distance between "
                   "two places of it, or several ([[hull.scan.tape]])";
        case Most::surface:
            return "by this scan, which tells the hull least surely near " +
                   place_text(error.least_sure / scale) +
                   " mm in its own coordinates: cut out of it what stands there and is no skin, "
                   "scan more sound skin "
                   "there and all round the damage, or use a better scanner";
        case Most::picking:
            return "by this scan, on which places cannot be picked more surely: scan with finer "
                   "points";
        case Most::dish:
            return "by a scan that shows the depths of the dish no better: sound it with a gauge "
                   "([[damage.sounding]]), or use a better scanner";
    }
    return "";
}

Error too_unsure(const templates::LaidPly& ply, const EdgeError& error, double step, double scale) {
    const bool by_surface = error.most() == warn::ScanEdgeUnsure::Most::surface;
    const bool by_dish = error.most() == warn::ScanEdgeUnsure::Most::dish;
    Error refused{.kind = ErrorKind::no_safe_answer,
                  .key = by_dish ? "damage.scan" : "hull.scan",
                  .what = "its edge may be " + fixed(error.told(), 1) + " mm off, more than the " +
                          fixed(step, 1) + " mm from one ply to the next: no template can be cut " +
                          what_helps(error, scale),
                  .ply = ply.number,
                  .fabric = ply.fabric};
    if (by_surface) refused.place = error.least_sure;
    return refused;
}

}  // namespace

Result<ScanErrors> scan_errors(const ground::Ground& ground, const hull::Hull& hull,
                               const job::Job& job, std::span<const templates::LaidPly> plies) {
    ScanErrors out;
    const hull::Scanned* scanned = hull.scanned ? &*hull.scanned : nullptr;
    const dish::ScannedDish* dish = ground.dish->scan();
    if (scanned == nullptr && dish == nullptr) return out;
    const double scale = scanned != nullptr ? scanned->scale : 1.0;
    std::optional<HullTold> of_hull;
    if (scanned != nullptr) {
        of_hull.emplace(ground.frame.middle, *scanned);
        out.hull = told_of(*scanned, *of_hull, ground);
        out.warnings = tell_of_points(*scanned, job, *out.hull);
        tell_of_tapes(*scanned, job, out.warnings);
    }
    for (std::size_t i = 0; i < plies.size(); ++i) {
        const templates::LaidPly& ply = plies[i];
        EdgeError error = of_hull ? of_hull->edge(ply) : EdgeError{};
        if (dish != nullptr && !ply.cover)
            error.dish = off_in_dish(*dish, ground.ply_regions.at(i), ground.patch, scanned);
        const double step = step_of(ply, job);
        out.edge_mm.push_back(error.told());
        if (error.told() > step) return tl::unexpected(too_unsure(ply, error, step, scale));
        if (error.told() > step / 3.0)
            out.warnings.push_back({.cause = warn::ScanEdgeUnsure{error.told(), step, error.most()},
                                    .ply = ply.number});
    }
    return out;
}

}  // namespace tearline::plan
