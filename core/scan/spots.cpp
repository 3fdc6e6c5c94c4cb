#include "core/scan/spots.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <map>
#include <queue>
#include <tuple>
#include <utility>

namespace tearline::scan {

Spots::Spots(const std::vector<Vec3>& points, double width, const Vec3& outward) : width_(width) {
    const double spot = width / 3.0;
    std::map<Cube, std::pair<Vec3, double>> sums;
    for (const Vec3& p : points) {
        auto& [sum, count] = sums.try_emplace(cube_of(p, spot), Vec3(0, 0, 0), 0.0).first->second;
        sum += p;
        count += 1.0;
    }
    for (const auto& [cube, sum] : sums) {
        held_[key(cube_of(sum.first / sum.second, width))].push_back(all.size());
        all.push_back({sum.first / sum.second});
    }
    find_normals();
    orient(outward);
    find_bends();
}

/// The normal of every spot, by those within a width of it.
void Spots::find_normals() {
    constexpr int fewest = 8;
    for (Spot& spot : all) {
        Vec3 mean(0, 0, 0);
        Eigen::Matrix3d squares = Eigen::Matrix3d::Zero();
        int count = 0;
        near(spot.at, width_, [&](std::size_t i) {
            const Vec3 way = all[i].at - spot.at;
            mean += way;
            squares += way * way.transpose();
            ++count;
        });
        if (count < fewest) continue;
        mean /= count;
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes;
        axes.computeDirect(squares / count - mean * mean.transpose());
        spot.normal = axes.eigenvectors().col(0);
    }
}

/// Turns normals to one side of the skin, from spot to spot where they are most alike, so that
/// they go round a sharp edge too.
/// @source  Hoppe and others, Surface reconstruction from unorganized points (1992): from memory
void Spots::orient(const Vec3& outward) {
    struct Step {
        double alike;
        std::size_t from, to;
        bool operator<(const Step& other) const {
            return std::tie(alike, other.to, other.from) < std::tie(other.alike, to, from);
        }
    };
    std::vector<bool> turned(all.size());
    std::priority_queue<Step> next;
    const auto turn = [&](std::size_t i, const Vec3& like) {
        turned[i] = true;
        Vec3& normal = all[i].normal;
        if (normal.dot(like) < 0.0) normal = -normal;
        near(all[i].at, width_, [&](std::size_t k) {
            if (!turned[k] && !all[k].normal.isZero())
                next.push({std::abs(all[k].normal.dot(normal)), i, k});
        });
    };
    for (std::size_t start = 0; start < all.size(); ++start) {
        if (turned[start] || all[start].normal.isZero()) continue;
        turn(start, outward);
        while (!next.empty()) {
            const Step step = next.top();
            next.pop();
            if (!turned[step.to]) turn(step.to, all[step.from].normal);
        }
    }
}

/// How fast the normals turn about every spot, and which way.
void Spots::find_bends() {
    for (Spot& spot : all) {
        if (spot.normal.isZero()) continue;
        const Vec3 u = spot.normal.unitOrthogonal(), v = spot.normal.cross(u);
        Eigen::Matrix2d ways = Eigen::Matrix2d::Zero(), turns = Eigen::Matrix2d::Zero();
        near(spot.at, 2.0 * width_, [&](std::size_t i) {
            const Spot& other = all[i];
            if (other.normal.isZero()) return;
            const Vec3 turn = other.normal - spot.normal, way = other.at - spot.at;
            const Vec2 flat(way.dot(u), way.dot(v));
            ways += flat * flat.transpose();
            turns += Vec2(turn.dot(u), turn.dot(v)) * flat.transpose();
        });
        if (!(ways.determinant() > 0.0)) continue;
        const Eigen::Matrix2d change = turns * ways.inverse();
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes;
        axes.computeDirect(0.5 * (change + change.transpose()));
        const int most = std::abs(axes.eigenvalues()[0]) > std::abs(axes.eigenvalues()[1]) ? 0 : 1;
        spot.bend = std::abs(axes.eigenvalues()[most]);
        const Vec2 across = axes.eigenvectors().col(most);
        spot.across = across.x() * u + across.y() * v;
    }
}

}  // namespace tearline::scan
