#include "core/drawing/words_on_piece.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/text_room.h"
#include "core/base/tolerances.h"
#include "core/plane/offset_region.h"

namespace tearline::drawing {

namespace {

using plane::Box;

struct Piece {
    Loop2 edge;                            ///< coarse
    std::vector<Loop2> holes;              ///< coarse
    std::vector<std::vector<Vec2>> lines;  ///< coarse, closed ones with their first point again
    std::vector<Box> words;
};

Box box_of(const Drawing::Text& text) {
    const Vec2 half =
        -0.5 * text_width(text.text, text.up.norm()) * turned_left(text.up.normalized());
    return plane::box_round({text.base - half - 0.3 * text.up, text.base + half - 0.3 * text.up,
                             text.base - half + text.up, text.base + half + text.up});
}

Piece coarse_piece(const Drawing& drawing) {
    Piece piece;
    for (const Drawing::Line& line : drawing.lines) {
        std::vector<Vec2> points =
            line.closed ? plane::thinned(line.points, tolerance::label_room) : line.points;
        if (line.role == Role::tear || line.role == Role::cut) piece.edge = points;
        if (line.role == Role::hole) piece.holes.push_back(points);
        if (line.closed && !points.empty()) points.push_back(points.front());
        piece.lines.push_back(std::move(points));
    }
    for (const Drawing::Text& text : drawing.texts) piece.words.push_back(box_of(text));
    return piece;
}

bool is_free(const Box& box, const Piece& piece) {
    for (const Box& other : piece.words)
        if (box.meets(other)) return false;
    const Vec2 middle = 0.5 * (box.low + box.high);
    if (!contains(piece.edge, middle)) return false;
    for (const Loop2& hole : piece.holes)
        if (contains(hole, middle)) return false;
    for (const auto& line : piece.lines) {
        if (line.size() == 1 && Box{line[0], line[0]}.meets(box)) return false;
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            if (plane::meets(box, line[i], line[i + 1])) return false;
    }
    return true;
}

std::optional<Box> nearest_free(const Piece& piece, const Vec2& size) {
    return plane::nearest_free(plane::box_round(piece.edge), size, 32,
                               [&](const Box& box) { return is_free(box, piece); });
}

}  // namespace

double words_width(const std::string& line, double height) {
    constexpr double bold = 1.2;  // letters of any face, bold ones too
    return bold * height * letters_width(line);
}

WordsPlace words_place(const Drawing& drawing, const std::vector<std::string>& lines,
                       const std::vector<double>& heights) {
    const Piece piece = coarse_piece(drawing);
    Vec2 size(0, 0);
    for (const double height : heights) {
        size = Vec2(0.0, height * (words_pitch * static_cast<double>(lines.size() - 1) + 1.3));
        for (const std::string& line : lines)
            size.x() = std::max(size.x(), words_width(line, height));
        if (const auto box = nearest_free(piece, size))
            return {box->low + Vec2(1.0, 1.0 + 0.3 * height), height, true};
    }
    const Box all = plane::box_round(piece.edge);
    return {0.5 * (all.low + all.high) - 0.5 * size, heights.back(), false};
}

}  // namespace tearline::drawing
