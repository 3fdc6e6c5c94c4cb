#include "core/scan/surface_about.h"

#include <algorithm>
#include <string>

#include "core/base/numbers.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

Result<std::vector<Vec3>> points_about(const Scan& scan, const ScanPlace& place) {
    // From a ball wider than the half width: bent surfaces reach farther along themselves.
    const double radius = 1.5 * place.half_side();
    std::vector<Vec3> near = points_within(scan.points, place.middle, radius);
    if (place.end) std::erase_if(near, [&](const Vec3& p) { return place.end->is_beyond(p); });
    constexpr std::size_t fewest = 100;
    if (near.size() < fewest)
        return bad_input(place.outline.empty() ? "marks" : "damage",
                         "only " + std::to_string(near.size()) + " points of the scan lie within " +
                             fixed(radius, 0) + " mm of it: check the point and hull.unit",
                         place.middle);
    return near;
}

FairRequest request_about(const std::vector<Vec3>& near, const job::HullScan& options,
                          const ScanPlace& place) {
    const double half = place.half_width();
    FairRequest request;
    request.middle = place.middle;
    request.outward =
        normal_about(near, place.middle, half,
                     half + tolerance::scan_guard +
                         std::max(tolerance::scan_band, tolerance::scan_band_share * half));
    if (place.bridged) request.outline = place.outline;
    request.reach = place.half_side();
    request.spacing = spacing_of(near);
    if (place.end) request.also_wanted = place.end->ribbon(request.spacing);
    request.least_noise = noise_of_kind(options.kind);
    if (options.noise) request.least_noise.spread = *options.noise;
    request.fairness = options.fairness;
    request.follow_bends = place.follow_bends;
    return request;
}

Result<FairSurface> surface_about(const Scan& scan, const job::HullScan& options,
                                  const ScanPlace& place) {
    const auto near = points_about(scan, place);
    if (!near) return tl::unexpected(near.error());
    return fair_surface(*near, request_about(*near, options, place));
}

}  // namespace tearline::scan
