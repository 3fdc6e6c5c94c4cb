#include "core/ground/job_hull.h"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <string>
#include <utility>

#include "core/ground/find_ground.h"
#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/hull/mesh_file.h"
#include "core/hull/read_hull.h"
#include "core/patch/told_end.h"
#include "core/scan/scanned_hull.h"
#include "core/scan/tape_scale.h"

namespace tearline::ground {

namespace {

/// [mm] a place picked in a dent is its place on the hull as it was; farther off it is a slip.
constexpr double deepest_dent = 150.0;

/// Places picked on a scan stand on its noise, or in the dent: their feet on the fair surface.
void set_on_surface(job::Job& job, const hull::ScannedSurface& surface) {
    const auto settle = [&](Vec3& place) {
        const Vec3 foot = surface.foot(place);
        if ((foot - place).norm() <= deepest_dent) place = foot;
    };
    for (Vec3& place : job.damage.outline) settle(place);
    for (Vec3& place : job.damage.end) settle(place);
    if (job.damage.centre) settle(*job.damage.centre);
    if (job.damage.within) settle(*job.damage.within);
    for (job::Opening& opening : job.damage.openings) {
        if (opening.centre) settle(*opening.centre);
        for (Vec3& place : opening.outline) settle(place);
    }
    if (job.layup.press_first) settle(*job.layup.press_first);
    for (job::Mark& mark : job.marks)
        if (mark.at) settle(*mark.at);
    for (job::Sounding& sounding : job.damage.soundings) settle(sounding.at);
}

/// The end that a job tells, as it lies on a first surface.
scan::ScanEnd end_on(const job::Job& job, const hull::ScannedSurface& surface,
                     const scan::ScanPlace& place, const scan::Scan& scan) {
    std::vector<Vec3> feet;
    for (const Vec3& p : job.damage.end) feet.push_back(surface.foot(p));
    const patch::ToldEnd told(feet);
    const double spacing = scan::spacing_of(scan.points);
    scan::ScanEnd end;
    const auto last = static_cast<double>(feet.size() - 1);
    for (std::size_t i = 0; i + 1 < feet.size(); ++i) {
        const int parts = 1 + static_cast<int>(std::ceil((feet[i + 1] - feet[i]).norm() / spacing));
        for (int k = 0; k < parts; ++k)
            end.at.push_back(
                surface.foot(told.point(static_cast<double>(i) + static_cast<double>(k) / parts)));
    }
    end.at.push_back(surface.foot(told.point(last)));
    for (const Vec3& p : end.at)
        end.out.push_back(told.nearest(p).along.cross(surface.normal(p)).normalized());
    // The damage lies on the hull; one on its very end says nothing, and most of the scan does.
    double inside = -told.beside(place.middle, surface.normal(told.nearest(place.middle).place));
    if (!(std::abs(inside) > patch::ToldEnd::near)) {
        constexpr std::size_t asked = 20'000;
        const std::size_t stride = 1 + scan.points.size() / asked;
        for (std::size_t i = 0; i < scan.points.size(); i += stride)
            inside += end.is_beyond(scan.points[i]) ? -1.0 : 1.0;
    }
    if (inside < 0.0)
        for (Vec3& way : end.out) way = -way;
    return end;
}

/// The surface about a job's damage; where the hull's end is told, a first one shows how that lies
/// on it, and the second is made of what lies on this side of it.
Result<hull::Hull> hull_about(const job::Job& job, const scan::Scan& scan, double beyond) {
    scan::ScanPlace place = scan::place_of(job, scan, beyond);
    auto first = scan::scanned_hull(scan, job.hull, job.damage.side, place);
    if (!first || job.damage.end.empty() || !job.taped.empty()) return first;
    place.end = end_on(job, *first->scanned->surface, place, scan);
    return scan::scanned_hull(scan, job.hull, job.damage.side, place);
}

/// The same where points are known by tape: a first surface without regard to the damage tells
/// where they lie, and the second bridges it.
Result<hull::Hull> hull_about_taped(const job::Job& job, const scan::Scan& scan, double beyond) {
    const auto first = hull_about(job, scan, beyond);
    if (!first || job.taped.empty()) return first;
    const auto placed = place_points(job, *first);
    if (!placed) return tl::unexpected(placed.error());
    return hull_about(placed->job, scan, beyond);
}

/// The dish scan that a job names for the work after a ply; null for none.
const job::DishScan* dish_scan(const job::Job& job, int after) {
    for (const job::DishScan& scan : job.damage.scans_after)
        if (scan.ply == after) return &scan;
    return job.damage.scan && after == 0 ? &*job.damage.scan : nullptr;
}

/// Places of marks in a scan's own coordinates: its file's, or those times its unit; whichever
/// lies on its points.
std::map<std::string, Vec3> on_points(const job::DishScan& options, const scan::Scan& scan) {
    const auto farthest = [&](double factor) {
        double most = 0.0;
        for (const auto& [name, at] : options.marks) {
            double nearest = std::numeric_limits<double>::infinity();
            for (const Vec3& p : scan.points)
                nearest = std::min(nearest, (p - factor * at).squaredNorm());
            most = std::max(most, nearest);
        }
        return most;
    };
    std::map<std::string, Vec3> marks = options.marks;
    const double unit = hull::millimetres_in(options.unit).value();
    if (farthest(unit) < farthest(1.0))
        for (auto& [name, at] : marks) at *= unit;
    return marks;
}

Result<std::shared_ptr<const hull::DishPoints>> read_dish(const job::Job& job, int after) {
    const job::DishScan* options = dish_scan(job, after);
    if (options == nullptr) return nullptr;
    auto scan = scan::read_scan(options->model, options->unit);
    if (!scan) {
        scan.error().key = "damage.scan.model";
        return tl::unexpected(scan.error());
    }
    auto dish = std::make_shared<hull::DishPoints>();
    const scan::Noise noise = scan::noise_of_kind(options->kind);
    dish->noise = options->noise.value_or(noise.spread);
    dish->correlation = noise.correlation;
    dish->spacing = scan::spacing_of(scan->points);
    dish->marks = on_points(*options, *scan);
    dish->points = std::move(scan->points);
    return dish;
}

Result<JobHull> read_scanned(const job::Job& asked) {
    const job::HullOptions& options = asked.hull;
    if (options.mirror.value_or(false))
        return bad_input("hull.mirror",
                         "true: a scan measures what it shows, and the other side of a boat is "
                         "seldom its mirror image to a template's millimetre; remove it, and scan "
                         "across the centreline where the repair crosses it");
    const auto beyond = reach_beyond_outline(asked);
    if (!beyond) return tl::unexpected(beyond.error());
    auto scan = scan::read_scan(options.model, options.unit.value());
    if (!scan) return tl::unexpected(scan.error());
    const auto scale =
        scan::tape_scale(*scan, *options.scan, scan::place_of(asked, *scan, *beyond));
    if (!scale) return tl::unexpected(scale.error());
    scan->scale(scale->factor);
    auto job = scan::in_true_mm(asked, scale->factor);
    if (!job) return tl::unexpected(job.error());
    auto hull = hull_about_taped(*job, *scan, *beyond);
    if (!hull) return tl::unexpected(hull.error());
    hull->scanned->scale = scale->factor;
    hull->scanned->scale_error = scale->error;
    hull->scanned->tape_misfits = scale->misfit;
    set_on_surface(*job, *hull->scanned->surface);
    if (options.scan->shows == job::ScanShows::dish) {
        auto dish = std::make_shared<hull::DishPoints>();
        dish->noise = hull->scanned->noise;
        dish->correlation = hull->scanned->correlation;
        dish->spacing = hull->scanned->spacing;
        dish->points = std::move(scan->points);
        hull->dish = std::move(dish);
    }
    return JobHull{std::move(*job), std::move(*hull)};
}

Result<JobHull> read_known(const job::Job& job) {
    auto read = [&]() -> Result<JobHull> {
        if (job.hull.scan) return read_scanned(job);
        auto hull = read_shared_hull(job);
        if (!hull) return tl::unexpected(hull.error());
        return JobHull{job, std::move(*hull)};
    }();
    if (!read || !has_dish_scan(job)) return read;
    auto hull = with_dish_scan(job, std::move(read->hull));
    if (!hull) return tl::unexpected(hull.error());
    read->hull = std::move(*hull);
    return read;
}

}  // namespace

Result<hull::Hull> read_shared_hull(const job::Job& job) {
    return hull::read_hull(job.hull, job.damage.side);
}

bool has_dish_scan(const job::Job& job) {
    return job.damage.scan || !job.damage.scans_after.empty();
}

Result<hull::Hull> with_dish_scan(const job::Job& job, hull::Hull hull) {
    auto dish = read_dish(job, job.after_ply);
    if (!dish) return tl::unexpected(dish.error());
    if (*dish) hull.dish = std::move(*dish);
    if (job.after_ply == 0) return hull;
    auto before = read_dish(job, 0);
    if (!before) return tl::unexpected(before.error());
    hull.dish_before = std::move(*before);
    return hull;
}

Result<JobHull> read_job_hull(const job::Job& job) {
    return asks_for_ground(job) ? with_ground_found(job, read_known) : read_known(job);
}

}  // namespace tearline::ground
