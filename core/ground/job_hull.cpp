#include "core/ground/job_hull.h"

#include <cmath>
#include <utility>

#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/hull/read_hull.h"
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
    if (job.damage.centre) settle(*job.damage.centre);
    if (job.layup.press_first) settle(*job.layup.press_first);
    for (job::Mark& mark : job.marks)
        if (mark.at) settle(*mark.at);
    for (job::Sounding& sounding : job.damage.soundings) settle(sounding.at);
}

Result<hull::Hull> hull_about(const job::Job& job, const scan::Scan& scan, double beyond) {
    return scan::scanned_hull(scan, job.hull, job.damage.side, scan::place_of(job, scan, beyond));
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

Result<JobHull> read_scanned(const job::Job& asked) {
    const job::HullOptions& options = asked.hull;
    if (options.mirror.value_or(false))
        return bad_input("hull.mirror",
                         "true: a scan is of one place, and has no other half to be made; remove "
                         "it");
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
    return JobHull{std::move(*job), std::move(*hull)};
}

}  // namespace

Result<JobHull> read_job_hull(const job::Job& job) {
    if (job.hull.scan) return read_scanned(job);
    auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) return tl::unexpected(hull.error());
    return JobHull{job, std::move(*hull)};
}

}  // namespace tearline::ground
