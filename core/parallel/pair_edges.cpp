#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <unordered_set>

#include "core/parallel/cut_strips.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

/// An edge of a kept triangle along a strip, from the lower to the higher way along it.
struct StripEdge {
    CopyId low, high;
    TriangleId triangle;
};

using StripEdges = std::vector<StripEdge>;

std::uint64_t directed(CopyId a, CopyId b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a.value)) << 32) |
           static_cast<std::uint32_t>(b.value);
}

/// The strip edges that a copy lies on.
std::vector<OnStrip> places(const CutSheets& cut, CopyId copy) {
    if (cut.on[copy]) return {*cut.on[copy]};
    if (cut.corner[copy]) return {cut.corner[copy]->ends[0], cut.corner[copy]->ends[1]};
    return {};
}

/// Free edges of every strip, [strip][side].
PerId<StripId, std::array<StripEdges, 2>> free_edges(const CutSheets& cut, std::size_t strips) {
    const auto on_edge = [&](CopyId copy) { return cut.on[copy] || cut.corner[copy]; };
    std::unordered_set<std::uint64_t> present;
    for (const auto& v : cut.triangle)
        for (int i = 0; i < 3; ++i)
            if (on_edge(v[i]) && on_edge(v[(i + 1) % 3]))
                present.insert(directed(v[i], v[(i + 1) % 3]));
    PerId<StripId, std::array<StripEdges, 2>> edges(strips);
    for (const TriangleId t : cut.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            CopyId a = cut.triangle[t][i];
            CopyId b = cut.triangle[t][(i + 1) % 3];
            if (!on_edge(a) || !on_edge(b) || present.contains(directed(b, a))) continue;
            for (const OnStrip& place : places(cut, a)) {
                const auto there = cut.place_on(b, place.strip, place.side);
                if (!there) continue;
                if (place.along > there->along) std::swap(a, b);
                edges[place.strip][static_cast<std::size_t>(place.side)].push_back({a, b, t});
                break;
            }
        }
    return edges;
}

/// Pairs the two edges of one strip.
class EdgePairing {
public:
    EdgePairing(CutSheets& cut, StripId strip, std::array<StripEdges, 2>& edges)
        : cut_(cut), strip_(strip), edges_(edges) {
        for (const int side : {0, 1}) line_[side] = in_order(side);
    }

    void run() {
        merge_near();
        for (const int side : {0, 1})
            for (const CopyId v : line_[side])
                if (!paired_.contains(v)) add_partner(v, side);
    }

private:
    [[nodiscard]] OnStrip place(int side, CopyId v) const {
        return *cut_.place_on(v, strip_, static_cast<Side>(side));
    }
    [[nodiscard]] double along(int side, CopyId v) const { return place(side, v).along; }

    void slide(CopyId v, double to) {
        if (cut_.on[v]) cut_.on[v]->along = to;  // a corner stays
    }

    /// Vertices of one edge in order along the strip.
    [[nodiscard]] std::vector<CopyId> in_order(int side) const {
        std::vector<CopyId> out;
        for (const StripEdge& e : edges_[side]) {
            out.push_back(e.low);
            out.push_back(e.high);
        }
        std::sort(out.begin(), out.end(), [&](CopyId a, CopyId b) {
            const double da = along(side, a);
            const double db = along(side, b);
            return da != db ? da < db : a < b;
        });
        out.erase(std::unique(out.begin(), out.end()), out.end());
        return out;
    }

    /// Index of the vertex of a side that is nearest along the strip, or -1.
    [[nodiscard]] std::int32_t nearest(int side, double at) const {
        const auto& line = line_[side];
        std::int32_t best = -1;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < line.size(); ++i)
            if (std::abs(along(side, line[i]) - at) < least) {
                least = std::abs(along(side, line[i]) - at);
                best = static_cast<std::int32_t>(i);
            }
        return best;
    }

    /// How far a vertex may slide along the strip.
    [[nodiscard]] double freedom(int side, std::size_t i) const {
        const auto& line = line_[side];
        double gap = std::numeric_limits<double>::infinity();
        if (i > 0) gap = std::min(gap, along(side, line[i]) - along(side, line[i - 1]));
        if (i + 1 < line.size())
            gap = std::min(gap, along(side, line[i + 1]) - along(side, line[i]));
        return tolerance::snap_share * gap;
    }

    void pair(CopyId left, CopyId right) {
        cut_.pairs.push_back({left, right});
        paired_.insert({left, right});
    }

    /// Makes one of two vertices that lie near each other on both sides.
    void merge_near() {
        for (std::size_t i = 0; i < line_[0].size(); ++i) {
            const CopyId l = line_[0][i];
            const std::int32_t j = nearest(1, along(0, l));
            if (j < 0 || nearest(0, along(1, line_[1][j])) != static_cast<std::int32_t>(i))
                continue;
            const CopyId r = line_[1][j];
            const OnStrip on_l = place(0, l);
            const OnStrip on_r = place(1, r);
            const double gap = std::abs(on_l.along - on_r.along);
            const double most =
                on_l.fixed && on_r.fixed ? tolerance::jog : std::min(freedom(0, i), freedom(1, j));
            if (!(gap <= most)) continue;
            const double at = on_l.fixed   ? on_l.along
                              : on_r.fixed ? on_r.along
                                           : 0.5 * (on_l.along + on_r.along);
            slide(l, at);
            slide(r, at);
            pair(l, r);
        }
    }

    /// Splits the edge across from vertex v of a side, if one passes it, and pairs v with the
    /// vertex made there.
    void add_partner(CopyId v, int side) {
        const double at = along(side, v);
        const int across = 1 - side;
        auto& edges = edges_[across];
        for (std::size_t k = 0; k < edges.size(); ++k) {
            const StripEdge edge = edges[k];
            const double low = along(across, edge.low);
            const double high = along(across, edge.high);
            if (!(low < at && at < high)) continue;
            const double share = (at - low) / (high - low);
            const CopyId made =
                cut_.add((1.0 - share) * cut_.chart[edge.low] + share * cut_.chart[edge.high],
                         OnStrip{strip_, static_cast<Side>(across), at, false});
            auto keeps_low = cut_.triangle[edge.triangle];
            auto keeps_high = keeps_low;
            std::replace(keeps_low.begin(), keeps_low.end(), edge.high, made);
            std::replace(keeps_high.begin(), keeps_high.end(), edge.low, made);
            cut_.triangle[edge.triangle] = keeps_low;
            const TriangleId second = cut_.triangle.add(keeps_high);
            cut_.corner_normal.add(cut_.corner_normal[edge.triangle]);
            edges[k] = {edge.low, made, edge.triangle};
            edges.push_back({made, edge.high, second});
            for (StripEdge& other : edges)
                if (other.triangle == edge.triangle && other.low != edge.low)
                    retarget(other, second);
            pair(side == 0 ? v : made, side == 0 ? made : v);
            return;
        }
    }

    /// Finds the triangle of an edge anew after its triangle was split: the second part, or still
    /// the same.
    void retarget(StripEdge& edge, TriangleId second) const {
        const auto& v = cut_.triangle[second];
        const auto has = [&](CopyId x) { return std::find(v.begin(), v.end(), x) != v.end(); };
        if (has(edge.low) && has(edge.high)) edge.triangle = second;
    }

    CutSheets& cut_;
    StripId strip_;
    std::array<StripEdges, 2>& edges_;
    std::array<std::vector<CopyId>, 2> line_;
    std::set<CopyId> paired_;
};

}  // namespace

void pair_edges(CutSheets& cut, std::size_t strips) {
    auto edges = free_edges(cut, strips);
    for (const StripId s : edges.ids()) EdgePairing(cut, s, edges[s]).run();
}

}  // namespace tearline::parallel
