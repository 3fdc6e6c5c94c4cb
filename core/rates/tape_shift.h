#pragma once
#include <Eigen/Core>
#include <map>
#include <string>

#include "core/rates/edge_rates.h"
#include "core/rates/moved_surface.h"

namespace tearline::rates {

/// How points by tape slide over the surface when the surface moves: a column for each pole [mm].
class TapeShift {
public:
    TapeShift(const PlannedGround& on, const MovedSurface& surface);

    [[nodiscard]] Eigen::Matrix3Xd of(const job::TapedPoint& point, const Vec3& at) const;

private:
    /// Of a point whose x and y are given.
    [[nodiscard]] Eigen::Matrix3Xd below_plane(const surface::Patch& patch, const Vec3& at) const;
    [[nodiscard]] Eigen::Matrix3Xd mark_shift(std::size_t index) const;

    const PlannedGround& on_;
    const MovedSurface& surface_;
    std::map<std::string, std::pair<Vec3, Eigen::Matrix3Xd>> marks_;  ///< place and shift
};

}  // namespace tearline::rates
