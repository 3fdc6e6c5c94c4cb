#include "core/templates/opening_slit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/plane/segment.h"
#include "core/surface/surface_mesh.h"
#include "core/templates/tolerances.h"

namespace tearline::templates {

namespace {

/// The hole of a piece about a place of the hull, flat; empty where there is none.
Loop2 hole_about(const pieces::Piece& piece, const Vec3& middle) {
    const auto loops = surface::boundary_loops(piece.lay);
    Loop2 best;
    double nearest = std::numeric_limits<double>::infinity();
    for (const auto& loop : loops) {
        Loop2 flat;
        Vec3 mean = Vec3::Zero();
        double reach = 0.0;
        for (const std::int32_t v : loop) {
            flat.push_back(piece.flat[static_cast<std::size_t>(v)]);
            mean += piece.base[static_cast<std::size_t>(v)] / static_cast<double>(loop.size());
        }
        for (const std::int32_t v : loop)
            reach = std::max(reach, (piece.base[static_cast<std::size_t>(v)] - mean).norm());
        // An outer edge has the cloth on its left, a hole on its right.
        const double off = (mean - middle).norm();
        if (signed_area(flat) > 0.0 || off > reach || !(off < nearest)) continue;
        nearest = off;
        best = std::move(flat);
    }
    return best;
}

/// How far along a line from a point it crosses a loop, ascending.
std::vector<double> crossings(const Loop2& loop, const Vec2& from, const Vec2& way) {
    std::vector<double> out;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const double a = cross2(way, loop[j] - from), b = cross2(way, loop[i] - from);
        if ((a > 0.0) == (b > 0.0)) continue;
        const double along = (loop[j] + a / (a - b) * (loop[i] - loop[j]) - from).dot(way);
        if (along > 0.0) out.push_back(along);
    }
    std::sort(out.begin(), out.end());
    return out;
}

/// How wide the narrowest strip of cloth is that a slit leaves beside the other holes [mm].
double narrowest_strip(const std::vector<Loop2>& holes, const Vec2& centre, const Vec2& from,
                       const Vec2& to) {
    double narrowest = std::numeric_limits<double>::infinity();
    for (const Loop2& hole : holes) {
        if (contains(hole, centre)) continue;
        for (std::size_t i = 0, j = hole.size() - 1; i < hole.size(); j = i++)
            narrowest = std::min({narrowest, plane::distance_to_segment(from, to, hole[i]),
                                  plane::distance_to_segment(hole[j], hole[i], from),
                                  plane::distance_to_segment(hole[j], hole[i], to)});
    }
    return narrowest;
}

}  // namespace

Result<std::optional<OpeningSlit>> opening_slit(const pieces::Piece& piece, const Template& outline,
                                                const Vec3& middle,
                                                const std::optional<double>& before) {
    const Loop2 hole = hole_about(piece, middle);
    if (hole.empty()) return std::optional<OpeningSlit>();
    Vec2 centre = Vec2::Zero();
    for (const Vec2& p : hole) centre += p / static_cast<double>(hole.size());
    const Region2& parting = outline.parting_region();
    constexpr int looks = 13;
    constexpr double quarter = 90.0, step = 15.0;
    // Down on paper first, then on by quarters; where another hole is in the way, or so near that
    // the strip between would tear, a little farther, up to three quarters on, which is a quarter
    // back. Where all strips are narrow the widest is left.
    const double first = before ? *before + quarter : -quarter;
    std::optional<OpeningSlit> widest;
    double wide = 0.0;
    for (int k = 0; k < looks && wide < tolerance::sound_strip; ++k) {
        const double degrees = first + step * k;
        const double angle = degrees * std::numbers::pi / 180.0;
        const Vec2 way(std::cos(angle), std::sin(angle));
        const auto own = crossings(hole, centre, way);
        const auto edge = crossings(parting.outer, centre, way);
        if (own.empty() || edge.empty() || !(edge.front() > own.back())) continue;
        const bool passes =
            std::all_of(parting.holes.begin(), parting.holes.end(), [&](const Loop2& other) {
                const auto met = crossings(other, centre, way);
                return met.empty() || contains(other, centre) || met.front() > edge.front();
            });
        if (!passes) continue;
        const Vec2 from = centre + own.back() * way, to = centre + edge.front() * way;
        const double strip = narrowest_strip(parting.holes, centre, from, to);
        if (!(strip > wide)) continue;
        wide = strip;
        widest = OpeningSlit{{"slit", {from, to}}, std::remainder(degrees, 360.0)};
    }
    if (widest) return widest;
    return no_safe_answer("damage.opening",
                          "no straight slit from the hole to the piece's edge passes the other "
                          "holes; take the fitting out, or leave slit out and cut by hand",
                          middle);
}

}  // namespace tearline::templates
