#include "core/drawing/drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/sheet_words.h"
#include "core/drawing/place_words.h"
#include "core/drawing/words_on_piece.h"

namespace tearline::drawing {

namespace {

/// Says which face a turned sheet shows, in the line that said it before: in letters as large as
/// stand clear there, and no wider than that line where nothing does.
void say_turned_face(Drawing& drawing) {
    const auto said =
        std::find_if(drawing.texts.begin(), drawing.texts.end(),
                     [](const Drawing::Text& text) { return text.text == face_words; });
    if (said == drawing.texts.end()) return;
    Drawing::Text face = *said;
    drawing.texts.erase(said);
    // A backing lies behind the hole: which of its faces meets the hull hangs on who looks.
    const bool behind =
        std::any_of(drawing.texts.begin(), drawing.texts.end(),
                    [](const Drawing::Text& text) { return text.text == "BACKING"; });
    face.text = behind ? "MIRRORED: THIS FACE AWAY FROM YOU" : mirrored_face_words;
    const Vec2 up = face.up;
    std::vector<WordPlacer::Place> places;
    for (const double share :
         {1.0, 0.9, 0.8, letters_width(face_words) / letters_width(face.text)}) {
        face.up = share * up;
        places.push_back({face, 1.0 - share});
    }
    WordPlacer(drawing).put(places);
}

/// The middle of the base line, and from there to its right end.
struct BaseLine {
    Vec2 middle, half;
};

BaseLine base_line(const Drawing::Text& text) {
    const Vec2 half = -0.5 * width_of(text) * turned_left(text.up.normalized());
    return {text.from_left ? Vec2(text.base + half) : text.base, half};
}

}  // namespace

bool is_parted(Role role) {
    return role == Role::tear || role == Role::cut || role == Role::hole ||
           role == Role::torn_hole || role == Role::relief;
}

double width_of(const Drawing::Text& text) {
    return text.width > 0.0 ? text.width : text_width(text.text, text.up.norm());
}

TextBox box_of(const Drawing::Text& text) {
    // From under a comma to the top of a bracket, and some paper at both ends.
    constexpr double below = 0.25, above = 1.1, margin = 0.4;
    const auto [middle, half] = base_line(text);
    const Vec2 along = half.normalized();
    return {middle + 0.5 * (above - below) * text.up, half + margin * text.up.norm() * along,
            0.5 * (above + below) * text.up};
}

plane::Box extent(const Drawing& drawing) {
    std::vector<Vec2> points;
    for (const Drawing::Line& line : drawing.lines)
        points.insert(points.end(), line.points.begin(), line.points.end());
    for (const Drawing::Text& text : drawing.texts) {
        const auto [middle, half] = base_line(text);
        for (const Vec2& p : {Vec2(middle - half), Vec2(middle + half)}) {
            points.push_back(p - 0.3 * text.up);
            points.push_back(p + text.up);
        }
    }
    return plane::box_round(points);
}

Drawing placed(Drawing drawing, double turn_degrees, const Vec2& move) {
    const double a = turn_degrees * std::numbers::pi / 180.0;
    const double c = std::cos(a), s = std::sin(a);
    const auto turned = [&](const Vec2& p) {
        return Vec2(c * p.x() - s * p.y(), s * p.x() + c * p.y());
    };
    for (Drawing::Line& line : drawing.lines)
        for (Vec2& p : line.points) p = turned(p) + move;
    for (Drawing::Text& text : drawing.texts) {
        text.base = turned(text.base) + move;
        text.up = turned(text.up);
    }
    return drawing;
}

void turn_over(Drawing& drawing, bool say_it) {
    const auto flip = [](Vec2& p) { p.x() = -p.x(); };
    for (Drawing::Line& line : drawing.lines) {
        for (Vec2& p : line.points) flip(p);
        // Outer edges stay counter-clockwise and holes clockwise.
        if (line.closed) std::reverse(line.points.begin(), line.points.end());
    }
    for (Drawing::Text& text : drawing.texts) {
        flip(text.base);
        flip(text.up);
    }
    say_turned_face(drawing);
    drawing.mirrored = true;
    drawing.line_word = "MIRRORED " + drawing.line_word;
    if (!say_it) return;
    const WordsPlace place =
        words_place(drawing, {"MIRRORED"}, {12.0, 9.0, 7.0, 5.0, 4.0, 3.0, 2.5});
    const double half = 0.5 * words_width("MIRRORED", place.height);
    drawing.texts.push_back(
        {place.low + Vec2(half, 0.0), Vec2(0, place.height), "MIRRORED", false});
}

std::vector<Vec2> row_places(const std::vector<Drawing>& drawings, double gap) {
    std::vector<Vec2> places;
    double x = gap;
    for (const Drawing& drawing : drawings) {
        const plane::Box box = extent(drawing);
        places.emplace_back(x - box.low.x(), gap - box.low.y());
        x += box.high.x() - box.low.x() + gap;
    }
    return places;
}

}  // namespace tearline::drawing
