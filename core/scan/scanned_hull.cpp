#include "core/scan/scanned_hull.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/hull/one_surface.h"
#include "core/scan/fair_face.h"
#include "core/scan/outward.h"
#include "core/scan/robust.h"
#include "core/scan/tolerances.h"
#include "core/surface/closed_spline.h"

namespace tearline::scan {

namespace {

/// [-] points are taken from a ball this much wider than the half width: bent surfaces reach
/// farther along themselves.
constexpr double wider = 1.5;

Vec3 mean_of(const std::vector<Vec3>& points) {
    Vec3 sum(0, 0, 0);
    for (const Vec3& p : points) sum += p;
    return sum / static_cast<double>(std::max<std::size_t>(1, points.size()));
}

/// The outline as the plies know it: the spline through its points, or their straight joins.
std::vector<Vec3> drawn(const job::Damage& damage) {
    if (damage.join == job::Join::straight || damage.outline.size() < 3) return damage.outline;
    constexpr int parts = 12;
    const surface::ClosedSpline spline(damage.outline);
    std::vector<Vec3> all;
    for (std::size_t i = 0; i < spline.segments(); ++i)
        for (int k = 0; k < parts; ++k) all.push_back(spline.at(i, static_cast<double>(k) / parts));
    return all;
}

/// The direction in which points about a place scatter least, its sign open.
Vec3 normal_about(const std::vector<Vec3>& points, const Vec3& middle, double least, double most) {
    const auto within = [&](const Vec3& p) {
        const double away = (p - middle).norm();
        return away >= least && away <= most;
    };
    Vec3 mean(0, 0, 0);
    double count = 0.0;
    for (const Vec3& p : points)
        if (within(p)) {
            mean += p;
            count += 1.0;
        }
    mean /= std::max(1.0, count);
    Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
    for (const Vec3& p : points)
        if (within(p)) scatter += (p - mean) * (p - mean).transpose();
    return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors().col(0);
}

/// Disc and ellipse as points in the plane across `normal`.
std::vector<Vec3> round_outline(const job::Damage& damage, const Vec3& bow, const Vec3& normal) {
    constexpr int count = 72;
    Vec3 along = bow - bow.dot(normal) * normal;
    along = along.norm() > 0.1 ? along.normalized() : Vec3(normal.unitOrthogonal());
    const Vec3 across = normal.cross(along);
    const double a = damage.radius.value_or(0.5 * damage.length.value_or(0.0));
    const double b = damage.radius.value_or(0.5 * damage.height.value_or(0.0));
    std::vector<Vec3> all;
    for (int i = 0; i < count; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / count;
        all.push_back(*damage.centre + a * std::cos(turn) * along + b * std::sin(turn) * across);
    }
    return all;
}

double half_width(const ScanPlace& place) {
    double half = 0.0;
    for (const Vec3& p : place.outline) half = std::max(half, (p - place.middle).norm());
    return half;
}

std::vector<Vec3> points_within(const std::vector<Vec3>& points, const Vec3& middle,
                                double radius) {
    std::vector<Vec3> near;
    for (const Vec3& p : points)
        if ((p - middle).squaredNorm() <= radius * radius) near.push_back(p);
    // A point that several facets or passes repeat is one.
    std::sort(near.begin(), near.end(), [](const Vec3& a, const Vec3& b) {
        return std::lexicographical_compare(a.data(), a.data() + 3, b.data(), b.data() + 3);
    });
    near.erase(
        std::unique(near.begin(), near.end(), [](const Vec3& a, const Vec3& b) { return a == b; }),
        near.end());
    return near;
}

/// Half the side of the square that is wanted of the surface, the band of sound skin in it.
double reach_of(const ScanPlace& place) {
    const double half = half_width(place);
    const double band = std::max(tolerance::scan_band, tolerance::scan_band_share * half);
    return half + std::max(place.reach, band + 2.0 * tolerance::scan_guard);
}

class Fitted final : public hull::ScannedSurface {
public:
    explicit Fitted(std::shared_ptr<const FairSurface> surface) : surface_(std::move(surface)) {}
    [[nodiscard]] Vec3 foot(const Vec3& point) const override {
        return surface_->point(surface_->base.foot(point).uv);
    }
    [[nodiscard]] Vec3 normal(const Vec3& place) const override {
        const SurfaceJet jet = surface_->jet(surface_->base.foot(place).uv);
        return jet.du.cross(jet.dv).normalized();
    }
    [[nodiscard]] double height_error(const Vec3& place) const override {
        return surface_->height_error(surface_->base.foot(place).uv);
    }

private:
    std::shared_ptr<const FairSurface> surface_;
};

/// The tightest bend on the rim of what is bridged, where it is tighter than the surface follows
/// into it.
std::optional<hull::Scanned::Bend> bend_entering(const FairSurface& surface) {
    constexpr double followed = 0.5;  // of the fairness: radii that still show through it
    std::optional<hull::Scanned::Bend> tightest;
    for (const Vec2& uv : surface.bridged.outer) {
        const SurfaceJet jet = surface.jet(uv);
        const double bend = tightest_curvature(jet);
        if (!(bend * followed * surface.fairness > 1.0)) continue;
        if (!tightest || 1.0 / bend < tightest->radius)
            tightest = hull::Scanned::Bend{1.0 / bend, jet.position};
    }
    return tightest;
}

hull::Scanned told(const std::shared_ptr<const FairSurface>& surface,
                   const job::HullScan& options) {
    hull::Scanned scanned;
    scanned.kind = kind_word(options.kind);
    scanned.points = surface->points;
    scanned.used = surface->used;
    scanned.noise = surface->noise.spread;
    scanned.correlation = surface->noise.correlation;
    scanned.spacing = surface->spacing;
    scanned.fairness = surface->fairness;
    scanned.least_fairness = surface->least_fairness;
    scanned.cover_degrees = surface->cover_degrees;
    scanned.strays = surface->strays;
    scanned.farthest_stray = surface->farthest_stray;
    scanned.stray_off = surface->stray_off;
    for (const DataHole& hole : surface->data_holes)
        scanned.holes.push_back({surface->point(hole.middle), hole.area_mm2});
    scanned.bend = bend_entering(*surface);
    scanned.surface = std::make_shared<Fitted>(surface);
    return scanned;
}

}  // namespace

ScanPlace place_of(const job::Job& job, const Scan& scan, double beyond) {
    ScanPlace place;
    place.reach = beyond;
    place.bridged = job.hull.scan->shows != job::ScanShows::sound_hull;
    if (!job.taped.empty()) {
        std::vector<Vec3> marks;
        for (const job::Mark& mark : job.marks)
            if (mark.at) marks.push_back(*mark.at);
        place.middle = mean_of(marks);
        double farthest = 0.0;
        for (const Vec3& mark : marks) farthest = std::max(farthest, (mark - place.middle).norm());
        for (const job::TapedPoint& point : job.taped)
            for (const auto& [name, length] : point.distances)
                farthest = std::max(farthest, length);
        place.reach += farthest;
        place.bridged = false;
        return place;
    }
    if (job.damage.centre) {
        place.middle = *job.damage.centre;
        const double largest =
            std::max({job.damage.radius.value_or(0.0), 0.5 * job.damage.length.value_or(0.0),
                      0.5 * job.damage.height.value_or(0.0)});
        const Vec3 normal =
            normal_about(scan.points, place.middle, largest,
                         largest + tolerance::scan_guard +
                             std::max(tolerance::scan_band, tolerance::scan_band_share * largest));
        place.outline = round_outline(job.damage, job.hull.bow, normal);
    } else {
        place.outline = drawn(job.damage);
        place.middle = mean_of(place.outline);
    }
    // Marks are points of the surface too.
    const double half = half_width(place);
    for (const job::Mark& mark : job.marks)
        if (mark.at)
            place.reach = std::max(place.reach,
                                   (*mark.at - place.middle).norm() - half + tolerance::scan_guard);
    return place;
}

Result<FairSurface> surface_about(const Scan& scan, const job::HullScan& options,
                                  const ScanPlace& place) {
    const double reach = reach_of(place), half = half_width(place);
    const std::vector<Vec3> near = points_within(scan.points, place.middle, wider * reach);
    constexpr std::size_t fewest = 100;
    if (near.size() < fewest)
        return bad_input(place.outline.empty() ? "marks" : "damage",
                         "only " + std::to_string(near.size()) + " points of the scan lie within " +
                             fixed(wider * reach, 0) + " mm of it: check the point and hull.unit",
                         place.middle);
    FairRequest request;
    request.middle = place.middle;
    request.outward =
        normal_about(near, place.middle, half,
                     half + tolerance::scan_guard +
                         std::max(tolerance::scan_band, tolerance::scan_band_share * half));
    if (place.bridged) request.outline = place.outline;
    request.reach = reach;
    request.spacing = spacing_of(near);
    request.least_noise = noise_of_kind(options.kind);
    if (options.noise) request.least_noise.spread = *options.noise;
    request.fairness = options.fairness;
    request.follow_bends = place.follow_bends;
    return fair_surface(near, request);
}

Result<hull::Hull> scanned_hull(const Scan& scan, const job::HullOptions& options, job::Side side,
                                const ScanPlace& place) {
    auto found = surface_about(scan, *options.scan, place);
    if (!found) return tl::unexpected(found.error());
    const auto surface = std::make_shared<const FairSurface>(std::move(*found));
    if (surface->domain.size() < 3)
        return no_safe_answer("hull.scan", "no sound skin lies about the damage", place.middle);
    const double edge = std::max(2.0, reach_of(place) / 40.0);
    hull::Hull piece = hull_over(surface, surface->domain, edge, 1.0);
    for (const Vec3& p : piece.vertices) {
        piece.report.extent_min =
            &p == piece.vertices.data() ? p : piece.report.extent_min.cwiseMin(p);
        piece.report.extent_max =
            &p == piece.vertices.data() ? p : piece.report.extent_max.cwiseMax(p);
    }
    const Vec2 foot = surface->base.foot(place.middle).uv;
    const SurfaceJet jet = surface->jet(foot);
    const auto outward =
        outward_of(scan, options, {piece, jet.position, jet.du.cross(jet.dv).normalized()});
    if (!outward) return tl::unexpected(outward.error());
    hull::Hull hull =
        outward->sign > 0.0 ? std::move(piece) : hull_over(surface, surface->domain, edge, -1.0);
    hull.surface = options.surface;
    hull.sha256 = scan.sha256;
    hull.scanned = told(surface, *options.scan);
    hull.report.format = scan.format + ", a scan";
    hull.report.unit = scan.unit;
    hull.report.triangles_read = scan.triangles.size();
    job::HullOptions known = options;
    known.outward = "as modelled";
    known.mirror = false;
    auto one = hull::make_one_surface(std::move(hull), known, {side, true});
    if (one) one->report.orientation = outward->words;
    return one;
}

}  // namespace tearline::scan
