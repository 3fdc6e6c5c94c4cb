#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/surface/patch.h"

namespace tearline::ground {

/// Lines square to the way round a tube that no plane shows truly, as where it goes on over its
/// foot: the levels of a harmonic turn, straight along the tube and radial on the deck.
class RoundLines {
public:
    /// @param patch  winds round a tube
    /// @param from   [mm] chart place where the turn is 0
    /// @return       nothing where the chart does not reach right round
    static std::optional<RoundLines> of(const surface::Patch& patch, const Vec2& from);

    /// From that place round the tube to itself, the shortest way [mm].
    [[nodiscard]] double girth() const { return girth_; }

    /// How many turns on from there a place of the chart lies [-].
    [[nodiscard]] double turn_at(const Vec2& place) const;

    /// The line a part of a turn on, from one rim of the chart to another; empty beyond its ends.
    [[nodiscard]] std::vector<Vec2> at(double turn) const;

    /// The chart between two such lines.
    [[nodiscard]] Region2 between(double first, double second) const;

private:
    explicit RoundLines(const surface::Patch& patch) : patch_(&patch) {}

    /// The rim of the chart from beside one of its places to beside another, by the way on which
    /// all turns lie between two.
    [[nodiscard]] std::vector<Vec2> along_rim(const Vec2& from, const Vec2& to, double first,
                                              double second) const;
    [[nodiscard]] std::size_t rim_edge_near(const Vec2& place) const;

    const surface::Patch* patch_;
    std::vector<double> turn_;       ///< [-] per vertex
    std::vector<std::int32_t> rim_;  ///< of the chart
    double girth_ = 0.0;
};

}  // namespace tearline::ground
