#pragma once
#include <cmath>
#include <functional>

#include "core/surface/carrier.h"

/// Carriers of surfaces known in closed form, for tests of whatever needs a model's exact surface.
namespace tearline::test {

/// The plane z = 0, normal +z. Kept edges are straight lines along x at y = edge: the parameter is
/// x [mm].
class PlaneCarrier : public surface::Carrier {
public:
    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        return {{start.face, point.head<2>()}, {point.x(), point.y(), 0.0}, {0, 0, 1}, 0.0, 0.0};
    }
    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        return {corner[0].face,
                weights[0] * corner[0].uv + weights[1] * corner[1].uv + weights[2] * corner[2].uv};
    }
    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        return a.face == b.face;
    }
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        return {parameter, static_cast<double>(edge), 0.0};
    }
};

/// A sphere of radius R about the origin, normal outward.
/// @param curvature_min  [1/mm] what it says of itself instead of 1/R, for tests of signs
class SphereCarrier final : public PlaneCarrier {
public:
    explicit SphereCarrier(double radius, double curvature_min = 0.0)
        : radius_(radius), low_(curvature_min > 0.0 ? curvature_min : 1.0 / radius) {}
    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        const Vec3 out = point.normalized();
        return {start, radius_ * out, out, low_, 1.0 / radius_};
    }

private:
    double radius_, low_;
};

/// A cylinder of radius R about the y axis, normal outward.
class CylinderCarrier final : public PlaneCarrier {
public:
    explicit CylinderCarrier(double radius) : radius_(radius) {}
    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        const Vec3 out = Vec3(point.x(), 0.0, point.z()).normalized();
        return {start, radius_ * out + Vec3(0, point.y(), 0), out, 0.0, 1.0 / radius_};
    }

private:
    double radius_;
};

}  // namespace tearline::test
