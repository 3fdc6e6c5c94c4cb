#include "core/pieces/make_piece.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/flatten_membrane.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/lay_membrane.h"
#include "core/pieces/part_cloth.h"
#include "core/pieces/piece_frame.h"
#include "core/pieces/strain_measures.h"
#include "core/pieces/tolerances.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

/// The sides of a cut, from the mouth in, found among the edges of the parted surface.
PieceCut sides_of(const Piece& piece, const std::vector<std::int32_t>& from,
                  std::span<const Vec2> line) {
    const Vec2 inward = line.back() - line.front();
    const auto on = [&](std::int32_t v) {
        return plane::distance_to_line(line, piece.chart[v]) <= tolerance::on_chart_line;
    };
    std::map<std::int32_t, std::array<std::int32_t, 2>> pair;
    for (const auto& loop : surface::boundary_loops(piece.lay))
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const std::int32_t a = loop[i], b = loop[(i + 1) % loop.size()];
            if (!on(a) || !on(b)) continue;
            // The piece lies to the left of its boundary: inward along the left side of the cut.
            const bool left = (piece.chart[b] - piece.chart[a]).dot(inward) > 0.0;
            for (const std::int32_t v : {a, b}) {
                auto& sides = pair.try_emplace(from[v], std::array{-1, -1}).first->second;
                sides[left ? 0 : 1] = v;
            }
        }
    PieceCut cut;
    for (const auto& [vertex, sides] : pair)
        if (sides[0] >= 0 && sides[1] >= 0) cut.sides.push_back(sides);
    std::sort(cut.sides.begin(), cut.sides.end(), [&](const auto& a, const auto& b) {
        return piece.chart[a[0]].dot(inward) < piece.chart[b[0]].dot(inward);
    });
    for (std::size_t i = 0; i + 1 < cut.sides.size(); ++i) {
        const auto& [l, r] = cut.sides[i];
        const auto& [next_l, next_r] = cut.sides[i + 1];
        const Vec2 way = piece.flat[next_l] + piece.flat[next_r] - piece.flat[l] - piece.flat[r];
        const Vec2 gap = piece.flat[l] - piece.flat[r];
        const double wide = std::copysign(gap.norm(), cross2(way, gap));
        if (std::abs(wide) > std::abs(cut.opening)) cut.opening = wide;
    }
    return cut;
}

}  // namespace

double parted_strain(const plies::LaySurface& lay, const std::vector<std::array<bool, 3>>& parted,
                     std::span<const Vec2> start) {
    const PartedSurface apart = part_along(lay, parted);
    std::vector<Vec2> places;
    places.reserve(apart.from.size());
    for (const std::int32_t v : apart.from) places.push_back(start[static_cast<std::size_t>(v)]);
    const auto flat = flattening::flatten_membrane(apart.lay.mesh, places,
                                                   {.stop_movement = tolerance::trial_movement});
    if (!flat || flat->flipped > 0) return std::numeric_limits<double>::infinity();
    return largest_disc_mean(apart.lay.mesh, flat->flat, largest_strains(flat->stretch),
                             tolerance::strain_disc)
        .value;
}

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id) {
    return make_piece(lay, std::move(id), {});
}

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id,
                         std::span<const std::vector<Vec2>> cuts) {
    std::vector<std::array<bool, 3>> parted(lay.mesh.triangle.size(), {false, false, false});
    for (const std::vector<Vec2>& line : cuts) {
        const auto marks = edges_on(lay, line);
        for (std::size_t t = 0; t < parted.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i) parted[t][i] = parted[t][i] || marks[t][i];
    }
    const auto apart = cuts.empty() ? PartedSurface{lay, {}} : part_along(lay, std::move(parted));
    auto picture = lay_membrane(apart.lay, std::move(id));
    if (!picture) return tl::unexpected(picture.error());
    Piece piece = std::move(picture->piece);
    for (const std::vector<Vec2>& line : cuts)
        piece.cuts.push_back(sides_of(piece, apart.from, line));
    if (const auto fits = check_overlap(piece); !fits) return tl::unexpected(fits.error());
    piece.strain_rms = std::sqrt(picture->energy / (2.0 * picture->area));
    const std::vector<double> strains = largest_strains(piece.stretch);
    const DiscMean most = largest_disc_mean(piece.lay, piece.flat, strains, tolerance::strain_disc);
    piece.strain_max = most.value;
    piece.worst_triangle = most.triangle;
    return piece;
}

Region2 net_outline(const Piece& piece) {
    return flat_outline(piece.lay, piece.flat);
}

}  // namespace tearline::pieces
