#include "core/pieces/lay_membrane.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "core/base/length_text.h"
#include "core/flattening/flatten_membrane.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/part_cloth.h"
#include "core/pieces/tolerances.h"
#include "core/plane/crossings.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

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

/// Refuses a shape that turns over, naming the place.
Result<void> check_turned(const Piece& piece, int flipped) {
    if (flipped == 0) return {};
    const auto worst = std::min_element(piece.stretch.begin(), piece.stretch.end(),
                                        [](const auto& a, const auto& b) { return a[1] < b[1]; });
    const auto& v = piece.lay.triangle[static_cast<std::size_t>(worst - piece.stretch.begin())];
    return refused(piece,
                   "the cloth would have to turn over near " + place_text(piece.base[v[0]]) +
                       "; the surface bends too sharply there for one piece: plan the "
                       "repair in smaller parts or fill the hollow first",
                   piece.base[v[0]]);
}

/// Whether a place lies where the sides of a slit overlap.
bool in_slit(const Piece& piece, const Vec2& place) {
    return std::any_of(piece.cuts.begin(), piece.cuts.end(), [&](const PieceCut& cut) {
        std::vector<Vec2> middle;
        for (const auto& [l, r] : cut.sides)
            middle.push_back(0.5 * (piece.flat[l] + piece.flat[r]));
        return cut.opening < 0.0 &&
               plane::distance_to_line(middle, place) <= -cut.opening + tolerance::strain_disc;
    });
}

}  // namespace

tl::unexpected<Error> refused(const Piece& piece, std::string what, std::optional<Vec3> place) {
    return tl::unexpected<Error>(Error{.kind = ErrorKind::no_safe_answer,
                                       .what = std::move(what),
                                       .place = place,
                                       .piece = piece.id});
}

Result<Membrane> lay_membrane(const plies::LaySurface& lay, std::string id) {
    Membrane out;
    Piece& piece = out.piece;
    piece.id = std::move(id);
    piece.lay = lay.mesh;
    piece.base = lay.base;
    piece.chart = lay.chart;
    piece.corner_chart = lay.corner_chart;
    if (const std::size_t parts = parts_of(piece.lay); parts != 1)
        return refused(piece,
                       "a sharp edge or the hull's end leaves it in " + std::to_string(parts) +
                           " parts; make the repair smaller, or keep its edge clear of that");
    auto flat = flattening::flatten_membrane(piece.lay, piece.chart);
    if (!flat) {
        flat.error().piece = piece.id;
        return tl::unexpected(flat.error());
    }
    piece.flat = std::move(flat->flat);
    piece.stretch = std::move(flat->stretch);
    out.energy = flat->energy;
    out.area = flat->area;
    if (const auto fits = check_turned(piece, flat->flipped); !fits)
        return tl::unexpected(fits.error());
    return out;
}

Result<void> check_overlap(const Piece& piece) {
    const auto all = plane::crossings(net_outline(piece));
    const auto cross = std::find_if(
        all.begin(), all.end(), [&](const plane::Crossing& c) { return !in_slit(piece, c.at); });
    if (cross == all.end()) return {};
    const auto nearest =
        std::min_element(piece.flat.begin(), piece.flat.end(), [&](const Vec2& a, const Vec2& b) {
            return (a - cross->at).squaredNorm() < (b - cross->at).squaredNorm();
        });
    const auto v = static_cast<std::size_t>(nearest - piece.flat.begin());
    return refused(piece,
                   "laid flat it overlaps itself near " + place_text(piece.base[v]) +
                       "; plan the repair in smaller parts",
                   piece.base[v]);
}

}  // namespace tearline::pieces
