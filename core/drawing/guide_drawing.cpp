#include "core/drawing/guide_drawing.h"

#include <algorithm>
#include <variant>

#include "core/base/sheet_words.h"
#include "core/drawing/draw_parts.h"
#include "core/drawing/words_on_piece.h"
#include "core/plane/comes_round.h"
#include "core/plane/nearest_on_line.h"
#include "core/templates/ring_leaders.h"

namespace tearline::drawing {

namespace {

using templates::GrindGuide;

constexpr double tape_overhang = 30.0;  // [mm] of tape lines beyond the footprint
constexpr double words_go_round = 2.0;  // [-] of their length: a ring shorter than that has no name

/// Rings that end at one edge, such as that of cloth kept off a fitting, are cut out of surfaces of
/// their own: by rounding alone they are not the same.
bool are_one_line(const Loop2& a, const Loop2& b) {
    constexpr double apart = 0.1;  // [mm] what no pen on a hull could show
    const auto lies_on = [](const Loop2& loop, const Loop2& other) {
        return std::all_of(loop.begin(), loop.end(), [&](const Vec2& p) {
            return plane::distance_to_loop(other, p) < apart;
        });
    };
    return a == b || (lies_on(a, b) && lies_on(b, a));
}

bool are_one_ring(const std::vector<Loop2>& a, const std::vector<Loop2>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), are_one_line);
}

/// A ring with all that it is: rings that lie on each other are told once, as where the last ply of
/// a stack ends on the scarf's edge.
struct NamedRing {
    std::vector<Loop2> loops;
    std::string words;
};

std::vector<NamedRing> named_rings(const GrindGuide& guide) {
    std::vector<NamedRing> out;
    for (const GrindGuide::Ring& ring : guide.rings) {
        const std::string name = ring.leader.empty() ? ring.text : "";
        const auto same = std::find_if(out.begin(), out.end(), [&](const NamedRing& other) {
            return are_one_ring(other.loops, ring.loops);
        });
        if (same == out.end())
            out.push_back({ring.loops, name});
        else
            same->words += (same->words.empty() || name.empty() ? "" : " = ") + name;
    }
    return out;
}

/// A ring's line about an opening.
struct InnerRing {
    Loop2 loop;
    double depth_mm;
    std::string words;
    bool slopes = true;  ///< nothing of another depth runs along it
};

/// Lines of the slope that rises to an opening. Where the ground is as deep as it is up to the edge
/// all rings end on one line there, which says no depth.
std::vector<InnerRing> slopes_to_openings(const GrindGuide& guide) {
    std::vector<InnerRing> out;
    for (const GrindGuide::Ring& ring : guide.rings)
        for (const Loop2& loop : ring.loops) {
            // Where nothing is ground covers end, and plies at the scarf's edge.
            const bool ground = ring.depth_mm > 0.0 || ring.ply == -1;
            if (!ground || ring.ply < -2 || !plane::comes_round(loop) || !(signed_area(loop) < 0.0))
                continue;
            const auto same = std::find_if(out.begin(), out.end(), [&](const InnerRing& other) {
                return are_one_line(other.loop, loop);
            });
            if (same == out.end())
                out.push_back({loop, ring.depth_mm, ring.text});
            else if (same->depth_mm != ring.depth_mm)
                same->slopes = false;
        }
    std::erase_if(out, [&](const InnerRing& ring) {
        return !ring.slopes || perimeter(ring.loop) < words_go_round * text_width(ring.words, 3.0);
    });
    return out;
}

bool is_edge_of(const Region2& region, const Loop2& loop) {
    return loop == region.outer ||
           std::find(region.holes.begin(), region.holes.end(), loop) != region.holes.end();
}

/// The leader line of a ring and its name at the end of it.
void add_leader(Drawing& drawing, const GrindGuide::Ring& ring) {
    if (ring.leader.empty()) return;
    add_line(drawing, Role::datum, ring.leader);
    const TextBox name = templates::leader_text_box(ring);
    drawing.texts.push_back({name.middle - name.up, 2.0 * name.up, ring.text});
}

/// How far a loop reaches from the datum along a way: to the last place that the way crosses.
double reach_along(const Vec2& datum, const Vec2& way, const Loop2& loop) {
    double reach = 0.0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 a = loop[j] - datum, b = loop[i] - datum;
        const double side_a = cross2(way, a), side_b = cross2(way, b);
        if ((side_a > 0.0) == (side_b > 0.0)) continue;
        reach = std::max(reach, (a + side_a / (side_a - side_b) * (b - a)).dot(way));
    }
    return reach;
}

/// A line to lay a tape along, through the datum and out beyond the footprint. What it points to
/// stands beside its arrow.
struct TapeLine {
    Vec2 from, to;
};

/// Along the arrows of the guide: bow and up, on a transom starboard.
std::vector<TapeLine> tape_lines(const GrindGuide& guide, const Vec2& datum) {
    std::vector<TapeLine> lines;
    for (const templates::Mark& mark : guide.marks) {
        const auto* arrow = std::get_if<templates::Arrow>(&mark);
        // Of two arrows that are one the first is named for both.
        if (!arrow || arrow->text.empty()) continue;
        const auto end = [&](const Vec2& out) -> Vec2 {
            return datum + (reach_along(datum, out, guide.footprint.outer) + tape_overhang) * out;
        };
        const Vec2 way = (arrow->tip - arrow->tail).normalized();
        lines.push_back({end(-way), end(way)});
    }
    return lines;
}

/// Says what the guide is, of which job, and which face it shows: where it stands on nothing, else
/// below the guide.
void add_guide_words(Drawing& drawing, const templates::TemplateSet& set, const Look& look) {
    std::vector<std::string> lines = guide_words(set.title, set.job_id);
    if (!set.part.empty()) lines.insert(lines.begin() + 1, in_capitals(set.part));
    std::vector<std::string> widest = lines;
    if (look.mirrored) widest.emplace_back(mirrored_face_words);
    std::vector<double> heights = {6.0, 5.0, 4.0, 3.5, 3.0, 2.5, 2.2};  // [mm]
    // The lines for the tape leave less room.
    if (look.on_pages) heights.insert(heights.end(), {1.8, 1.5});
    add_block(drawing, set.guide.footprint, lines, widest, heights);
}

}  // namespace

Drawing guide_drawing(const templates::TemplateSet& set, const Look& look) {
    const GrindGuide& guide = set.guide;
    Drawing drawing;
    drawing.name = templates::name_in(set, "grind guide");
    drawing.title = templates::name_in(set, "Grind guide");
    drawing.line_word = "GRIND";
    drawing.up_on_top = true;
    if (guide.footprint.outer.empty()) return drawing;
    add_region(drawing, Role::cut, Role::hole, guide.footprint);
    for (const templates::Mark& mark : guide.marks) add_mark(drawing, mark);
    const std::vector<NamedRing> rings = named_rings(guide);
    for (const NamedRing& ring : rings)
        for (const Loop2& loop : ring.loops)
            if (!is_edge_of(guide.footprint, loop))
                add_line(drawing, Role::ring, loop, plane::comes_round(loop));
    for (const GrindGuide::Ring& ring : guide.rings) add_leader(drawing, ring);
    const Vec2 datum = templates::datum_of(guide.marks).value_or(Vec2(0, 0));
    const std::vector<TapeLine> tapes =
        look.on_pages ? tape_lines(guide, datum) : std::vector<TapeLine>();
    for (const TapeLine& tape : tapes) add_arrow(drawing, Role::tape, tape.from, tape.to);

    WordPlacer placer(drawing);
    name_marks(placer, guide.marks, look.on_pages);
    for (const TapeLine& tape : tapes)
        for (const Vec2& end : {tape.from, tape.to}) placer.along_end(datum, end, "TAPE");
    for (const NamedRing& ring : rings) {
        if (ring.words.empty()) continue;
        if (look.on_pages) {
            for (const Loop2& loop : ring.loops) placer.along(loop, ring.words, 2.0 * page_spacing);
            continue;
        }
        // On the ring itself, not on a sliver that the hull's end cuts off it.
        const auto longest = std::max_element(
            ring.loops.begin(), ring.loops.end(),
            [](const Loop2& a, const Loop2& b) { return perimeter(a) < perimeter(b); });
        if (longest != ring.loops.end()) placer.put(beside_edge(*longest, ring.words));
    }
    if (!look.on_pages)
        for (const InnerRing& ring : slopes_to_openings(guide))
            if (!is_edge_of(guide.footprint, ring.loop))
                placer.put(beside_edge(ring.loop, ring.words));
    add_guide_words(drawing, set, look);
    if (look.mirrored) turn_over(drawing, !look.on_pages);
    return drawing;
}

}  // namespace tearline::drawing
