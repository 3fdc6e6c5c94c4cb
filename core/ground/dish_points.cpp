#include "core/ground/dish_points.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>

#include "core/base/numbers.h"
#include "core/damage/foot.h"
#include "core/ground/corrected_soundings.h"
#include "core/ground/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/scan/robust.h"
#include "core/scan/robust_fit.h"

namespace tearline::ground {

namespace {

constexpr double beside_ground = 10.0;  // [mm] of the ground area, skin is not believed to be sound
constexpr double marks_misfit = 6.0;    // [mm] three picks of 2 mm: more is a slip
constexpr double off_hull = 60.0;       // [mm] deeper than any dish: no point of this place
constexpr std::size_t most_points = 20'000;

/// The rigid motion that brings marks onto marks best.
/// @source  Arun, Huang and Blostein, Least-squares fitting of two 3-D point sets (1987)
Eigen::Isometry3d onto(const std::vector<Vec3>& from, const std::vector<Vec3>& to) {
    const auto mean = [](const std::vector<Vec3>& points) {
        Vec3 sum(0, 0, 0);
        for (const Vec3& p : points) sum += p / static_cast<double>(points.size());
        return sum;
    };
    const Vec3 a = mean(from), b = mean(to);
    Eigen::Matrix3d products = Eigen::Matrix3d::Zero();
    for (std::size_t i = 0; i < from.size(); ++i)
        products += (from[i] - a) * (to[i] - b).transpose();
    const Eigen::JacobiSVD<Eigen::Matrix3d> svd(products,
                                                Eigen::ComputeFullU | Eigen::ComputeFullV);
    Eigen::Matrix3d flip = Eigen::Matrix3d::Identity();
    flip(2, 2) = (svd.matrixV() * svd.matrixU().transpose()).determinant() < 0.0 ? -1.0 : 1.0;
    Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
    motion.linear() = svd.matrixV() * flip * svd.matrixU().transpose();
    motion.translation() = b - motion.linear() * a;
    return motion;
}

/// Points of one small cube as one, so that the work follows the dish and not the scan.
std::vector<std::pair<Vec3, double>> gathered(const std::vector<Vec3>& points, const Vec3& middle,
                                              double reach, double cube) {
    std::map<std::array<std::int64_t, 3>, std::pair<Vec3, double>> held;
    for (const Vec3& p : points) {
        if ((p - middle).squaredNorm() > reach * reach) continue;
        const Vec3 local = (p - middle) / cube;
        auto& [sum, count] = held.try_emplace({static_cast<std::int64_t>(std::floor(local.x())),
                                               static_cast<std::int64_t>(std::floor(local.y())),
                                               static_cast<std::int64_t>(std::floor(local.z()))},
                                              Vec3(0, 0, 0), 0.0)
                                 .first->second;
        sum += p;
        count += 1.0;
    }
    std::vector<std::pair<Vec3, double>> all;
    for (const auto& [key, sum] : held) all.emplace_back(sum.first / sum.second, sum.second);
    return all;
}

/// A place of the scan over the old surface.
struct Over {
    Vec3 point, normal;   ///< [mm]; towards the laying side
    double height = 0.0;  ///< [mm] along it
    Vec2 chart{0, 0};
    double weight = 1.0;
};

std::vector<Over> over(const Ground& ground, const std::vector<std::pair<Vec3, double>>& points,
                       const Eigen::Isometry3d& motion) {
    std::vector<Over> all;
    for (const auto& [from, weight] : points) {
        const Vec3 p = motion * from;
        const damage::Foot foot = damage::foot_of(ground.patch, p);
        if (foot.over_rim || foot.distance > off_hull) continue;
        all.push_back({p, foot.sample.normal, (p - foot.sample.position).dot(foot.sample.normal),
                       ground.patch.chart_point(foot.at), weight});
    }
    return all;
}

bool on_sound_skin(const std::vector<Region2>& area, const Vec2& at) {
    return std::all_of(area.begin(), area.end(), [&](const Region2& region) {
        return !contains(region, at) && plane::distance_to_edge(region, at) > beside_ground;
    });
}

/// One step of point to plane: the motion that brings sound skin nearer to the old surface.
/// @source  Chen and Medioni, Object modelling by registration of multiple range images (1992)
Eigen::Isometry3d nearer(const std::vector<Over>& skin, const Vec3& middle, double spread) {
    using Six = Eigen::Matrix<double, 6, 1>;
    Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
    Six right = Six::Zero();
    double reach = 1.0;
    for (const Over& place : skin) reach = std::max(reach, (place.point - middle).norm());
    for (const Over& place : skin) {
        Six row;
        row << (place.point - middle).cross(place.normal) / reach, place.normal;
        const double weight = scan::tukey_weight(place.height / spread);
        normal += weight * row * row.transpose();
        right -= weight * place.height * row;
    }
    // A turn about the normal and a slide along a flat place are free: they stay as the marks say.
    normal.diagonal().array() += tolerance::free_motion * normal.diagonal().maxCoeff();
    const Six step = normal.ldlt().solve(right);
    const Vec3 turn = step.head<3>() / reach;
    Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
    if (turn.norm() > 0.0)
        motion.linear() = Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix();
    motion.translation() = middle + step.tail<3>() - motion.linear() * middle;
    return motion;
}

double spread_of(const std::vector<Over>& skin) {
    std::vector<double> off;
    for (const Over& place : skin) off.push_back(std::abs(place.height));
    return 1.4826 * scan::median(off);
}

std::vector<Over> skin_of(std::vector<Over> all, const std::vector<Region2>& area) {
    std::erase_if(all, [&](const Over& place) { return !on_sound_skin(area, place.chart); });
    return all;
}

/// The noise that sound skin shows about its own fair field, never less than the scanner's.
///
/// What the old surface is off there is no noise of this scan: the field takes it.
scan::Noise noise_on(const std::vector<Over>& skin, const scan::Noise& known, double spacing) {
    constexpr double fairness = 100.0, knot = fairness / 6.0;  // [mm] of the smoothest scans
    constexpr std::size_t fewest = 100;
    if (skin.size() < fewest) return known;
    std::vector<scan::FieldPoint> points;
    Vec2 low = skin.front().chart, high = low;
    for (const Over& place : skin) {
        points.push_back({place.chart, place.height, spacing * spacing});
        low = low.cwiseMin(place.chart);
        high = high.cwiseMax(place.chart);
    }
    const auto grid = scan::FieldGrid::over(low, high, knot);
    const std::vector<double> lengths(static_cast<std::size_t>(grid.cells()), fairness);
    scan::FairFit fair(grid, lengths);
    const auto fit = scan::fitted(fair, points, known.spread, scan::Doubt::hard,
                                  scan::RobustFit::of_base(points), scan::to_rest);
    if (!fit.carried) return known;
    const scan::Noise seen = scan::noise_of(scan::believed(fit, known.spread), spacing);
    return {std::max(known.spread, seen.spread), std::max(known.correlation, seen.correlation)};
}

Result<Eigen::Isometry3d> by_marks(const hull::DishPoints& scan, const job::Job& job) {
    std::vector<Vec3> from, to;
    for (const job::Mark& mark : job.marks) {
        const auto found = scan.marks.find(mark.name);
        if (found == scan.marks.end() || !mark.at) continue;
        from.push_back(found->second);
        to.push_back(*mark.at);
    }
    const Eigen::Isometry3d motion = onto(from, to);
    for (std::size_t i = 0; i < from.size(); ++i) {
        const double off = (motion * from[i] - to[i]).norm();
        if (off > marks_misfit)
            return bad_input("damage.scan.marks",
                             "laid on the hull's marks as well as can be, one of them lies " +
                                 fixed(off, 1) +
                                 " mm off: check the marks, the units, and the scale of both",
                             to[i]);
    }
    return motion;
}

}  // namespace

Result<LaidPoints> lay_points(const hull::DishPoints& scan, const job::Job& job,
                              const Ground& ground, const std::vector<Region2>& area,
                              double spacings) {
    Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
    if (!scan.marks.empty()) {
        const auto found = by_marks(scan, job);
        if (!found) return tl::unexpected(found.error());
        motion = *found;
    }
    double reach = 0.0;
    for (const Vec2& p : ground.patch.chart)
        reach = std::max(reach, (p - ground.frame.chart).norm());
    const Vec3 middle = ground.frame.middle;
    double cube = spacings * scan.spacing;
    auto points = gathered(scan.points, motion.inverse() * middle, reach, cube);
    while (points.size() > most_points)
        points = gathered(scan.points, motion.inverse() * middle, reach, cube *= 1.3);
    LaidPoints laid;
    laid.noise = {scan.noise, scan.correlation};
    std::vector<Over> all = over(ground, points, motion);
    if (!scan.marks.empty()) {
        constexpr int rounds = 8;
        constexpr std::size_t fewest = 100;
        for (int round = 0; round < rounds; ++round) {
            const std::vector<Over> skin = skin_of(all, area);
            if (skin.size() < fewest)
                return bad_input(
                    "damage.scan.model",
                    "only " + std::to_string(skin.size()) +
                        " places of sound skin round the ground area: scan more of it, "
                        "or check its marks");
            motion = nearer(skin, middle, std::max(scan.noise, spread_of(skin))) * motion;
            all = over(ground, points, motion);
        }
        const std::vector<Over> skin = skin_of(all, area);
        laid.noise = noise_on(skin, laid.noise, cube);
        laid.warnings.push_back({warn::DishScanLaid{spread_of(skin), scan.noise}});
    }
    for (const Over& place : all) laid.depths.push_back({place.chart, -place.height, cube * cube});
    return laid;
}

}  // namespace tearline::ground
