#include "core/surface/cut_strips.h"

#include <algorithm>
#include <limits>
#include <unordered_map>

#include "core/base/tolerances.h"

namespace tearline::surface {
namespace {

std::uint64_t edge_key(std::int32_t a, std::int32_t b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(std::min(a, b))) << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

/// Cuts strips out of sheets: marks what lies in them, snaps what lies near their edges, clips.
class Cutter {
public:
    Cutter(const BaseMesh& base, const CreaseSheets& sheets, const std::vector<TrimStrip>& strips)
        : base_(base), sheets_(sheets), strips_(strips) {
        const std::size_t copies = sheets.origin.size();
        cut_.chart.reserve(copies);
        for (const std::int32_t v : sheets.origin) cut_.chart.push_back(base.chart[v]);
        cut_.on.resize(copies);
        in_.resize(copies);
        rim_.resize(copies, false);
        links_.resize(copies);
        around_.resize(copies);
        for (std::size_t t = 0; t < sheets.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t a = sheets.triangle[t][i];
                around_[a].push_back(static_cast<std::int32_t>(t));
                const std::int32_t b = sheets.triangle[t][(i + 1) % 3];
                links_[a].push_back(b);
                links_[b].push_back(a);
                if (sheets.rim[t][i]) rim_[a] = rim_[b] = true;
            }
    }

    CutSheets run(const std::vector<std::vector<CreaseWay>>& ways) {
        for (std::size_t s = 0; s < strips_.size(); ++s)
            mark_crease(static_cast<std::int32_t>(s), ways[strips_[s].line]);
        spread();
        for (std::size_t s = 0; s < strips_.size(); ++s)
            snap_crease(strips_[s], ways[strips_[s].line]);
        snap_near();
        clip();
        return std::move(cut_);
    }

private:
    struct Mark {
        std::int32_t strip;
        Side side;
    };

    void put_on(std::int32_t copy, const Mark& mark, double along, const Vec2& chart) {
        const bool fixed = cut_.on[copy].has_value() || rim_[copy];
        cut_.on[copy] = OnStrip{mark.strip, mark.side, along, fixed};
        cut_.chart[copy] = chart;
        in_[copy].reset();
    }

    /// Whether a triangle that stays outside the strips would turn over if a copy moved.
    [[nodiscard]] bool turns_over(std::int32_t copy, const Vec2& chart) const {
        for (const std::int32_t t : around_[copy]) {
            std::array<Vec2, 3> before, after;
            bool stays = true;
            for (int i = 0; i < 3; ++i) {
                const std::int32_t v = sheets_.triangle[t][i];
                before[i] = after[i] = cut_.chart[v];
                if (v == copy)
                    after[i] = chart;
                else if (in_[v])
                    stays = false;
            }
            const auto area = [](const std::array<Vec2, 3>& p) {
                return cross2(p[1] - p[0], p[2] - p[0]);
            };
            if (stays && !(area(after) * area(before) > 0.0)) return true;
        }
        return false;
    }

    void mark_crease(std::int32_t s, const std::vector<CreaseWay>& ways) {
        const TrimStrip& strip = strips_[s];
        const CreaseLine& line = sheets_.lines[strip.line];
        for (std::size_t i = strip.first; i <= strip.last; ++i) {
            const CreaseVertex& v = line.vertices[i];
            const auto mark = [&](std::int32_t copy, Side side) {
                seeds_.push_back(copy);
                if (ways[i] == CreaseWay::trimmed)
                    in_[copy] = Mark{s, side};
                else
                    cut_.on[copy] = OnStrip{s, side, v.along, true};
            };
            mark(v.left, Side::left);
            mark(v.right, Side::right);
        }
    }

    /// The strip sides that a marked copy belongs to.
    [[nodiscard]] std::optional<Mark> mark_of(std::int32_t copy) const {
        if (in_[copy]) return in_[copy];
        if (cut_.on[copy]) return Mark{cut_.on[copy]->strip, cut_.on[copy]->side};
        return std::nullopt;
    }

    /// Marks every vertex inside a strip, from the crease outwards; beyond the ends of the crease
    /// from the rim.
    void spread() {
        for (std::size_t c = 0; c < rim_.size(); ++c)
            for (std::size_t s = 0; s < strips_.size() && rim_[c]; ++s)
                for (const Side side : {Side::left, Side::right})
                    if (!mark_of(static_cast<std::int32_t>(c)) &&
                        strips_[s].covers(side, cut_.chart[c])) {
                        in_[c] = Mark{static_cast<std::int32_t>(s), side};
                        seeds_.push_back(static_cast<std::int32_t>(c));
                    }
        for (std::size_t next = 0; next < seeds_.size(); ++next) {
            const Mark mark = *mark_of(seeds_[next]);
            for (const std::int32_t w : links_[seeds_[next]]) {
                if (mark_of(w) || !strips_[mark.strip].covers(mark.side, cut_.chart[w])) continue;
                in_[w] = mark;
                seeds_.push_back(w);
            }
        }
    }

    /// Moves crease vertices to the strip's edges where these are near: no cut is needed then.
    void snap_crease(const TrimStrip& strip, const std::vector<CreaseWay>& ways) {
        const CreaseLine& line = sheets_.lines[strip.line];
        for (std::size_t i = strip.first; i <= strip.last; ++i) {
            if (ways[i] != CreaseWay::trimmed) continue;
            const CreaseVertex& v = line.vertices[i];
            for (const std::int32_t copy : {v.left, v.right}) {
                if (rim_[copy] || !in_[copy]) continue;
                const Vec2 edge = strip.edge_point(in_[copy]->side, v.along);
                double shortest = std::numeric_limits<double>::infinity();
                for (const std::int32_t w : links_[copy])
                    shortest = std::min(shortest, (cut_.chart[w] - cut_.chart[copy]).norm());
                if ((edge - cut_.chart[copy]).norm() < tolerance::snap_share * shortest &&
                    !turns_over(copy, edge))
                    put_on(copy, *in_[copy], v.along, edge);
            }
        }
    }

    [[nodiscard]] TrimStrip::Crossing crossing(std::int32_t in, std::int32_t out) const {
        const Mark& mark = *in_[in];
        const TrimStrip& strip = strips_[mark.strip];
        auto found = strip.cross(mark.side, cut_.chart[in], cut_.chart[out]);
        if (found.share >= 0.0) return found;
        // On the edge up to rounding: the node nearest to the vertex.
        double nearest = std::numeric_limits<double>::infinity();
        for (const StripNode& node : strip.nodes) {
            const double d =
                (strip.edge_point(mark.side, node.along) - cut_.chart[in]).squaredNorm();
            if (d < nearest) {
                nearest = d;
                found = {0.0, node.along};
            }
        }
        return found;
    }

    [[nodiscard]] bool crosses(std::int32_t a, std::int32_t b) const {
        return in_[a] && !in_[b] && !cut_.on[b];
    }

    /// Moves vertices that lie near a cut onto it, each along the edge that takes it there soonest.
    void snap_near() {
        struct Candidate {
            double way = std::numeric_limits<double>::infinity();
            Mark mark{};
            double along = 0.0;
            Vec2 chart{0, 0};
        };
        std::unordered_map<std::int32_t, Candidate> best;
        std::vector<std::int32_t> order;
        const auto offer = [&](std::int32_t copy, const Candidate& candidate) {
            const auto [entry, fresh] = best.try_emplace(copy);
            if (fresh) order.push_back(copy);
            if (candidate.way < entry->second.way) entry->second = candidate;
        };
        for (std::size_t t = 0; t < sheets_.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                std::int32_t a = sheets_.triangle[t][i];
                std::int32_t b = sheets_.triangle[t][(i + 1) % 3];
                if (crosses(b, a)) std::swap(a, b);
                if (!crosses(a, b)) continue;
                const auto found = crossing(a, b);
                const double length = (cut_.chart[b] - cut_.chart[a]).norm();
                const Vec2 point = cut_.chart[a] + found.share * (cut_.chart[b] - cut_.chart[a]);
                const bool rim = sheets_.rim[t][i];
                if (found.share < tolerance::snap_share && (rim || !rim_[a]))
                    offer(a, {found.share * length, *in_[a], found.along, point});
                // A kept point of the outline stays, whatever sliver that leaves.
                const double back = (1.0 - found.share) * length;
                const double most =
                    rim_[b] ? (rim ? tolerance::jog : -1.0) : tolerance::snap_share * length;
                if (back <= most) offer(b, {back, *in_[a], found.along, point});
            }
        for (const std::int32_t copy : order) {
            const Candidate& candidate = best[copy];
            if (turns_over(copy, candidate.chart)) continue;
            put_on(copy, candidate.mark, candidate.along, candidate.chart);
        }
    }

    /// The vertex where an edge leaves its strip, made at the first asking.
    std::int32_t cut_vertex(std::int32_t in, std::int32_t out, bool rim) {
        const auto [entry, fresh] =
            made_.try_emplace(edge_key(in, out), static_cast<std::int32_t>(cut_.chart.size()));
        if (fresh) {
            const auto found = crossing(in, out);
            cut_.chart.emplace_back(cut_.chart[in] +
                                    found.share * (cut_.chart[out] - cut_.chart[in]));
            cut_.on.emplace_back(OnStrip{in_[in]->strip, in_[in]->side, found.along, rim});
        }
        return entry->second;
    }

    void keep(const std::array<std::int32_t, 3>& triangle, std::size_t source) {
        std::array<Vec3, 3> normals;
        for (int k = 0; k < 3; ++k) {
            normals[k] = base_.mesh.corner_normal[source][k];
            for (int i = 0; i < 3; ++i)
                if (sheets_.triangle[source][i] == triangle[k])
                    normals[k] = base_.mesh.corner_normal[source][i];
        }
        cut_.triangle.push_back(triangle);
        cut_.corner_normal.push_back(normals);
    }

    /// Whether a triangle whose corners all lie on a strip's edge lies inside the strip.
    [[nodiscard]] bool inside_strip(const std::array<std::int32_t, 3>& v) const {
        if (!cut_.on[v[0]] || !cut_.on[v[1]] || !cut_.on[v[2]]) return false;
        const OnStrip& on = *cut_.on[v[0]];
        const Vec2 middle = (cut_.chart[v[0]] + cut_.chart[v[1]] + cut_.chart[v[2]]) / 3.0;
        return strips_[on.strip].covers(on.side, middle);
    }

    void clip() {
        for (std::size_t t = 0; t < sheets_.triangle.size(); ++t) {
            const auto& v = sheets_.triangle[t];
            std::vector<std::int32_t> polygon;
            int in = 0;
            for (int i = 0; i < 3; ++i) {
                const std::int32_t a = v[i];
                const std::int32_t b = v[(i + 1) % 3];
                if (in_[a])
                    ++in;
                else
                    polygon.push_back(a);
                if (crosses(a, b)) polygon.push_back(cut_vertex(a, b, sheets_.rim[t][i]));
                if (crosses(b, a)) polygon.push_back(cut_vertex(b, a, sheets_.rim[t][i]));
            }
            if (polygon.size() < 3 || (in == 0 && inside_strip(v))) continue;
            if (polygon.size() == 3) {
                keep({polygon[0], polygon[1], polygon[2]}, t);
                continue;
            }
            const auto diagonal = [&](int i, int j) {
                return (cut_.chart[polygon[i]] - cut_.chart[polygon[j]]).norm();
            };
            const int o = diagonal(0, 2) <= diagonal(1, 3) ? 0 : 1;
            keep({polygon[o], polygon[o + 1], polygon[o + 2]}, t);
            keep({polygon[o], polygon[o + 2], polygon[(o + 3) % 4]}, t);
        }
    }

    const BaseMesh& base_;
    const CreaseSheets& sheets_;
    const std::vector<TrimStrip>& strips_;
    CutSheets cut_;
    std::vector<std::optional<Mark>> in_;
    std::vector<bool> rim_;
    std::vector<std::vector<std::int32_t>> links_;
    std::vector<std::vector<std::int32_t>> around_;  ///< per copy: its triangles
    std::vector<std::int32_t> seeds_;
    std::unordered_map<std::uint64_t, std::int32_t> made_;
};

}  // namespace

CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                     const std::vector<TrimStrip>& strips,
                     const std::vector<std::vector<CreaseWay>>& ways) {
    Cutter cutter(base, sheets, strips);
    CutSheets cut = cutter.run(ways);
    pair_edges(cut, strips.size());
    return cut;
}

}  // namespace tearline::surface
