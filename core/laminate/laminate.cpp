#include "core/laminate/laminate.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace tearline::laminate {

namespace {

using Eigen::Matrix3d, Eigen::Vector3d;

/// Takes strains (with engineering shear) from laminate axes into axes turned by the angle.
Matrix3d strain_turn(double degrees) {
    const double angle = degrees * std::numbers::pi / 180.0;
    const double c = std::cos(angle), s = std::sin(angle);
    Matrix3d turn;
    turn << c * c, s * s, c * s, s * s, c * c, -c * s, -2.0 * c * s, 2.0 * c * s, c * c - s * s;
    return turn;
}

/// Plane-stress stiffness in the fibre axes.
Matrix3d own_stiffness(const Lamina& ply) {
    const double nu21 = ply.nu12 * ply.e2 / ply.e1, share = 1.0 - ply.nu12 * nu21;
    Matrix3d q = Matrix3d::Zero();
    q(0, 0) = ply.e1 / share;
    q(1, 1) = ply.e2 / share;
    q(0, 1) = q(1, 0) = nu21 * ply.e1 / share;
    q(2, 2) = ply.g12;
    return q;
}

/// How much of a load a ply bears before one of its stresses reaches its strength.
struct Limits {
    double tensile, compressive, shear;
};

double bearable(const Vector3d& stress, const Limits& limits) {
    double least = std::numeric_limits<double>::infinity();
    for (const double normal : {stress[0], stress[1]}) {
        if (normal > 0.0) least = std::min(least, limits.tensile / normal);
        if (normal < 0.0) least = std::min(least, -limits.compressive / normal);
    }
    if (stress[2] != 0.0) least = std::min(least, limits.shear / std::abs(stress[2]));
    return least;
}

/// Works out one laminate; keeps what several answers share.
class Sum {
public:
    explicit Sum(std::span<const Layer> layers)
        : layers_(layers),
          whole_(stiffness_of(layers)),
          a_inverse_(whole_.a.inverse()),
          free_bending_((whole_.d - whole_.b * a_inverse_ * whole_.b).inverse()) {}

    [[nodiscard]] double thickness() const { return whole_.thickness; }

    [[nodiscard]] Directional along(int axis) const {
        Directional out;
        out.membrane_stiffness = 1.0 / a_inverse_(axis, axis);
        out.bending_stiffness = 1.0 / free_bending_(axis, axis);
        const Vector3d strain = a_inverse_.col(axis);
        out.tension = membrane(strain);
        out.compression = membrane(-strain);
        out.bending = bending(free_bending_.col(axis));
        return out;
    }

private:
    [[nodiscard]] double membrane(const Vector3d& strain) const {
        double least = std::numeric_limits<double>::infinity();
        for (const Layer& layer : layers_) {
            const Lamina& ply = layer.lamina;
            least = std::min(
                least, bearable(own_stiffness(ply) * strain_turn(layer.angle_degrees) * strain,
                                {ply.tensile, ply.compressive, ply.shear}));
        }
        return least;
    }

    [[nodiscard]] double bending(const Vector3d& curvature) const {
        const Vector3d middle = -a_inverse_ * whole_.b * curvature;
        double least = std::numeric_limits<double>::infinity();
        double face = -0.5 * whole_.thickness;
        for (const Layer& layer : layers_) {
            const Lamina& ply = layer.lamina;
            const Matrix3d stiff = own_stiffness(ply) * strain_turn(layer.angle_degrees);
            for (const double z : {face, face + layer.thickness})
                least = std::min(least, bearable(stiff * (middle + z * curvature),
                                                 {ply.flexural, ply.flexural, ply.shear}));
            face += layer.thickness;
        }
        return least;
    }

    std::span<const Layer> layers_;
    Stiffness whole_;
    Matrix3d a_inverse_, free_bending_;
};

}  // namespace

Stiffness stiffness_of(std::span<const Layer> layers) {
    Stiffness sum;
    sum.a = sum.b = sum.d = Matrix3d::Zero();
    for (const Layer& layer : layers) sum.thickness += layer.thickness;
    double low = -0.5 * sum.thickness;
    for (const Layer& layer : layers) {
        const Matrix3d turn = strain_turn(layer.angle_degrees);
        const Matrix3d q = turn.transpose() * own_stiffness(layer.lamina) * turn;
        const double high = low + layer.thickness;
        sum.a += q * (high - low);
        sum.b += q * (high * high - low * low) / 2.0;
        sum.d += q * (high * high * high - low * low * low) / 3.0;
        low = high;
    }
    return sum;
}

Behaviour behaviour_of(std::span<const Layer> layers) {
    if (layers.empty()) throw std::logic_error("a laminate without plies");
    const Sum sum(layers);
    return {sum.thickness(), sum.along(0), sum.along(1)};
}

}  // namespace tearline::laminate
