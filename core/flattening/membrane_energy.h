#pragma once
#include <Eigen/Core>
#include <array>
#include <span>
#include <vector>

#include "core/base/result.h"
#include "core/base/vec.h"
#include "core/surface/surface_mesh.h"

namespace tearline::flattening {

/// Plane places of all vertices, one column each [mm].
using Places = Eigen::Matrix2Xd;

/// The membrane energy of an intrinsic mesh, E = sum of A ((s1-1)^2 + (s2-1)^2), with its slopes.
///
/// With F the map from a triangle's own plane to the table and h = (F00+F11, F10-F01), |h| is the
/// sum of the signed singular values, so that E/A = |F|^2 - 2 |h| + 2 needs no decomposition, and
/// stays smooth when a triangle turns over (s2 < 0) as long as h is not zero.
class MembraneEnergy {
public:
    /// @error no_safe_answer  three edges that make no triangle
    [[nodiscard]] static Result<MembraneEnergy> of(const surface::SurfaceMesh& mesh);

    [[nodiscard]] double area() const { return area_; }
    [[nodiscard]] std::size_t vertex_count() const { return vertex_count_; }

    /// Energy and its gradient; keeps the twists of every triangle for `apply_hessian`.
    double linearise(const Places& at, Places& gradient);

    /// H d with the positive semi-definite part of the Hessian at the last `linearise`.
    ///
    /// Per triangle H = 2 I - 2 w w^T / |h| with w the turning direction, |w|^2 = 2: the only
    /// eigenvalue that can be negative is 2 - 4/|h|, cut off at zero where |h| < 2.
    void apply_hessian(const Places& direction, Places& out) const;

    /// Signed principal stretches of every triangle, s1 >= s2.
    [[nodiscard]] std::vector<std::array<double, 2>> stretches(const Places& at) const;

    /// Entry of a triangle's cotangent Laplacian: area times the product of the slopes of the hat
    /// functions of its corners i and j.
    [[nodiscard]] double stiffness(std::size_t triangle, std::size_t i, std::size_t j) const;
    [[nodiscard]] const std::array<std::int32_t, 3>& corners(std::size_t triangle) const {
        return shape_[triangle].corner;
    }
    [[nodiscard]] std::size_t triangle_count() const { return shape_.size(); }
    [[nodiscard]] double area(std::size_t triangle) const { return shape_[triangle].area; }

private:
    /// A triangle at rest with corner 0 at the origin and corner 1 on the x axis: the inverse of
    /// its edge matrix is [a b; 0 c].
    struct Shape {
        std::array<std::int32_t, 3> corner;
        double area, a, b, c;
    };
    struct Twist {
        double cosine, sine, stiffness;
    };
    struct Map {
        double f00, f10, f01, f11;
    };
    static Map map_of(const Shape& shape, const Places& at);
    static void scatter(const Shape& shape, const Map& stress, Places& out);

    std::vector<Shape> shape_;
    std::vector<Twist> twist_;
    std::size_t vertex_count_ = 0;
    double area_ = 0.0;
};

}  // namespace tearline::flattening
