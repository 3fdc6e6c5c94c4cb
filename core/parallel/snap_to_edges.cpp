#include <algorithm>
#include <limits>
#include <unordered_map>

#include "core/parallel/strip_cut.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

/// Moves vertices near the strips' edges onto them.
class Snapping {
public:
    explicit Snapping(StripCut& cut) : cut_(cut) {}

    void run(const std::vector<std::vector<CreaseWay>>& ways) {
        snap_corners();
        for (const TrimStrip& strip : cut_.strips) snap_crease(strip, ways[strip.line]);
        snap_near();
    }

private:
    void put_on(CopyId copy, const StripSide& mark, double along, const Vec2& chart) {
        const bool fixed = cut_.cut.on[copy].has_value() || cut_.rim[copy];
        cut_.cut.on[copy] = OnStrip{mark.strip, mark.side, along, fixed};
        cut_.cut.chart[copy] = chart;
        cut_.in[copy].reset();
    }

    /// Whether a triangle that stays outside the strips would turn over if a copy moved.
    [[nodiscard]] bool turns_over(CopyId copy, const Vec2& chart) const {
        for (const TriangleId t : cut_.around[copy]) {
            std::array<Vec2, 3> before, after;
            bool stays = true;
            for (int i = 0; i < 3; ++i) {
                const CopyId v = cut_.sheets.triangle[t][i];
                before[i] = after[i] = cut_.cut.chart[v];
                if (v == copy)
                    after[i] = chart;
                else if (cut_.in[v])
                    stays = false;
            }
            const auto area = [](const std::array<Vec2, 3>& p) {
                return cross2(p[1] - p[0], p[2] - p[0]);
            };
            if (stays && !(area(after) * area(before) > 0.0)) return true;
        }
        return false;
    }

    /// Moves the vertices where creases meet to their corners where these are near.
    void snap_corners() {
        for (CornerEnd& corner : cut_.corner_ends.all()) {
            if (!((corner.foot - cut_.cut.chart[corner.copy]).norm() <
                  tolerance::snap_share * cut_.shortest_link(corner.copy)) ||
                turns_over(corner.copy, corner.foot))
                continue;
            cut_.put_on_corner(corner, corner.copy);
        }
    }

    /// Moves crease vertices to the strip's edges where these are near: no cut is needed then.
    void snap_crease(const TrimStrip& strip, const std::vector<CreaseWay>& ways) {
        const CreaseLine& line = cut_.sheets.lines[strip.line];
        for (std::size_t i = strip.first; i <= strip.last; ++i) {
            if (ways[i] != CreaseWay::trimmed) continue;
            const CreaseVertex& v = line.vertices[i];
            if ((strip.start.corner.valid() && v.along <= strip.start.along) ||
                (strip.end.corner.valid() && v.along >= strip.end.along))
                continue;  // they vanish in the corner
            for (const CopyId copy : {v.left, v.right}) {
                if (cut_.rim[copy] || !cut_.in[copy]) continue;
                const Vec2 edge = strip.edge_point(cut_.in[copy]->side, v.along);
                if ((edge - cut_.cut.chart[copy]).norm() <
                        tolerance::snap_share * cut_.shortest_link(copy) &&
                    !turns_over(copy, edge))
                    put_on(copy, *cut_.in[copy], v.along, edge);
            }
        }
    }

    /// Moves a vertex to the corner near the point of a strip's edge that it would be moved to.
    bool snaps_to_corner(CopyId copy, const StripSide& mark, const Vec2& chart) {
        const double reach = tolerance::snap_share * cut_.shortest_link(copy);
        CornerEnd* corner = cut_.corner_ends.near(mark, chart, reach);
        if (!corner || corner->made.valid() || cut_.rim[copy] || cut_.cut.on[copy] ||
            turns_over(copy, corner->foot))
            return false;
        cut_.put_on_corner(*corner, copy);
        return true;
    }

    /// Moves vertices that lie near a cut onto it, each along the edge that takes it there soonest.
    void snap_near() {
        struct Candidate {
            double way = std::numeric_limits<double>::infinity();
            StripSide mark{};
            double along = 0.0;
            Vec2 chart{0, 0};
        };
        std::unordered_map<std::int32_t, Candidate> best;  // by copy
        std::vector<CopyId> order;
        const auto offer = [&](CopyId copy, const Candidate& candidate) {
            const auto [entry, fresh] = best.try_emplace(copy.value);
            if (fresh) order.push_back(copy);
            if (candidate.way < entry->second.way) entry->second = candidate;
        };
        for (const TriangleId t : cut_.sheets.triangle.ids())
            for (int i = 0; i < 3; ++i) {
                CopyId a = cut_.sheets.triangle[t][i];
                CopyId b = cut_.sheets.triangle[t][(i + 1) % 3];
                if (cut_.leaves(b, a)) std::swap(a, b);
                if (!cut_.leaves(a, b)) continue;
                const auto found = cut_.leaving(a, b);
                const double length = (cut_.cut.chart[b] - cut_.cut.chart[a]).norm();
                const Vec2 point =
                    cut_.cut.chart[a] + found.share * (cut_.cut.chart[b] - cut_.cut.chart[a]);
                const bool rim = cut_.sheets.rim[t][i];
                if (found.share < tolerance::snap_share && (rim || !cut_.rim[a]))
                    offer(a, {found.share * length, found.mark, found.along, point});
                // A kept point of the outline stays, whatever sliver that leaves.
                const double back = (1.0 - found.share) * length;
                const double most =
                    cut_.rim[b] ? (rim ? tolerance::jog : -1.0) : tolerance::snap_share * length;
                if (back <= most) offer(b, {back, found.mark, found.along, point});
            }
        for (const CopyId copy : order) {
            const Candidate& candidate = best[copy.value];
            if (snaps_to_corner(copy, candidate.mark, candidate.chart) ||
                turns_over(copy, candidate.chart))
                continue;
            put_on(copy, candidate.mark, candidate.along, candidate.chart);
        }
    }

    StripCut& cut_;
};

}  // namespace

void snap_to_edges(StripCut& cut, const std::vector<std::vector<CreaseWay>>& ways) {
    Snapping(cut).run(ways);
}

}  // namespace tearline::parallel
