#include "core/scan/outward.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

#include "core/hull/orient.h"
#include "core/hull/tolerances.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// Which way most facets near a place face, by the sign to a normal; none where they disagree.
std::optional<double> side_of_facets(const Scan& scan, const OwnSide& own, double reach) {
    double with = 0.0, against = 0.0;
    for (const auto& t : scan.triangles) {
        const Vec3& a = scan.points[static_cast<std::size_t>(t[0])];
        if (!((a - own.middle).squaredNorm() < reach * reach)) continue;
        const Vec3 normal = (scan.points[static_cast<std::size_t>(t[1])] - a)
                                .cross(scan.points[static_cast<std::size_t>(t[2])] - a);
        const double facing = normal.dot(own.normal);
        (facing > 0.0 ? with : against) += std::abs(facing);
    }
    const double most = std::max(with, against);
    if (!(most > tolerance::facets_agree * (with + against))) return std::nullopt;
    return with > against ? 1.0 : -1.0;
}

/// Whether the scan's triangles as a whole face out of what they hold; none where it is too flat.
std::optional<double> side_of_volume(const Scan& scan) {
    Vec3 middle(0, 0, 0);
    for (const Vec3& p : scan.points) middle += p / static_cast<double>(scan.points.size());
    double six_volumes = 0.0, two_areas = 0.0;
    for (const auto& t : scan.triangles) {
        const Vec3 a = scan.points[static_cast<std::size_t>(t[0])] - middle;
        const Vec3 b = scan.points[static_cast<std::size_t>(t[1])] - middle;
        const Vec3 c = scan.points[static_cast<std::size_t>(t[2])] - middle;
        six_volumes += a.dot(b.cross(c));
        two_areas += (b - a).cross(c - a).norm();
    }
    const double volume = six_volumes / 6.0, area = 0.5 * two_areas;
    if (!(std::abs(volume) >= tolerance::outside_volume * std::pow(area, 1.5))) return std::nullopt;
    return volume > 0.0 ? 1.0 : -1.0;
}

/// Which way the surface bulges; none where it is too flat.
std::optional<double> side_of_bulge(const hull::Hull& piece) {
    auto neighbours = hull::find_neighbours(piece.triangles, piece.vertices.size());
    hull::Triangles triangles = piece.triangles;
    if (hull::make_consistent(triangles, neighbours.topology).twisted) return std::nullopt;
    const auto parts = hull::measure_parts(piece.vertices, triangles, neighbours.topology);
    const auto largest = std::max_element(
        parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.area < b.area; });
    if (largest == parts.end() || !hull::knows_outside(*largest)) return std::nullopt;
    return largest->volume > 0.0 ? 1.0 : -1.0;
}

/// On which side of the surface the rest of the scan lies; none where it lies about in it.
std::optional<double> side_away_from_scan(const Scan& scan, const OwnSide& own) {
    Vec3 middle(0, 0, 0);
    for (const Vec3& p : scan.points) middle += p / static_cast<double>(scan.points.size());
    double square = 0.0;
    for (const Vec3& p : scan.points)
        square += (p - middle).squaredNorm() / static_cast<double>(scan.points.size());
    const double lever = (own.middle - middle).dot(own.normal) / std::sqrt(square);
    if (!(std::abs(lever) > tolerance::to_one_side)) return std::nullopt;
    return lever > 0.0 ? 1.0 : -1.0;
}

Result<Outward> seen_from(const Vec3& place, const OwnSide& own) {
    const Vec3 way = place - own.middle;
    const double lean = way.dot(own.normal) / way.norm();
    if (!(std::abs(lean) > tolerance::to_one_side))
        return bad_input("hull.scan.seen_from",
                         "lies nearly in the surface about the damage; name a place well outside "
                         "the hull, such as where the scanner stood");
    return Outward{lean > 0.0 ? 1.0 : -1.0, "outward is where hull.scan.seen_from lies"};
}

tl::unexpected<Error> ask(const std::string& why) {
    return bad_input("hull.scan.seen_from",
                     "needed: " + why +
                         "; name a place outside the hull, such as where the scanner stood, "
                         "seen_from = [x, y, z]");
}

}  // namespace

Result<Outward> outward_of(const Scan& scan, const job::HullOptions& options, const OwnSide& own) {
    if (options.scan->seen_from) return seen_from(*options.scan->seen_from, own);
    const Vec3 size = own.piece.report.extent_max - own.piece.report.extent_min;
    const auto facets =
        scan.triangles.empty() ? std::nullopt : side_of_facets(scan, own, 0.5 * size.norm());
    if (options.outward != "auto") {
        if (!facets)
            return ask(scan.triangles.empty()
                           ? "points without facets have no modelled side"
                           : "the facets about the damage do not all face one way");
        const bool reversed = options.outward == "reversed";
        return Outward{reversed ? -*facets : *facets,
                       reversed ? "outward is the reverse of the scan, as hull.outward says"
                                : "outward is as the scan has it, as hull.outward says"};
    }
    if (facets)
        if (const auto volume = side_of_volume(scan))
            return Outward{*volume * *facets, "outward is away from what the scan holds"};
    const auto bulge = side_of_bulge(own.piece);
    const auto away = side_away_from_scan(scan, own);
    if (!bulge)
        return ask("the surface about the damage is too flat to tell which side is outside");
    if (away && *away != *bulge)
        return ask(
            "the surface about the damage bulges towards the rest of the scan, so that it "
            "does not tell which side is outside");
    return Outward{*bulge, "outward is the side to which the fair surface bulges"};
}

}  // namespace tearline::scan
