#include "core/templates/label_template.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>

#include "core/base/overloaded.h"
#include "core/base/sheet_words.h"
#include "core/base/text_room.h"
#include "core/base/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/plane/room.h"
#include "core/plane/thin_line.h"
#include "core/templates/label_extent.h"

namespace tearline::templates {

namespace {

constexpr std::array<double, 7> letter_heights = {6.0, 5.0, 4.0, 3.5, 3.0, 2.5, 2.2};  ///< [mm]

// The small drawing of the torn band, by letter height.
constexpr double sketch_width = 26.0, sketch_height = 5.6;

struct Block {
    std::vector<Words::Line> lines;
    std::size_t warnings_from = 0;
    bool torn_band = false;

    [[nodiscard]] Vec2 size(double height) const {
        Vec2 size(0, 0);
        for (const Words::Line& line : lines) {
            size.x() = std::max(size.x(), text_width(line.text, height * line.size));
            size.y() += line_pitch * height * line.size;
        }
        if (torn_band)
            size =
                Vec2(std::max(size.x(), sketch_width * height), size.y() + sketch_height * height);
        return size;
    }
};

/// A warning in at most four lines: where it is longer its first clauses, so that what stands
/// there makes sense by itself, and where to read on.
std::vector<std::string> warning_lines(const std::string& warning) {
    constexpr std::size_t letters = 32, most = 4;
    std::vector<std::string> lines = broken("! " + warning, letters);
    if (lines.size() <= most) return lines;
    lines.resize(most - 1);
    int depth = 0;  // of brackets
    for (std::size_t i = 0; i + 1 < warning.size(); ++i) {
        depth += warning[i] == '(' ? 1 : warning[i] == ')' ? -1 : 0;
        const bool ends = depth == 0 && warning[i + 1] == ' ' &&
                          std::string_view(",:;").find(warning[i]) != std::string_view::npos;
        if (!ends) continue;
        std::vector<std::string> clause = broken("! " + warning.substr(0, i), letters);
        if (clause.size() >= most) break;
        lines = std::move(clause);
    }
    lines.emplace_back("(see the job sheet)");
    return lines;
}

Block block_of(const Words& words) {
    Block block;
    block.lines = words.lines;
    block.warnings_from = block.lines.size();
    block.torn_band = words.torn_band;
    for (const std::string& warning : words.warnings) {
        for (std::string& line : warning_lines(warning))
            block.lines.push_back({std::move(line), 0.9});
    }
    return block;
}

/// What the words keep clear of.
struct Obstacles {
    Region2 net;                          ///< coarse
    std::vector<plane::Box> boxes;        ///< datum, arrows, ticks
    std::vector<std::vector<Vec2>> soft;  ///< lines that may be crossed when nothing else goes
};

/// Room for a mark and the words that will stand beside it.
///
/// @param below  [mm] that the words may take under it
plane::Box with_words(const std::vector<Vec2>& points, std::string_view words, double below) {
    const double half = 0.5 * text_width(words, 2.5) + 2.0;
    const plane::Box box = plane::box_round(points, 2.0);
    const double middle = 0.5 * (box.low.x() + box.high.x());
    return plane::box_round({box.low, box.high, Vec2(middle - half, box.low.y() - below),
                             Vec2(middle + half, box.high.y())});
}

Obstacles obstacles_of(const Template& outline) {
    Obstacles found;
    found.net.outer = plane::thinned(outline.net.outer, tolerance::label_room);
    for (const Loop2& hole : outline.net.holes)
        found.net.holes.push_back(plane::thinned(hole, tolerance::label_room));
    const auto round_it = [&](const auto& mark) {
        found.boxes.push_back(plane::box_round(fields_of(mark).points, 2.0));
    };
    for (const Mark& mark : outline.marks)
        std::visit(
            Overloaded{
                [&](const NextEdge& edge) {
                    std::vector<Vec2> line = plane::thinned(edge.line, tolerance::label_room);
                    if (edge.closed && !line.empty()) line.push_back(line.front());
                    found.soft.push_back(std::move(line));
                },
                [&](const Tick& tick) {
                    // With the word at its inner end.
                    const Vec2 inward = (tick.inner - tick.outer).normalized();
                    found.boxes.push_back(
                        plane::box_round({tick.inner + 10.0 * inward, tick.outer}, 3.0));
                },
                [&](const Tape& tape) {
                    found.boxes.push_back(with_words({tape.inner, tape.outer}, tape.text, 6.0));
                },
                [&](const PressFirst& press) {
                    found.boxes.push_back(with_words(press.ring(), PressFirst::words, 12.0));
                },
                [](const HullEnd&) {},  // lies on the net line
                [](const Joint&) {},    // likewise
                [](const Kerf&) {},     // a grid of fine lines: words stand on it
                [&](const Fold& fold) {
                    constexpr double step = 8.0, clear = 1.5;  // [mm]
                    for (std::size_t i = 1; i < fold.line.size(); ++i) {
                        const Vec2 from = fold.line[i - 1], way = fold.line[i] - from;
                        const int parts = std::max(1, static_cast<int>(way.norm() / step));
                        for (int k = 0; k < parts; ++k)
                            found.boxes.push_back(plane::box_round(
                                {from + way * k / parts, from + way * (k + 1) / parts}, clear));
                    }
                },
                [&](const Datum& datum) { round_it(datum); },
                [&](const Arrow& arrow) { round_it(arrow); },
                [&](const Fibre& fibre) { round_it(fibre); },
                [&](const BandSection& section) { round_it(section); },
                [&](const Label& label) { round_it(label); },
            },
            mark);
    return found;
}

std::vector<plane::Box> words_of(const std::vector<Mark>& marks) {
    std::vector<plane::Box> boxes;
    for (const Mark& mark : marks) {
        const auto* label = std::get_if<Label>(&mark);
        if (!label) continue;
        const Vec2 half = half_width(*label), top = label->base + label->up;
        boxes.push_back(plane::box_round(
            {label->base - half, label->base + half, top - half, top + half}, 1.0));
    }
    return boxes;
}

bool is_free(const plane::Box& box, const Obstacles& obstacles, bool cross_soft_lines) {
    const std::array<Vec2, 4> corners = {box.low, Vec2(box.high.x(), box.low.y()), box.high,
                                         Vec2(box.low.x(), box.high.y())};
    for (const Vec2& corner : corners)
        if (!contains(obstacles.net, corner)) return false;
    for (const plane::Box& other : obstacles.boxes)
        if (box.meets(other)) return false;
    const auto crosses = [&box](const Loop2& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            if (plane::meets(box, loop[i], loop[(i + 1) % loop.size()])) return true;
        return false;
    };
    if (crosses(obstacles.net.outer)) return false;
    for (const Loop2& hole : obstacles.net.holes)
        if (crosses(hole)) return false;
    if (cross_soft_lines) return true;
    for (const auto& line : obstacles.soft)
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            if (plane::meets(box, line[i], line[i + 1])) return false;
    return true;
}

/// The free place for a block nearest to the middle of the piece.
std::optional<plane::Box> free_place(const Vec2& size, const Obstacles& obstacles,
                                     bool cross_soft_lines) {
    return plane::nearest_free(
        plane::box_round(obstacles.net.outer), size, 36,
        [&](const plane::Box& box) { return is_free(box, obstacles, cross_soft_lines); });
}

struct PlacedBlock {
    Vec2 top_middle;
    double height = letter_heights.back();
};

PlacedBlock place(const Block& block, const Obstacles& obstacles, const Template& outline) {
    for (const bool cross : {false, true}) {
        for (const double height : letter_heights) {
            const Vec2 size = block.size(height);
            if (const auto box = free_place(size, obstacles, cross))
                return {Vec2(0.5 * (box->low.x() + box->high.x()), box->high.y() - 1.0), height};
        }
    }
    const plane::Box all = plane::box_round(outline.parting_region().outer);
    return {Vec2(0.5 * (all.low.x() + all.high.x()), all.low.y() - 6.0)};
}

/// The torn band from the side: full thickness to the net line, nothing at the tear line.
///
/// @param top     [mm] middle of its upper edge
/// @param height  [mm] of the block's letters
void add_band_section(std::vector<Mark>& marks, const Vec2& top, double height) {
    const auto at = [&](double x, double y) -> Vec2 { return top + height * Vec2(x, y - 3.3); };
    constexpr double left = -11.0, net = -1.0, tear = 9.0, thick = 1.6, tick = 0.6, small = 0.7;
    marks.emplace_back(BandSection{{at(left, thick), at(net, thick), at(tear, 0), at(left, 0)},
                                   "FULL THICKNESS TO THE NET LINE, NOTHING AT THE TEAR LINE"});
    for (const double end : {net, tear})
        marks.emplace_back(BandSection{{at(end, 0), at(end, -tick)}, {}});
    const Vec2 up(0, small * height);
    marks.emplace_back(Label{at(0.5 * (left + net), 0.45), up, "FULL THICKNESS"});
    marks.emplace_back(Label{at(0.5 * (net + tear) + 2.0, 1.9), up, "THIN OUT BY HAND"});
    marks.emplace_back(Label{at(net, -1.6), up, "Net line"});
    marks.emplace_back(Label{at(tear, -1.6), up, "Tear line"});
}

}  // namespace

void label_template(Template& outline, const Words& words) {
    // Words that stand there already, such as those of tapes, are kept clear of as a whole.
    const std::vector<plane::Box> there = words_of(outline.marks);
    Block block = block_of(words);
    Obstacles obstacles = obstacles_of(outline);
    obstacles.boxes.insert(obstacles.boxes.end(), there.begin(), there.end());
    PlacedBlock placed = place(block, obstacles, outline);
    bool drawing_apart = false;
    if (block.torn_band && !contains(outline.net, placed.top_middle)) {
        // The words on the piece come before the small drawing, which then stands by itself.
        Block plain = block;
        plain.torn_band = false;
        const PlacedBlock inside = place(plain, obstacles, outline);
        drawing_apart = contains(outline.net, inside.top_middle);
        if (drawing_apart) block = plain, placed = inside;
    }
    double y = placed.top_middle.y();
    for (std::size_t i = 0; i < block.lines.size(); ++i) {
        const double height = placed.height * block.lines[i].size;
        y -= 0.5 * (line_pitch + 1.0) * height;
        outline.marks.emplace_back(Label{Vec2(placed.top_middle.x(), y), Vec2(0, height),
                                         block.lines[i].text, i >= block.warnings_from});
        y -= 0.5 * (line_pitch - 1.0) * height;
    }
    if (block.torn_band)
        add_band_section(outline.marks, Vec2(placed.top_middle.x(), y), placed.height);
    if (drawing_apart) {
        const Vec2 half(0.5 * block.size(placed.height).x(), 0.0);
        obstacles.boxes.push_back(plane::box_round(
            {placed.top_middle - half, Vec2(placed.top_middle.x(), y) + half}, 1.0));
        const PlacedBlock apart = place({{}, 0, true}, obstacles, outline);
        add_band_section(outline.marks, apart.top_middle, apart.height);
    }
}

}  // namespace tearline::templates
