#include "core/drawing/words_on_piece.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/text_room.h"
#include "core/base/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/plane/thin_line.h"

namespace tearline::drawing {

namespace {

using plane::Box;

/// What words keep clear of.
struct Ground {
    Region2 inside;                        ///< coarse
    std::vector<std::vector<Vec2>> lines;  ///< coarse, closed ones with their first point again
    std::vector<Box> words;
};

Box upright_box(const Drawing::Text& text) {
    const Vec2 half =
        -0.5 * text_width(text.text, text.up.norm()) * turned_left(text.up.normalized());
    return plane::box_round({text.base - half - 0.3 * text.up, text.base + half - 0.3 * text.up,
                             text.base - half + text.up, text.base + half + text.up});
}

Ground ground_of(const Drawing& drawing, const Region2& inside) {
    Ground ground;
    ground.inside.outer = plane::thinned(inside.outer, tolerance::label_room);
    for (const Loop2& hole : inside.holes)
        ground.inside.holes.push_back(plane::thinned(hole, tolerance::label_room));
    for (const Drawing::Line& line : drawing.lines) {
        std::vector<Vec2> points =
            line.closed ? plane::thinned(line.points, tolerance::label_room) : line.points;
        if (line.closed && !points.empty()) points.push_back(points.front());
        ground.lines.push_back(std::move(points));
    }
    for (const Drawing::Text& text : drawing.texts) ground.words.push_back(upright_box(text));
    return ground;
}

bool is_free(const Box& box, const Ground& ground) {
    for (const Box& other : ground.words)
        if (box.meets(other)) return false;
    if (!contains(ground.inside, 0.5 * (box.low + box.high))) return false;
    for (const auto& line : ground.lines) {
        if (line.size() == 1 && Box{line[0], line[0]}.meets(box)) return false;
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            if (plane::meets(box, line[i], line[i + 1])) return false;
    }
    return true;
}

std::optional<Box> free_box(const Ground& ground, const Vec2& size) {
    return plane::nearest_free(plane::box_round(ground.inside.outer), size, 32,
                               [&](const Box& box) { return is_free(box, ground); });
}

/// What the outer edges and openings of a drawing leave.
Region2 edge_of(const Drawing& drawing) {
    Region2 edge;
    for (const Drawing::Line& line : drawing.lines) {
        if (line.role == Role::tear || line.role == Role::cut) edge.outer = line.points;
        if (line.role == Role::hole || line.role == Role::torn_hole)
            edge.holes.push_back(line.points);
    }
    return edge;
}

WordsPlace words_place(const Drawing& drawing, const Region2& inside,
                       const std::vector<std::string>& lines, const std::vector<double>& heights) {
    const Ground ground = ground_of(drawing, inside);
    Vec2 size(0, 0);
    for (const double height : heights) {
        size = Vec2(0.0, height * (words_pitch * static_cast<double>(lines.size() - 1) + 1.3));
        for (const std::string& line : lines)
            size.x() = std::max(size.x(), words_width(line, height));
        if (const auto box = free_box(ground, size))
            return {box->low + Vec2(1.0, 1.0 + 0.3 * height), height, true};
    }
    const Box all = plane::box_round(ground.inside.outer);
    return {0.5 * (all.low + all.high) - 0.5 * size, heights.back(), false};
}

}  // namespace

double words_width(const std::string& line, double height) {
    constexpr double bold = 1.2;  // letters of any face, bold ones too
    return bold * height * letters_width(line);
}

WordsPlace words_place(const Drawing& drawing, const std::vector<std::string>& lines,
                       const std::vector<double>& heights) {
    return words_place(drawing, edge_of(drawing), lines, heights);
}

std::optional<plane::Box> free_box(const Drawing& drawing, const Region2& inside,
                                   const Vec2& size) {
    return free_box(ground_of(drawing, inside), size);
}

void add_block(Drawing& drawing, const Region2& inside, const std::vector<std::string>& lines,
               const std::vector<std::string>& widest, const std::vector<double>& heights) {
    constexpr double below = 4.0;  // [mm]
    WordsPlace place = words_place(drawing, inside, widest, heights);
    double width = 0.0;
    for (const std::string& line : widest) width = std::max(width, words_width(line, place.height));
    if (!place.free) {
        const plane::Box all = extent(drawing);
        place.low = Vec2(
            0.5 * (all.low.x() + all.high.x() - width),
            all.low.y() - below - words_pitch * place.height * static_cast<double>(lines.size()));
    }
    Vec2 base = place.low + Vec2(0.5 * width, 0.0);
    base.y() += words_pitch * place.height * static_cast<double>(widest.size() - 1);
    for (const std::string& line : lines) {
        drawing.texts.push_back({base, Vec2(0, place.height), line, false});
        base.y() -= words_pitch * place.height;
    }
}

}  // namespace tearline::drawing
