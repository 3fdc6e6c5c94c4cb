#pragma once
#include <span>

#include "core/base/vec.h"

namespace tearline::scan {

/// A point given by a surface's own parameters, with what it takes to follow the surface from
/// there.
struct SurfaceJet {
    Vec3 position{0, 0, 0};                         ///< [mm]
    Vec3 du{0, 0, 0}, dv{0, 0, 0};                  ///< first derivatives
    Vec3 duu{0, 0, 0}, duv{0, 0, 0}, dvv{0, 0, 0};  ///< second derivatives [1/mm]
};

/// The larger principal curvature, by its size [1/mm].
[[nodiscard]] double tightest_curvature(const SurfaceJet& jet);

/// An arc swung about the axis of another: plane, cylinder, sphere, torus or saddle, and smooth
/// from one to the next through zero curvature.
///
/// In its own axes, w outward, the profile bends by `along` in the plane of u and w, and what
/// stands across it by `across`. Curvatures are positive where the surface bulges outward. Its
/// parameters are arc lengths, u along the profile, v across: where u is measured, at the origin
/// or at another place, they are true ones both.
/// @source  real distance of a torus, d = A(v, A(u, w, along), across) with
///          A(x, y, k) = q / (1 + sqrt(1 + k q)), q = k (x^2 + y^2) + 2 y: closed form
class TwoArc {
public:
    TwoArc() = default;
    /// @param axes    columns u, v, w: a rotation
    /// @param origin  [mm] on the surface
    /// @param along, across  [1/mm]
    TwoArc(const Eigen::Matrix3d& axes, const Vec3& origin, double along, double across)
        : axes_(axes), origin_(origin), along_(along), across_(across) {}

    /// The same surface with u measured where a place stands: on a taper the origin may lie far
    /// off, where the way round is longer.
    ///
    /// @param reach  [mm] that u goes to either side: a quarter of the way round, or as far as it
    ///               went before, where it would be more
    [[nodiscard]] TwoArc measured_at(const Vec3& place, double reach) const;

    /// Where a point stands: its foot's parameters and how far outside the surface it lies [mm].
    struct Foot {
        Vec2 uv{0, 0};
        double distance = 0.0;
    };
    [[nodiscard]] Foot foot(const Vec3& point) const;

    /// Distance of a point from the surface [mm], outward positive.
    [[nodiscard]] double distance(const Vec3& point) const;

    /// The point that lies `height` over parameters along the normal, where the height is a
    /// function of the parameters known by its value and derivatives.
    struct Height {
        double value = 0.0;
        double du = 0.0, dv = 0.0;
        double duu = 0.0, duv = 0.0, dvv = 0.0;
    };
    [[nodiscard]] SurfaceJet over(const Vec2& uv, const Height& height) const;
    [[nodiscard]] Vec3 point(const Vec2& uv, double height = 0.0) const;
    [[nodiscard]] Vec3 normal(const Vec2& uv) const;

    [[nodiscard]] const Eigen::Matrix3d& axes() const { return axes_; }
    [[nodiscard]] const Vec3& origin() const { return origin_; }
    [[nodiscard]] double along() const { return along_; }
    [[nodiscard]] double across() const { return across_; }

private:
    Eigen::Matrix3d axes_ = Eigen::Matrix3d::Identity();
    Vec3 origin_{0, 0, 0};
    double along_ = 0.0, across_ = 0.0;
    double stretch_ = 1.0;  ///< [-] u by the arc length through the origin
};

/// A measured place and how much it counts.
struct WeighedPoint {
    Vec3 at{0, 0, 0};     ///< [mm]
    double weight = 1.0;  ///< [mm2] of surface that it stands for
};

/// A base that fits measured places in the least-squares sense, one in twenty of them far off.
struct FittedBase {
    TwoArc base;
    double spread = 0.0;  ///< [mm] 1.4826 times the median of the distances
};

/// The two arcs nearest to most of the points.
///
/// Levenberg-Marquardt on eight parameters (offset, three turns, the foot's two shifts, both
/// curvatures), weights by Tukey's biweight; both orders of the arcs are tried and the nearer kept.
/// @param points   six or more that do not lie in one line
/// @param outward  roughly which way the surface faces: the side that w is on
/// @param floor    [mm] the spread is never taken for less
/// @source  Tukey's constant 4.685: from memory
[[nodiscard]] FittedBase fit_two_arc(std::span<const WeighedPoint> points, const Vec3& outward,
                                     double floor);

}  // namespace tearline::scan
