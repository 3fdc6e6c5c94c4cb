#include "core/pieces/piece_frame.h"

#include <cmath>
#include <numbers>

#include "core/pieces/chart_map.h"
#include "core/pieces/tolerances.h"
#include "core/surface/intrinsic.h"
#include "core/surface/locate_near.h"

namespace tearline::pieces {

namespace {

/// On the flat piece, of a direction along the surface at a place of it.
Vec2 laid_flat(const Piece& piece, const surface::Location& at, const Vec3& tangent,
               const Vec3& normal) {
    const std::size_t t = at.triangle.index();
    const auto& v = piece.lay.triangle[t];
    const auto& p = piece.lay.position;
    // The surface's own tangent first, then turned into the chord triangle: projecting on the
    // triangle at once would turn it by the facet's tilt.
    const Vec3 facet = (p[v[1]] - p[v[0]]).cross(p[v[2]] - p[v[0]]).normalized();
    const Vec3 d = surface::carry_over(tangent, normal, facet);
    const Vec3 e1 = p[v[1]] - p[v[0]], e2 = p[v[2]] - p[v[0]];
    const double a = e1.dot(e1), b = e1.dot(e2), c = e2.dot(e2), whole = a * c - b * b;
    const double w1 = (c * d.dot(e1) - b * d.dot(e2)) / whole;
    const double w2 = (a * d.dot(e2) - b * d.dot(e1)) / whole;
    const Vec2 flat =
        w1 * (piece.flat[v[1]] - piece.flat[v[0]]) + w2 * (piece.flat[v[2]] - piece.flat[v[0]]);
    return flat.normalized();
}

}  // namespace

Vec2 flat_direction(const Piece& piece, const surface::Location& at, const Vec3& direction,
                    const Vec3& normal) {
    const Vec3 here = surface::corner_normal(piece.lay, at);
    const Vec3 tangent = direction - direction.dot(here) * here;
    if (tangent.norm() > tolerance::along_surface * direction.norm())
        return laid_flat(piece, at, tangent, here);
    const Vec3 left = normal.cross(direction);
    return -turned_left(laid_flat(piece, at, left - left.dot(here) * here, here));
}

void turn_to_frame(Piece& piece, const Vec2& middle, const Vec3& y, const Vec3& axis_from,
                   const Vec3& normal) {
    const ChartMap map(piece);
    const surface::Location at = map.nearest(middle);
    const Vec2 origin = map.flat(at);
    const Vec2 along = -turned_left(flat_direction(piece, at, y, normal));
    const Vec2 from = flat_direction(piece, at, axis_from, normal);
    constexpr double degree = std::numbers::pi / 180.0;
    for (Vec2& p : piece.flat) {
        const Vec2 q = p - origin;
        p = Vec2(along.dot(q), cross2(along, q));
    }
    if (piece.warp_degrees) *piece.warp_degrees -= std::atan2(along.y(), along.x()) / degree;
    piece.axis_from_degrees = std::atan2(cross2(along, from), along.dot(from)) / degree;
}

}  // namespace tearline::pieces
