#include "core/scan/creased_surface.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

#include "core/base/angle_between.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// Which way a fair surface faces where a point stands over it.
Vec3 normal_under(const FairSurface& surface, const Vec3& point) {
    const SurfaceJet jet = surface.jet(surface.base.foot(point).uv);
    return jet.du.cross(jet.dv).normalized();
}

/// Two directions in the plane across a crease's chord.
std::array<Vec3, 2> across_plane(const PlaceView& view, const CreaseLine& line) {
    return {line.across().x() * view.right + line.across().y() * view.up, view.normal};
}

/// The place of a plane where two figures are nought, by Newton's steps; none where they lead
/// nowhere.
template <class Figures>
std::optional<Vec3> meet(const std::array<Vec3, 2>& plane, Vec3 at, Figures figures) {
    constexpr int steps = 40;
    constexpr double h = tolerance::crease_step;
    for (int i = 0; i < steps; ++i) {
        const Vec2 off = figures(at);
        Eigen::Matrix2d change;
        for (int k = 0; k < 2; ++k) change.col(k) = (figures(at + h * plane[k]) - off) / h;
        const Vec2 step = -(change.inverse() * off);
        if (!step.allFinite()) return std::nullopt;
        at += step.x() * plane[0] + step.y() * plane[1];
        if (step.norm() < tolerance::crease_rest) return at;
    }
    return std::nullopt;
}

/// The foot of the normal through a point, by Newton's steps from the base's.
struct TrueFoot {
    Vec3 at{0, 0, 0};
    double distance = 0.0;  ///< [mm] outward positive
};
TrueFoot true_foot(const FairSurface& surface, const Vec3& point) {
    Vec2 uv = surface.base.foot(point).uv;
    constexpr int steps = 10;
    for (int i = 0; i < steps; ++i) {
        const SurfaceJet jet = surface.jet(uv);
        const Vec3 off = jet.position - point;
        Eigen::Matrix2d second;
        second << jet.du.dot(jet.du) + off.dot(jet.duu), jet.du.dot(jet.dv) + off.dot(jet.duv),
            jet.du.dot(jet.dv) + off.dot(jet.duv), jet.dv.dot(jet.dv) + off.dot(jet.dvv);
        const Vec2 step = -(second.inverse() * Vec2(off.dot(jet.du), off.dot(jet.dv)));
        if (!step.allFinite()) break;
        uv += step;
        if (step.norm() < tolerance::crease_rest) break;
    }
    const SurfaceJet jet = surface.jet(uv);
    return {jet.position, (point - jet.position).dot(jet.du.cross(jet.dv).normalized())};
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

std::size_t CreasedSurface::face_at(const Vec2& flat) const {
    for (std::size_t k = 0; k < bends_.size(); ++k)
        if (bends_[k] && bends_[k]->left.left_of(flat) < 0.0 &&
            bends_[k]->right.left_of(flat) > 0.0)
            return pieces_.size() + k;
    return piece_at(flat);
}

SurfaceJet CreasedSurface::jet(std::size_t face, const Vec2& parameters) const {
    return face < pieces_.size() ? pieces_[face].surface->jet(parameters)
                                 : bends_[face - pieces_.size()]->surface.jet(parameters);
}

Vec2 CreasedSurface::parameters(std::size_t face, const Vec2& flat) const {
    Vec2 at = face < pieces_.size() ? pieces_[face].surface->base.foot(view_.raised(flat, 0.0)).uv
                                    : Vec2(creases_[face - pieces_.size()].along(flat),
                                           0.5 * bends_[face - pieces_.size()]->surface.width());
    constexpr int steps = 30;
    for (int i = 0; i < steps; ++i) {
        const SurfaceJet here = jet(face, at);
        const Vec2 miss = flat - view_.flat(here.position);
        Eigen::Matrix2d seen;
        seen << here.du.dot(view_.right), here.dv.dot(view_.right), here.du.dot(view_.up),
            here.dv.dot(view_.up);
        const Vec2 step = seen.inverse() * miss;
        if (!step.allFinite()) break;
        at += step;
        if (step.norm() < tolerance::crease_rest) break;
    }
    return at;
}

std::pair<const FairSurface*, const FairSurface*> CreasedSurface::sides_of(std::size_t crease,
                                                                           double along) const {
    const unsigned bit = 1U << crease;
    const unsigned side = side_of(creases_, creases_[crease].at(along));
    const auto of_side = [&](unsigned wanted) {
        // The crease's own side first, then the other creases'.
        const auto unlike = [&](const Piece& piece) {
            const unsigned other = piece.side ^ wanted;
            return 100 * static_cast<int>((other & bit) != 0) + std::popcount(other);
        };
        return std::min_element(
                   pieces_.begin(), pieces_.end(),
                   [&](const Piece& a, const Piece& b) { return unlike(a) < unlike(b); })
            ->surface.get();
    };
    return {of_side(side | bit), of_side(side & ~bit)};
}

CreasedSurface::CreasePoint CreasedSurface::crease_point(std::size_t crease, double along) const {
    const CreaseLine& line = creases_[crease];
    const Vec2 seen = line.at(along);
    const auto [left_side, right_side] = sides_of(crease, along);
    const FairSurface &left = *left_side, &right = *right_side;
    const Vec3 start = left.point(left.base.foot(view_.raised(seen, 0.0)).uv);
    const Vec3 on_line = view_.raised(seen, view_.normal.dot(start - view_.middle));
    const auto met = meet(across_plane(view_, line), on_line,
                          [&](const Vec3& at) { return Vec2(left.off(at), right.off(at)); });
    if (!met || !((view_.flat(*met) - seen).norm() < aside_)) return {on_line, 0.0, false};
    return {*met, angle_between(normal_under(left, *met), normal_under(right, *met)), true};
}

std::optional<CreasedSurface::Parted> CreasedSurface::follow_crossings(double reach) {
    aside_ = 0.25 * reach;
    for (std::size_t k = 0; k < creases_.size(); ++k) {
        CreaseLine& line = creases_[k];
        const double middle = line.along(Vec2::Zero());
        constexpr int parts = 60;
        std::vector<Vec2> places;
        for (int i = 0; i <= parts; ++i) {
            const double along = middle + reach * (2.0 * i / parts - 1.0);
            const CreasePoint point = crease_point(k, along);
            // Far out, where no side has points any more, the line goes on as it did.
            if (point.crossed)
                places.push_back(view_.flat(point.at));
            else if (std::abs(along - middle) < 0.5 * reach)
                return Parted{k, point.at};
        }
        line.lead_through(places);
    }
    return std::nullopt;
}

std::optional<BallPlace> CreasedSurface::ball_at(std::size_t crease, double along,
                                                 double radius) const {
    const CreaseLine& line = creases_[crease];
    const auto [left_side, right_side] = sides_of(crease, along);
    const FairSurface &left = *left_side, &right = *right_side;
    const CreasePoint edge = crease_point(crease, along);
    if (!edge.crossed) return std::nullopt;
    const auto plane = across_plane(view_, line);
    // The hull bulges where the left side runs below the right one's going on.
    const Vec3 up_left = normal_under(left, edge.at), up_right = normal_under(right, edge.at);
    Vec3 inward = -(up_left + up_right);
    const double side = (up_left - up_right).dot(plane[0]) > 0.0 ? -1.0 : 1.0;
    const double deep = radius / std::cos(0.5 * edge.turn) / inward.norm();
    const auto met = meet(plane, edge.at - side * deep * inward, [&](const Vec3& at) -> Vec2 {
        return Vec2(true_foot(left, at).distance, true_foot(right, at).distance) -
               Vec2::Constant(side * radius);
    });
    if (!met) return std::nullopt;
    return BallPlace{*met, (true_foot(left, *met).at - *met) / radius,
                     (true_foot(right, *met).at - *met) / radius};
}

std::optional<CreasedSurface::Parted> CreasedSurface::roll(std::size_t crease, double radius,
                                                           double reach) {
    const CreaseLine& line = creases_[crease];
    const double middle = line.along(Vec2::Zero());
    constexpr int parts = 120;
    const double step = 2.0 * reach / parts;
    std::vector<BallPlace> places;
    double low = middle - reach;
    for (int i = 0; i <= parts; ++i) {
        const double along = middle - reach + step * i;
        auto place = ball_at(crease, along, radius);
        if (place) {
            places.push_back(*place);
            continue;
        }
        if (std::abs(along - middle) < 0.5 * reach)
            return Parted{crease, view_.raised(line.at(along), 0.0)};
        if (along > middle) break;
        places.clear();
        low = along + step;
    }
    if (places.size() < 4) return Parted{crease, view_.raised(line.at(middle), 0.0)};
    std::vector<Vec2> left, right;
    for (const BallPlace& place : places) {
        left.push_back(view_.flat(place.centre + radius * place.from));
        right.push_back(view_.flat(place.centre + radius * place.to));
    }
    Bend bend{RolledBend(radius, low, step, places), line, line};
    bend.left.lead_through(left);
    bend.right.lead_through(right);
    bends_[crease] = std::move(bend);
    return std::nullopt;
}

std::vector<CreasedSurface::Seam> CreasedSurface::seams() const {
    std::vector<Seam> all;
    for (std::size_t k = 0; k < creases_.size(); ++k) {
        if (!bends_[k]) {
            all.push_back({k, Seam::Where::sharp, creases_[k]});
            continue;
        }
        all.push_back({k, Seam::Where::left, bends_[k]->left});
        all.push_back({k, Seam::Where::right, bends_[k]->right});
    }
    return all;
}

Vec3 CreasedSurface::seam_point(const Seam& seam, double along) const {
    if (seam.where == Seam::Where::sharp) return crease_point(seam.crease, along).at;
    const RolledBend& bend = bends_[seam.crease]->surface;
    return bend.point({along, seam.where == Seam::Where::left ? 0.0 : bend.width()});
}

double CreasedSurface::seam_along(const Seam& seam, const Vec2& flat) const {
    const CreaseLine& line = creases_[seam.crease];
    double along = line.along(flat);
    if (seam.where == Seam::Where::sharp) return along;
    constexpr int steps = 20;
    for (int i = 0; i < steps; ++i) {
        const double miss = line.along(flat) - line.along(view_.flat(seam_point(seam, along)));
        along += miss;
        if (std::abs(miss) < tolerance::crease_rest) break;
    }
    return along;
}

}  // namespace tearline::scan
