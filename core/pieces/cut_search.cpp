#include "core/pieces/cut_search.h"

#include <array>

#include "core/pieces/make_piece.h"
#include "core/pieces/part_cloth.h"

namespace tearline::pieces {

namespace {

std::optional<CutLines> allowed_cuts(const CutProposals& proposals, const CutRules& rules,
                                     CutProposals::Wish wish) {
    std::optional<CutLines> first;
    const auto shifts = rules.search == Search::usual ? std::array{0.0, 0.25, -0.25, 0.5}
                                                      : std::array{0.125, -0.125, 0.375, -0.375};
    for (const double shift : shifts) {
        wish.shift = shift;
        auto lines = proposals.cuts(wish, rules.sound_end);
        if (!lines || !rules.keeps_distance(*lines)) continue;
        if (rules.prefers(*lines)) return lines;
        if (!first) first = std::move(lines);
    }
    return first;
}

double strain_with(const plies::LaySurface& whole, const Piece& plain, const CutLines& lines) {
    std::vector<std::array<bool, 3>> parted(whole.mesh.triangle.size(), {false, false, false});
    for (const auto& line : lines) {
        const auto marks = edges_near(whole, line.front(), line.back());
        for (std::size_t t = 0; t < parted.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i) parted[t][i] = parted[t][i] || marks[t][i];
    }
    return parted_strain(whole, parted, plain.flat);
}

}  // namespace

std::optional<CutTrial> best_cuts(const CutProposals& proposals, const plies::LaySurface& whole,
                                  const Piece& plain, const CutRules& rules, int count) {
    // Where deep cuts do not serve, shorter ones do not either; where both do, the shorter it is.
    std::optional<CutTrial> best;
    for (const double depth : {0.75, 0.5}) {
        const auto lines = allowed_cuts(proposals, rules, {count, depth, 0.0});
        if (!lines) continue;
        const double strain = strain_with(whole, plain, *lines);
        const bool serves = strain <= rules.strain_limit;
        if (!best || serves) best = CutTrial{*lines, strain};
        if (!serves) break;
    }
    return best;
}

}  // namespace tearline::pieces
