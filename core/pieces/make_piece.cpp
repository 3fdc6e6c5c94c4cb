#include "core/pieces/make_piece.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/flatten_membrane.h"
#include "core/pieces/chart_map.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/strain_measures.h"

namespace tearline::pieces {

namespace {

std::string place_of(const Vec3& p) {
    return "(" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + ")";
}

/// Number of parts that share no edge.
std::size_t parts_of(const surface::SurfaceMesh& mesh) {
    const auto across = surface::neighbours(mesh);
    std::vector<bool> seen(across.size(), false);
    std::size_t parts = 0;
    std::vector<std::size_t> queue;
    for (std::size_t start = 0; start < across.size(); ++start) {
        if (seen[start]) continue;
        ++parts;
        seen[start] = true;
        queue.assign(1, start);
        while (!queue.empty()) {
            const std::size_t t = queue.back();
            queue.pop_back();
            for (const std::int32_t n : across[t])
                if (n >= 0 && !seen[static_cast<std::size_t>(n)]) {
                    seen[static_cast<std::size_t>(n)] = true;
                    queue.push_back(static_cast<std::size_t>(n));
                }
        }
    }
    return parts;
}

/// Refuses flat shapes that no cloth could take, naming the place.
Result<void> check_flat(const Piece& piece, int flipped) {
    if (flipped > 0) {
        const auto worst =
            std::min_element(piece.stretch.begin(), piece.stretch.end(),
                             [](const auto& a, const auto& b) { return a[1] < b[1]; });
        const auto& v = piece.lay.triangle[static_cast<std::size_t>(worst - piece.stretch.begin())];
        return no_safe_answer("piece " + piece.id + ": the cloth would have to turn over near " +
                              place_of(piece.base[v[0]]) +
                              "; the surface bends too sharply there for one piece: plan the "
                              "repair in smaller parts or fill the hollow first");
    }
    const auto cross = crossing(net_outline(piece));
    if (!cross) return {};
    const auto nearest =
        std::min_element(piece.flat.begin(), piece.flat.end(), [&](const Vec2& a, const Vec2& b) {
            return (a - *cross).squaredNorm() < (b - *cross).squaredNorm();
        });
    const auto v = static_cast<std::size_t>(nearest - piece.flat.begin());
    return no_safe_answer("piece " + piece.id + ": laid flat it overlaps itself near " +
                          place_of(piece.base[v]) + "; plan the repair in smaller parts");
}

}  // namespace

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id) {
    Piece piece;
    piece.id = std::move(id);
    piece.lay = lay.mesh;
    piece.base = lay.base;
    piece.chart = lay.chart;
    if (const std::size_t parts = parts_of(piece.lay); parts != 1)
        return no_safe_answer("piece " + piece.id + ": its surface is in " + std::to_string(parts) +
                              " parts where it should be one");

    auto flat = flattening::flatten_membrane(piece.lay, piece.chart);
    if (!flat)
        return tl::unexpected<Error>(
            Error{flat.error().kind, "piece " + piece.id + ": " + flat.error().message});
    piece.flat = std::move(flat->flat);
    piece.stretch = std::move(flat->stretch);
    if (const auto fits = check_flat(piece, flat->flipped); !fits)
        return tl::unexpected(fits.error());
    piece.strain_rms = std::sqrt(flat->energy / (2.0 * flat->area));
    const std::vector<double> strains = largest_strains(piece.stretch);
    piece.strain_max =
        largest_disc_mean(piece.lay, piece.flat, strains, tolerance::strain_disc).value;
    return piece;
}

Region2 net_outline(const Piece& piece) {
    return flat_outline(piece.lay, piece.flat);
}

}  // namespace tearline::pieces
