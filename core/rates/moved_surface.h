#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "core/hull/table_influence.h"
#include "core/surface/patch.h"

namespace tearline::rates {

/// A place of the base surface.
struct BasePlace {
    Vec3 at{0, 0, 0};
    Vec3 normal{0, 0, 1};  ///< unit, towards the laying side
};

/// How the base surface over a table of figures moves with each pole of its spline.
class MovedSurface {
public:
    /// @param above  [mm] how far the base surface lies on the laying side of the one measured
    MovedSurface(const hull::TableInfluence& influence, double above)
        : influence_(influence), above_(above) {}

    /// What one pole does at one place, for each millimetre of it.
    struct Move {
        Eigen::Index pole = 0;
        Vec3 by{0, 0, 0};    ///< [mm] of the surface `height` above the base surface
        Vec3 turn{0, 0, 0};  ///< change of its normal
    };
    [[nodiscard]] std::vector<Move> moves(const BasePlace& place, double height) const;

    /// How much longer a way on the base surface becomes for each pole.
    [[nodiscard]] Eigen::RowVectorXd stretch(std::span<const BasePlace> way) const;
    /// Movement of a base point, a column for each pole.
    [[nodiscard]] Eigen::Matrix3Xd move(const BasePlace& place) const;
    /// The same in its tangent plane.
    [[nodiscard]] Eigen::Matrix3Xd slide(const BasePlace& place) const;

    [[nodiscard]] Eigen::Index poles() const { return influence_.poles(); }

private:
    const hull::TableInfluence& influence_;
    double above_;
};

}  // namespace tearline::rates
