#include "core/pieces/seam_runs.h"

#include <algorithm>

#include "core/pieces/part_cloth.h"
#include "core/pieces/tolerances.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

using Lines = std::vector<std::vector<Vec2>>;

bool on_seam(const Lines& seams, const Vec2& a, const Vec2& b) {
    return std::any_of(seams.begin(), seams.end(), [&](const auto& seam) {
        return plane::distance_to_line(seam, a) <= tolerance::beside_seam &&
               plane::distance_to_line(seam, b) <= tolerance::beside_seam;
    });
}

void add_runs(const Piece& piece, const Lines& seams, const std::vector<std::int32_t>& loop,
              std::vector<std::vector<std::int32_t>>& runs) {
    const std::size_t n = loop.size();
    std::vector<bool> seam(n);
    for (std::size_t i = 0; i < n; ++i)
        seam[i] = on_seam(seams, piece.chart[static_cast<std::size_t>(loop[i])],
                          piece.chart[static_cast<std::size_t>(loop[(i + 1) % n])]);
    const auto gap = std::find(seam.begin(), seam.end(), false);
    const auto first = gap == seam.end() ? 0 : static_cast<std::size_t>(gap - seam.begin());
    bool open = false;
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = (first + k) % n;
        if (!seam[i]) {
            open = false;
            continue;
        }
        if (!open) runs.push_back({loop[i]});
        open = true;
        runs.back().push_back(loop[(i + 1) % n]);
    }
}

}  // namespace

std::vector<std::vector<std::int32_t>> seam_runs(const Piece& piece) {
    return seam_runs(piece, piece.seams);
}

std::vector<std::vector<std::int32_t>> seam_runs(const Piece& piece, const Lines& lines) {
    std::vector<std::vector<std::int32_t>> runs;
    if (lines.empty()) return runs;
    for (const auto& loop : surface::boundary_loops(piece.lay)) add_runs(piece, lines, loop, runs);
    return runs;
}

}  // namespace tearline::pieces
