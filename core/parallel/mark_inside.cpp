#include <array>

#include "core/base/tolerances.h"
#include "core/parallel/strip_cut.h"
#include "core/plane/box.h"

namespace tearline::parallel {
namespace {

/// Marks what lies in strips.
class Marking {
public:
    explicit Marking(StripCut& cut) : cut_(cut) {
        for (const TrimStrip& strip : cut_.strips)
            boxes_.add({box_of(strip, Side::left), box_of(strip, Side::right)});
    }

    void run(const std::vector<std::vector<CreaseWay>>& ways) {
        for (const StripId s : cut_.strips.ids()) mark_crease(s, ways[cut_.strips[s].line]);
        spread();
    }

private:
    /// What a side of a strip cannot cover a place outside of.
    static plane::Box box_of(const TrimStrip& strip, Side side) {
        std::vector<Vec2> points;
        for (const StripNode& node : strip.nodes) {
            points.push_back(node.centre);
            points.push_back(edge_of(node, side));
        }
        return plane::box_round(points, tolerance::chart_merge);
    }

    [[nodiscard]] bool covers(const StripSide& mark, const Vec2& point) const {
        const plane::Box& box = boxes_[mark.strip][static_cast<std::size_t>(mark.side)];
        return box.touches({point, point}) && cut_.strips[mark.strip].covers(mark.side, point);
    }

    void mark_crease(StripId s, const std::vector<CreaseWay>& ways) {
        const TrimStrip& strip = cut_.strips[s];
        const CreaseLine& line = cut_.sheets.lines[strip.line];
        for (std::size_t i = strip.first; i <= strip.last; ++i) {
            const CreaseVertex& v = line.vertices[i];
            const auto mark = [&](CopyId copy, Side side) {
                seeds_.push_back(copy);
                if (ways[i] == CreaseWay::trimmed || ends_in_corner(strip, i))
                    cut_.in[copy] = StripSide{s, side};
                else
                    cut_.cut.on[copy] = OnStrip{s, side, v.along, true};
            };
            mark(v.left, Side::left);
            mark(v.right, Side::right);
        }
    }

    [[nodiscard]] bool ends_in_corner(const TrimStrip& strip, std::size_t i) const {
        return (strip.start.corner.valid() && i == 0) ||
               (strip.end.corner.valid() && i + 1 == cut_.sheets.lines[strip.line].vertices.size());
    }

    /// The strip sides that a marked copy belongs to.
    [[nodiscard]] std::optional<StripSide> mark_of(CopyId copy) const {
        if (cut_.in[copy]) return cut_.in[copy];
        if (cut_.cut.on[copy]) return StripSide{cut_.cut.on[copy]->strip, cut_.cut.on[copy]->side};
        return std::nullopt;
    }

    /// Marks every vertex inside a strip, from the crease outwards; beyond the ends of the crease
    /// from the rim.
    void spread() {
        for (const CopyId c : cut_.rim.ids()) {
            if (!cut_.rim[c]) continue;
            for (const StripId s : cut_.strips.ids())
                for (const Side side : {Side::left, Side::right})
                    if (!mark_of(c) && covers({s, side}, cut_.cut.chart[c])) {
                        cut_.in[c] = StripSide{s, side};
                        seeds_.push_back(c);
                    }
        }
        for (std::size_t next = 0; next < seeds_.size(); ++next) {
            const StripSide mark = *mark_of(seeds_[next]);
            for (const StripSide& m : cut_.corner_ends.with_mates(mark))
                for (const CopyId w : cut_.links[seeds_[next]]) {
                    if (mark_of(w) || !covers(m, cut_.cut.chart[w])) continue;
                    cut_.in[w] = m;
                    seeds_.push_back(w);
                }
        }
    }

    StripCut& cut_;
    PerId<StripId, std::array<plane::Box, 2>> boxes_;
    std::vector<CopyId> seeds_;
};

}  // namespace

void mark_inside(StripCut& cut, const std::vector<std::vector<CreaseWay>>& ways) {
    Marking(cut).run(ways);
}

}  // namespace tearline::parallel
