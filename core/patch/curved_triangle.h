#pragma once
#include <array>

#include "core/base/vec.h"

namespace tearline::patch {

/// A cubic triangle: control points by the two corners they lie between. Places on it are weights
/// of its corners that sum to 1.
/// @source  Vlachos et al., Curved PN triangles (2001)
class CurvedTriangle {
public:
    /// The two inner control points of an edge: near its start, near its end.
    using Edge = std::array<Vec3, 2>;

    /// @param edge  of edge i -> i+1
    CurvedTriangle(const std::array<Vec3, 3>& corner, const std::array<Edge, 3>& edge);

    [[nodiscard]] Vec3 at(const Vec3& weights) const;
    /// Derivative by the weight of one corner.
    [[nodiscard]] Vec3 by(int corner, const Vec3& weights) const;

private:
    std::array<Vec3, 3> corner_;
    std::array<Edge, 3> edge_;
    Vec3 middle_;
};

/// The control points of an edge that leaves its ends square to their normals.
[[nodiscard]] CurvedTriangle::Edge edge_between(const Vec3& a, const Vec3& normal_a, const Vec3& b,
                                                const Vec3& normal_b);

/// Weights of the place whose flat point, moved along its turning normal, is `point`.
/// @param corner, normal  of a flat triangle and the unit normals at its corners
[[nodiscard]] Vec3 turning_foot(const std::array<Vec3, 3>& corner,
                                const std::array<Vec3, 3>& normal, const Vec3& point);

/// Normal of the curved triangle: quadratic, so that it may turn to and fro along an edge.
[[nodiscard]] Vec3 turning_normal(const std::array<Vec3, 3>& corner,
                                  const std::array<Vec3, 3>& normal, const Vec3& weights);

}  // namespace tearline::patch
