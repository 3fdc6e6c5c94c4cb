#include "core/parallel/cut_strips.h"

#include <algorithm>
#include <limits>
#include <unordered_map>
#include <unordered_set>

#include "core/parallel/corner_ends.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

std::uint64_t edge_key(std::int32_t a, std::int32_t b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(std::min(a, b))) << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

std::uint64_t directed_key(std::int32_t a, std::int32_t b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a)) << 32) |
           static_cast<std::uint32_t>(b);
}

/// Cuts strips out of sheets: marks what lies in them, snaps what lies near their edges, clips.
class Cutter {
public:
    Cutter(const BaseMesh& base, const CreaseSheets& sheets, const std::vector<TrimStrip>& strips,
           const std::vector<TrimCorner>& corners)
        : base_(base),
          sheets_(sheets),
          strips_(strips),
          corners_(corners),
          corner_ends_(sheets, strips, corners) {
        const std::size_t copies = sheets.origin.size();
        cut_.chart.reserve(copies);
        for (const std::int32_t v : sheets.origin) cut_.chart.push_back(base.chart[v]);
        cut_.on.resize(copies);
        cut_.corner.resize(copies);
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
        snap_corners();
        for (std::size_t s = 0; s < strips_.size(); ++s)
            snap_crease(strips_[s], ways[strips_[s].line]);
        snap_near();
        clip();
        fill_corners();
        return std::move(cut_);
    }

private:
    [[nodiscard]] bool on_edge(std::int32_t copy) const {
        return cut_.on[copy] || cut_.corner[copy];
    }

    void put_on(std::int32_t copy, const StripSide& mark, double along, const Vec2& chart) {
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
                if (ways[i] == CreaseWay::trimmed || ends_in_corner(strip, i))
                    in_[copy] = StripSide{s, side};
                else
                    cut_.on[copy] = OnStrip{s, side, v.along, true};
            };
            mark(v.left, Side::left);
            mark(v.right, Side::right);
        }
    }

    [[nodiscard]] bool ends_in_corner(const TrimStrip& strip, std::size_t i) const {
        return (strip.start.corner >= 0 && i == 0) ||
               (strip.end.corner >= 0 && i + 1 == sheets_.lines[strip.line].vertices.size());
    }

    /// The strip sides that a marked copy belongs to.
    [[nodiscard]] std::optional<StripSide> mark_of(std::int32_t copy) const {
        if (in_[copy]) return in_[copy];
        if (cut_.on[copy]) return StripSide{cut_.on[copy]->strip, cut_.on[copy]->side};
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
                        in_[c] = StripSide{static_cast<std::int32_t>(s), side};
                        seeds_.push_back(static_cast<std::int32_t>(c));
                    }
        for (std::size_t next = 0; next < seeds_.size(); ++next) {
            const StripSide mark = *mark_of(seeds_[next]);
            for (const StripSide& m : corner_ends_.with_mates(mark))
                for (const std::int32_t w : links_[seeds_[next]]) {
                    if (mark_of(w) || !strips_[m.strip].covers(m.side, cut_.chart[w])) continue;
                    in_[w] = m;
                    seeds_.push_back(w);
                }
        }
    }

    /// Shortest chart edge round a copy.
    [[nodiscard]] double shortest_link(std::int32_t copy) const {
        double shortest = std::numeric_limits<double>::infinity();
        for (const std::int32_t w : links_[copy])
            shortest = std::min(shortest, (cut_.chart[w] - cut_.chart[copy]).norm());
        return shortest;
    }

    /// Moves the vertices where creases meet to their corners where these are near.
    void snap_corners() {
        for (CornerEnd& corner : corner_ends_.all()) {
            if (!((corner.foot - cut_.chart[corner.copy]).norm() <
                  tolerance::snap_share * shortest_link(corner.copy)) ||
                turns_over(corner.copy, corner.foot))
                continue;
            put_on_corner(corner, corner.copy);
        }
    }

    /// Moves crease vertices to the strip's edges where these are near: no cut is needed then.
    void snap_crease(const TrimStrip& strip, const std::vector<CreaseWay>& ways) {
        const CreaseLine& line = sheets_.lines[strip.line];
        for (std::size_t i = strip.first; i <= strip.last; ++i) {
            if (ways[i] != CreaseWay::trimmed) continue;
            const CreaseVertex& v = line.vertices[i];
            if ((strip.start.corner >= 0 && v.along <= strip.start.along) ||
                (strip.end.corner >= 0 && v.along >= strip.end.along))
                continue;  // they vanish in the corner
            for (const std::int32_t copy : {v.left, v.right}) {
                if (rim_[copy] || !in_[copy]) continue;
                const Vec2 edge = strip.edge_point(in_[copy]->side, v.along);
                if ((edge - cut_.chart[copy]).norm() <
                        tolerance::snap_share * shortest_link(copy) &&
                    !turns_over(copy, edge))
                    put_on(copy, *in_[copy], v.along, edge);
            }
        }
    }

    struct Crossing {
        StripSide mark;
        double share;  ///< [-] way along the edge
        double along;  ///< [mm]
    };

    /// Where an edge leaves the strips for good.
    [[nodiscard]] Crossing crossing(std::int32_t in, std::int32_t out) const {
        Crossing best{*in_[in], -1.0, 0.0};
        for (const StripSide& mark : corner_ends_.with_mates(*in_[in])) {
            const auto found =
                strips_[mark.strip].cross(mark.side, cut_.chart[in], cut_.chart[out]);
            if (found.share > best.share) best = {mark, found.share, found.along};
        }
        if (best.share >= 0.0) return best;
        // On the edge up to rounding: the node nearest to the vertex.
        const TrimStrip& strip = strips_[best.mark.strip];
        double nearest = std::numeric_limits<double>::infinity();
        for (const StripNode& node : strip.nodes) {
            const double d =
                (strip.edge_point(best.mark.side, node.along) - cut_.chart[in]).squaredNorm();
            if (d < nearest) {
                nearest = d;
                best.share = 0.0;
                best.along = node.along;
            }
        }
        return best;
    }

    [[nodiscard]] bool crosses(std::int32_t a, std::int32_t b) const {
        return in_[a] && !in_[b] && !on_edge(b);
    }

    void put_on_corner(CornerEnd& corner, std::int32_t copy) {
        cut_.corner[copy] = corner.on;
        cut_.on[copy].reset();
        cut_.chart[copy] = corner.foot;
        in_[copy].reset();
        corner.made = copy;
    }

    /// Moves a vertex to the corner near the point of a strip's edge that it would be moved to.
    bool snaps_to_corner(std::int32_t copy, const StripSide& mark, const Vec2& chart) {
        const double reach = tolerance::snap_share * shortest_link(copy);
        CornerEnd* corner = corner_ends_.near(mark, chart, reach);
        if (!corner || corner->made >= 0 || rim_[copy] || cut_.on[copy] ||
            turns_over(copy, corner->foot))
            return false;
        put_on_corner(*corner, copy);
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
                    offer(a, {found.share * length, found.mark, found.along, point});
                // A kept point of the outline stays, whatever sliver that leaves.
                const double back = (1.0 - found.share) * length;
                const double most =
                    rim_[b] ? (rim ? tolerance::jog : -1.0) : tolerance::snap_share * length;
                if (back <= most) offer(b, {back, found.mark, found.along, point});
            }
        for (const std::int32_t copy : order) {
            const Candidate& candidate = best[copy];
            if (snaps_to_corner(copy, candidate.mark, candidate.chart) ||
                turns_over(copy, candidate.chart))
                continue;
            put_on(copy, candidate.mark, candidate.along, candidate.chart);
        }
    }

    /// The vertex where an edge leaves its strip, made at the first asking.
    std::int32_t cut_vertex(std::int32_t in, std::int32_t out, bool rim) {
        const auto known = made_.find(edge_key(in, out));
        if (known != made_.end()) return known->second;
        const auto found = crossing(in, out);
        const Vec2 point = cut_.chart[in] + found.share * (cut_.chart[out] - cut_.chart[in]);
        std::int32_t made = static_cast<std::int32_t>(cut_.chart.size());
        if (CornerEnd* corner = corner_ends_.near(found.mark, point, tolerance::jog)) {
            made = standing_on(*corner);
        } else {
            cut_.chart.push_back(point);
            cut_.on.emplace_back(OnStrip{found.mark.strip, found.mark.side, found.along, rim});
            cut_.corner.emplace_back();
        }
        made_.emplace(edge_key(in, out), made);
        return made;
    }

    void keep(const std::array<std::int32_t, 3>& triangle, std::size_t source) {
        if (triangle[0] == triangle[1] || triangle[1] == triangle[2] || triangle[2] == triangle[0])
            return;  // two of its edges leave the strips in one corner
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
        if (!on_edge(v[0]) || !on_edge(v[1]) || !on_edge(v[2])) return false;
        const Vec2 middle = (cut_.chart[v[0]] + cut_.chart[v[1]] + cut_.chart[v[2]]) / 3.0;
        const OnStrip& on = cut_.on[v[0]] ? *cut_.on[v[0]] : cut_.corner[v[0]]->ends[0];
        for (const StripSide& mark : corner_ends_.with_mates({on.strip, on.side}))
            if (strips_[mark.strip].covers(mark.side, middle)) return true;
        return false;
    }

    /// Fills what clipping leaves between the edges of two strips and the corner where they end.
    void fill_corners() {
        std::unordered_set<std::uint64_t> present;
        for (const auto& v : cut_.triangle)
            for (int i = 0; i < 3; ++i)
                if (cut_.on[v[i]] && cut_.on[v[(i + 1) % 3]])
                    present.insert(directed_key(v[i], v[(i + 1) % 3]));
        const std::size_t count = cut_.triangle.size();
        for (std::size_t t = 0; t < count; ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t a = cut_.triangle[t][i];
                const std::int32_t b = cut_.triangle[t][(i + 1) % 3];
                if (!cut_.on[a] || !cut_.on[b] || present.contains(directed_key(b, a))) continue;
                const StripSide at_a{cut_.on[a]->strip, cut_.on[a]->side};
                const StripSide at_b{cut_.on[b]->strip, cut_.on[b]->side};
                if (at_a == at_b) continue;
                CornerEnd* corner = corner_ends_.between(at_a, at_b);
                if (!corner || corner->made == corner->copy) continue;
                cut_.triangle.push_back({b, a, standing_on(*corner)});
                const Vec3& normal =
                    corners_[corner->on.corner].feet[corner->on.foot].foot.point.normal;
                cut_.corner_normal.push_back({normal, normal, normal});
            }
    }

    /// The copy on a corner, made at the first asking.
    std::int32_t standing_on(CornerEnd& corner) {
        if (corner.made < 0) {
            corner.made = static_cast<std::int32_t>(cut_.chart.size());
            cut_.chart.push_back(corner.foot);
            cut_.on.emplace_back();
            cut_.corner.emplace_back(corner.on);
        }
        return corner.made;
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
    const std::vector<TrimCorner>& corners_;
    CornerEnds corner_ends_;
    CutSheets cut_;
    std::vector<std::optional<StripSide>> in_;
    std::vector<bool> rim_;
    std::vector<std::vector<std::int32_t>> links_;
    std::vector<std::vector<std::int32_t>> around_;  ///< per copy: its triangles
    std::vector<std::int32_t> seeds_;
    std::unordered_map<std::uint64_t, std::int32_t> made_;
};

}  // namespace

std::optional<OnStrip> CutSheets::place_on(std::int32_t copy, std::int32_t strip, Side side) const {
    const auto here = [&](const OnStrip& place) {
        return place.strip == strip && place.side == side;
    };
    if (on[copy] && here(*on[copy])) return on[copy];
    if (corner[copy])
        for (const OnStrip& end : corner[copy]->ends)
            if (here(end)) return end;
    return std::nullopt;
}

CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                     const std::vector<TrimStrip>& strips,
                     const std::vector<std::vector<CreaseWay>>& ways,
                     const std::vector<TrimCorner>& corners) {
    Cutter cutter(base, sheets, strips, corners);
    CutSheets cut = cutter.run(ways);
    pair_edges(cut, strips.size());
    return cut;
}

}  // namespace tearline::parallel
