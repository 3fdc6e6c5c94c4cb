#include "core/patch/cad_carrier.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

using hull::FacePoint;

constexpr int most_steps = 12;

/// Step in the parameters that takes the foot of `point` nearer to where the offset is normal.
///
/// Newton with the second derivatives while that is safe, else the first ones alone. At a pole,
/// where a whole parameter line is one point, only the other parameter moves.
Vec2 foot_step(const FacePoint& s, const Vec3& point) {
    const Vec3 off = point - s.position;
    const Vec2 g(off.dot(s.du), off.dot(s.dv));
    Eigen::Matrix2d first;
    first << s.du.squaredNorm(), s.du.dot(s.dv), s.du.dot(s.dv), s.dv.squaredNorm();
    Eigen::Matrix2d second;
    second << off.dot(s.duu), off.dot(s.duv), off.dot(s.duv), off.dot(s.dvv);
    Eigen::Matrix2d h = first - second;
    const double first_det = first.determinant();
    // Nearer than a tenth of the way to a centre of curvature Newton is safe.
    if (!(h(0, 0) > 0.0 && h(1, 1) > 0.0 && h.determinant() > 0.1 * first_det && first_det > 0.0))
        h = first;
    for (int k = 0; k < 2; ++k)
        if (!(h(k, k) > tolerance::pole_sine * tolerance::pole_sine * h(1 - k, 1 - k))) {
            h(k, k) = h(1 - k, 1 - k);
            h(0, 1) = h(1, 0) = 0.0;
        }
    const double det = h.determinant();
    if (!(det > 0.0)) return Vec2::Zero();
    return {(h(1, 1) * g[0] - h(0, 1) * g[1]) / det, (h(0, 0) * g[1] - h(1, 0) * g[0]) / det};
}

/// Principal curvatures, positive where the surface bulges to the side of `normal`.
void set_curvatures(const FacePoint& s, surface::Carried& out) {
    const double e = s.du.squaredNorm();
    const double f = s.du.dot(s.dv);
    const double g = s.dv.squaredNorm();
    const double area2 = e * g - f * f;
    if (!(area2 > 0.0)) return;
    const double l = -out.normal.dot(s.duu);
    const double m = -out.normal.dot(s.duv);
    const double n = -out.normal.dot(s.dvv);
    const double mean = (e * n - 2.0 * f * m + g * l) / (2.0 * area2);
    const double gauss = (l * n - m * m) / area2;
    const double root = std::sqrt(std::max(mean * mean - gauss, 0.0));
    out.curvature_min = mean - root;
    out.curvature_max = mean + root;
}

bool degenerate(const FacePoint& s) {
    const double product = s.du.norm() * s.dv.norm();
    const double larger = std::max(s.du.squaredNorm(), s.dv.squaredNorm());
    return !(s.du.cross(s.dv).norm() > tolerance::pole_sine * product) ||
           !(product > tolerance::pole_sine * larger * tolerance::pole_sine);
}

}  // namespace

surface::Carried CadCarrier::carry(const surface::Anchor& start, const Vec3& point) const {
    const FaceId face(start.face);
    Vec2 uv = start.uv;
    FacePoint s = faces_->evaluate(face, uv);
    double residual = std::numeric_limits<double>::infinity();
    for (int step = 0; step < most_steps; ++step) {
        const Vec2 d = foot_step(s, point);
        const double move = (d[0] * s.du + d[1] * s.dv).norm();
        if (!(move > tolerance::foot)) break;
        // A step that does not gain on the one before is cut short: never to and fro.
        const double cut = move < residual ? 1.0 : 0.5;
        residual = move;
        uv += cut * d;
        s = faces_->evaluate(face, uv);
    }
    surface::Carried out;
    out.anchor = {start.face, uv};
    out.position = s.position;
    if (degenerate(s)) {
        // At a pole the normal is the limit from inside: a little way along the parameter that
        // still moves.
        const Vec2 nudge = s.du.squaredNorm() < s.dv.squaredNorm() ? Vec2(0, 1) : Vec2(1, 0);
        const double scale = std::max(s.du.norm(), s.dv.norm());
        const double by = tolerance::pole_nudge / std::max(scale, tolerance::pole_nudge);
        const FacePoint ahead = faces_->evaluate(face, uv + by * nudge);
        const FacePoint behind = faces_->evaluate(face, uv - by * nudge);
        const double a = ahead.du.cross(ahead.dv).norm();
        const double b = behind.du.cross(behind.dv).norm();
        s = a >= b ? ahead : behind;
    }
    out.normal = faces_->outward_sign(face) * s.du.cross(s.dv).normalized();
    set_curvatures(s, out);
    return out;
}

void CadCarrier::note_pole(const surface::Anchor& corner) {
    const FacePoint s = faces_->evaluate(FaceId(corner.face), corner.uv);
    const double du = s.du.norm(), dv = s.dv.norm();
    if (!(std::min(du, dv) <= tolerance::pole_sine * std::max(du, dv))) return;
    if (pole_at(corner) != nullptr) return;
    const int axis = du < dv ? 1 : 0;
    poles_[corner.face].push_back({axis, corner.uv[axis]});
}

const CadCarrier::Pole* CadCarrier::pole_at(const surface::Anchor& anchor) const {
    if (poles_.empty()) return nullptr;
    const auto of_face = poles_.find(anchor.face);
    if (of_face == poles_.end()) return nullptr;
    for (const Pole& pole : of_face->second)
        if (std::abs(anchor.uv[pole.axis] - pole.value) <=
            tolerance::same_place_on_face * (1.0 + std::abs(pole.value)))
            return &pole;
    return nullptr;
}

surface::Anchor CadCarrier::between(const std::array<surface::Anchor, 3>& corner,
                                    const Vec3& weights) const {
    surface::Anchor out{corner[0].face, weights[0] * corner[0].uv + weights[1] * corner[1].uv +
                                            weights[2] * corner[2].uv};
    if (!poles_.contains(corner[0].face)) return out;
    // Along a pole's line the other corners alone say where.
    for (int axis = 0; axis < 2; ++axis) {
        double sum = 0.0, along = 0.0;
        bool any = false;
        for (int k = 0; k < 3; ++k) {
            const Pole* pole = pole_at(corner[k]);
            if (pole != nullptr && pole->axis != axis) {
                any = true;
                continue;
            }
            sum += weights[k];
            along += weights[k] * corner[k].uv[axis];
        }
        if (any && sum > 0.0) out.uv[axis] = along / sum;
    }
    return out;
}

bool CadCarrier::same(const surface::Anchor& a, const surface::Anchor& b) const {
    if (a.face != b.face) return false;
    const Pole* pole = pole_at(a);
    if (pole != nullptr && pole == pole_at(b)) return true;
    const double scale = 1.0 + std::max(a.uv.cwiseAbs().maxCoeff(), b.uv.cwiseAbs().maxCoeff());
    return (a.uv - b.uv).cwiseAbs().maxCoeff() <= tolerance::same_place_on_face * scale;
}

Vec3 CadCarrier::edge_point(std::int32_t edge, double parameter) const {
    if (edge >= first_straight) {
        const auto& [from, to] = straight_[static_cast<std::size_t>(edge - first_straight)];
        return (1.0 - parameter) * from + parameter * to;
    }
    return faces_->edge_point(hull::EdgeId(edge), parameter);
}

std::int32_t CadCarrier::add_straight(const Vec3& from, const Vec3& to) {
    straight_.push_back({from, to});
    return first_straight + static_cast<std::int32_t>(straight_.size()) - 1;
}

}  // namespace tearline::patch
