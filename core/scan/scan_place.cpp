#include "core/scan/scan_place.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "core/base/numbers.h"
#include "core/scan/tolerances.h"
#include "core/surface/closed_spline.h"

namespace tearline::scan {

namespace {

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

}  // namespace

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

bool ScanEnd::is_beyond(const Vec3& p) const {
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < at.size(); ++i)
        if ((at[i] - p).squaredNorm() < (at[nearest] - p).squaredNorm()) nearest = i;
    return (p - at[nearest]).dot(out[nearest]) > 0.0;
}

std::vector<Vec3> ScanEnd::ribbon(double spacing) const {
    constexpr int rows = 4;  // past the squares that a domain is made of
    std::vector<Vec3> all;
    for (std::size_t i = 0; i < at.size(); ++i)
        for (int k = 0; k <= rows; ++k) all.push_back(at[i] + k * spacing * out[i]);
    return all;
}

double ScanPlace::half_width() const {
    double half = 0.0;
    for (const Vec3& p : outline) half = std::max(half, (p - middle).norm());
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

double ScanPlace::half_side() const {
    const double half = half_width();
    const double band = std::max(tolerance::scan_band, tolerance::scan_band_share * half);
    return half + std::max(reach, band + 2.0 * tolerance::scan_guard);
}

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
    const double half = place.half_width();
    for (const job::Mark& mark : job.marks)
        if (mark.at)
            place.reach = std::max(place.reach,
                                   (*mark.at - place.middle).norm() - half + tolerance::scan_guard);
    return place;
}

}  // namespace tearline::scan
