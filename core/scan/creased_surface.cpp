#include "core/scan/creased_surface.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <bit>
#include <cmath>

#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// Which way a fair surface faces where a point stands over it.
Vec3 normal_under(const FairSurface& surface, const Vec3& point) {
    const SurfaceJet jet = surface.jet(surface.base.foot(point).uv);
    return jet.du.cross(jet.dv).normalized();
}

}  // namespace

unsigned side_of(const std::vector<CreaseLine>& creases, const Vec2& flat) {
    unsigned side = 0;
    for (std::size_t k = 0; k < creases.size(); ++k)
        if (creases[k].left_of(flat) > 0.0) side |= 1U << k;
    return side;
}

std::size_t CreasedSurface::piece_at(const Vec2& flat) const {
    // Past where chines end their lines may part sides that hold no piece: the most alike then.
    const unsigned side = side_of(creases_, flat);
    const auto nearest =
        std::min_element(pieces_.begin(), pieces_.end(), [side](const Piece& a, const Piece& b) {
            return std::popcount(a.side ^ side) < std::popcount(b.side ^ side);
        });
    return static_cast<std::size_t>(nearest - pieces_.begin());
}

Vec2 CreasedSurface::parameters(std::size_t piece, const Vec2& flat) const {
    const FairSurface& surface = *pieces_[piece].surface;
    Vec2 uv = surface.base.foot(view_.raised(flat, 0.0)).uv;
    constexpr int steps = 30;
    for (int i = 0; i < steps; ++i) {
        const SurfaceJet jet = surface.jet(uv);
        const Vec2 miss = flat - view_.flat(jet.position);
        Eigen::Matrix2d seen;
        seen << jet.du.dot(view_.right), jet.dv.dot(view_.right), jet.du.dot(view_.up),
            jet.dv.dot(view_.up);
        const Vec2 step = seen.inverse() * miss;
        if (!step.allFinite()) break;
        uv += step;
        if (step.norm() < tolerance::crease_rest) break;
    }
    return uv;
}

CreasedSurface::CreasePoint CreasedSurface::crease_point(std::size_t crease, double along) const {
    const CreaseLine& line = creases_[crease];
    const Vec2 seen = line.at(along);
    const unsigned bit = 1U << crease;
    const unsigned side = side_of(creases_, seen);
    const auto of_side = [&](unsigned wanted) -> const FairSurface& {
        return *std::min_element(pieces_.begin(), pieces_.end(),
                                 [&](const Piece& a, const Piece& b) {
                                     // The crease's own side first, then the other creases'.
                                     const auto unlike = [&](const Piece& piece) {
                                         const unsigned other = piece.side ^ wanted;
                                         return 100 * ((other & bit) != 0) + std::popcount(other);
                                     };
                                     return unlike(a) < unlike(b);
                                 })
                    ->surface;
    };
    const FairSurface& left = of_side(side | bit);
    const FairSurface& right = of_side(side & ~bit);

    // In the plane across the chord, both heights nought.
    const Vec3 across = line.across().x() * view_.right + line.across().y() * view_.up;
    const Vec3 start = left.point(left.base.foot(view_.raised(seen, 0.0)).uv);
    Vec3 at = view_.raised(seen, view_.normal.dot(start - view_.middle));
    CreasePoint found;
    constexpr int steps = 40;
    for (int i = 0; i < steps; ++i) {
        constexpr double h = tolerance::crease_step;
        const Vec2 off(left.off(at), right.off(at));
        Eigen::Matrix2d change;
        change << (left.off(at + h * across) - off.x()) / h,
            (left.off(at + h * view_.normal) - off.x()) / h,
            (right.off(at + h * across) - off.y()) / h,
            (right.off(at + h * view_.normal) - off.y()) / h;
        const Vec2 step = -(change.inverse() * off);
        if (!step.allFinite()) return found;
        at += step.x() * across + step.y() * view_.normal;
        if (step.norm() < tolerance::crease_rest) {
            found.crossed = true;
            break;
        }
    }
    found.at = at;
    found.turn =
        std::acos(std::clamp(normal_under(left, at).dot(normal_under(right, at)), -1.0, 1.0));
    return found;
}

std::optional<CreasedSurface::Parted> CreasedSurface::follow_crossings(double reach) {
    for (std::size_t k = 0; k < creases_.size(); ++k) {
        CreaseLine& line = creases_[k];
        const double middle = line.along(Vec2::Zero());
        constexpr int parts = 60;
        std::vector<Vec2> places;
        for (int i = 0; i <= parts; ++i) {
            const double along = middle + reach * (2.0 * i / parts - 1.0);
            const CreasePoint point = crease_point(k, along);
            const Vec2 seen = view_.flat(point.at), before = line.at(along);
            // Far out, where no side has points any more, the line goes on as it did.
            if (point.crossed && (seen - before).norm() < 0.25 * reach)
                places.push_back(seen);
            else if (std::abs(along - middle) < 0.5 * reach)
                return Parted{k, view_.raised(before, 0.0)};
        }
        line.lead_through(places);
    }
    return std::nullopt;
}

}  // namespace tearline::scan
