#include "core/job_sheet/cloth_lines.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/pieces/chart_map.h"
#include "core/pieces/seam_runs.h"
#include "core/plane/room.h"

namespace tearline::job_sheet {

namespace {

/// Square to each of the two families of yarns, and where they are counted from.
struct Weave {
    std::array<Vec2, 2> across;
    Vec2 origin{0, 0};
};

Weave weave_of(const pieces::Piece& piece, job::FabricKind kind) {
    const double turn =
        piece.warp_degrees.value_or(0.0) + (kind == job::FabricKind::biaxial ? 45.0 : 0.0);
    const double a = turn * std::numbers::pi / 180.0;
    Weave weave{{Vec2(-std::sin(a), std::cos(a)), Vec2(std::cos(a), std::sin(a))}};
    if (piece.press_first)
        if (const auto at = pieces::ChartMap(piece).flat_at(*piece.press_first)) weave.origin = *at;
    return weave;
}

std::vector<Vec3> on_base(const pieces::Piece& piece, const std::vector<std::int32_t>& vertices) {
    std::vector<Vec3> out;
    for (const std::int32_t v : vertices) out.push_back(piece.base[static_cast<std::size_t>(v)]);
    return out;
}

}  // namespace

std::vector<std::array<Vec3, 2>> yarns_on_hull(const pieces::Piece& piece, job::FabricKind kind,
                                               double spacing) {
    const Weave weave = weave_of(piece, kind);
    std::vector<std::array<Vec3, 2>> out;
    for (const auto& v : piece.lay.triangle)
        for (const Vec2& across : weave.across) {
            std::array<double, 3> s;
            for (std::size_t i = 0; i < 3; ++i)
                s[i] = (piece.flat[static_cast<std::size_t>(v[i])] - weave.origin).dot(across) /
                       spacing;
            const auto [low, high] = std::minmax_element(s.begin(), s.end());
            for (double yarn = std::ceil(*low); yarn <= *high; yarn += 1.0) {
                std::vector<Vec3> ends;
                for (std::size_t i = 0; i < 3; ++i) {
                    const std::size_t j = (i + 1) % 3;
                    if ((s[i] < yarn) == (s[j] < yarn)) continue;
                    const double t = (yarn - s[i]) / (s[j] - s[i]);
                    const Vec3& a = piece.base[static_cast<std::size_t>(v[i])];
                    const Vec3& b = piece.base[static_cast<std::size_t>(v[j])];
                    ends.push_back(a + t * (b - a));
                }
                if (ends.size() == 2) out.push_back({ends[0], ends[1]});
            }
        }
    return out;
}

std::vector<std::array<Vec2, 2>> yarns_flat(const pieces::Piece& piece, job::FabricKind kind,
                                            double spacing) {
    const Weave weave = weave_of(piece, kind);
    const plane::Box box = plane::box_round(piece.flat);
    const double reach = (box.high - box.low).norm();
    std::vector<std::array<Vec2, 2>> out;
    for (const Vec2& across : weave.across) {
        const Vec2 along = turned_left(across);
        const int count = static_cast<int>(reach / spacing) + 1;
        for (int i = -count; i <= count; ++i) {
            const Vec2 on = weave.origin + i * spacing * across;
            out.push_back({on - reach * along, on + reach * along});
        }
    }
    return out;
}

std::vector<std::vector<Vec3>> seams_on_hull(const pieces::Piece& piece) {
    std::vector<std::vector<Vec3>> out;
    for (const auto& run : pieces::seam_runs(piece)) out.push_back(on_base(piece, run));
    return out;
}

std::vector<std::vector<Vec3>> cuts_on_hull(const pieces::Piece& piece) {
    std::vector<std::vector<Vec3>> out;
    for (const pieces::PieceCut& cut : piece.cuts) {
        std::vector<std::int32_t> side;
        for (const auto& sides : cut.sides) side.push_back(sides[0]);
        out.push_back(on_base(piece, side));
    }
    return out;
}

}  // namespace tearline::job_sheet
