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
#include "core/plane/nearest_on_line.h"
#include "core/plane/offset_region.h"
#include "core/plane/room.h"
#include "core/plane/thin_line.h"

namespace tearline::templates {

namespace {

constexpr double line_pitch = 1.6;  ///< [-] by letter height
constexpr std::array<double, 7> letter_heights = {6.0, 5.0, 4.0, 3.5, 3.0, 2.5, 2.2};  ///< [mm]
constexpr double line_name_height = 3.0;                                               ///< [mm]

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

/// From the middle of a line of text to its end.
Vec2 half_width(const Label& label) {
    const double height = label.up.norm();
    return -0.5 * text_width(label.text, height) * turned_left(label.up / height);
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

/// A place on a closed line, and the way it runs there.
struct OnLine {
    Vec2 at{0, 0}, along{1, 0};
};

OnLine on_line(const Loop2& line, double share) {
    double left = (share - std::floor(share)) * perimeter(line);
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Vec2 &a = line[i], &b = line[(i + 1) % line.size()];
        const double length = (b - a).norm();
        if (length > 0.0 && left <= length) return {a + left / length * (b - a), (b - a) / length};
        left -= length;
    }
    return {line.front(), Vec2(1, 0)};
}

/// Names lines where their names stand on nothing.
class LineNamer {
public:
    explicit LineNamer(Template& outline) : marks_(&outline.marks) {
        add(outline.parting_region(), TextRoom::on_edge);
        if (outline.tear || outline.cut) add(outline.net, TextRoom::on_edge);
        for (const Mark& mark : outline.marks) add(mark);
        for (const ReliefCut& cut : outline.relief_cuts)
            room_.add_line(cut.points, false, TextRoom::on_edge);
    }

    /// Writes the name of a line along it, as near as may be to where it is wanted.
    ///
    /// @param share   [-] how far round the line, from its first point
    /// @param aside   [mm] from the line to the middle of the letters, positive outwards
    /// @param most    [-] where every place costs more, there are no words
    /// @return        whether it is written
    bool name(const Loop2& line, double share, double aside, const std::string& text,
              double most = 1e300, double height = line_name_height) {
        constexpr double step = 0.01;
        constexpr int steps = 9;
        std::optional<OnLine> best;
        double least = 0.0;
        for (int k = 0; k <= 2 * steps; ++k) {
            const double off = (k % 2 == 0 ? 1.0 : -1.0) * step * ((k + 1) / 2);
            const OnLine place = on_line(line, share + off);
            const double cost = std::abs(off) + room_.cost(box(place, aside, text, height));
            if (best && cost >= least) continue;
            best = place;
            least = cost;
        }
        if (least > most) return false;
        const TextBox words = box(*best, aside, text, height);
        room_.add_text(words);
        const Vec2 up = upright(*best, height);
        marks_->emplace_back(Label{words.middle - 0.5 * up, up, text});
        return true;
    }

    /// Says where the hull's end lies, at the middle of each run of it, and what becomes of a torn
    /// band beyond it.
    ///
    /// @param band  [mm] how wide the torn band is, 0 for cloth
    void name_hull_ends(double aside, double band) {
        for (const std::vector<Vec2>& run : runs_of<HullEnd>()) {
            if (!name_run(run, aside, HullEnd::words)) continue;
            if (!(band > 0.0)) continue;
            // Beyond the match ticks, and what is done further out.
            name_run(run, aside + line_pitch * line_name_height, "TRIM AT THE HULL'S END");
            keep_clear(run, band);
        }
    }

    /// Says what a slit is for, in fewer words where it is short.
    void name_slit(const std::vector<Vec2>& slit) {
        const double length = (slit.back() - slit.front()).norm();
        for (const char* words : {"SLIT FOR THE FITTING", "SLIT"}) {
            if (length < line_name_height * letters_width(words)) continue;
            constexpr double middle = 0.25;  // there and back is one round
            name(slit, middle, 1.2 * line_name_height, words);
            return;
        }
    }

    /// Says where a ply that goes right round comes to itself.
    void name_joints(double aside) {
        for (const std::vector<Vec2>& run : runs_of<Joint>()) name_run(run, aside, Joint::words);
    }

private:
    template <class RunMark>
    [[nodiscard]] std::vector<std::vector<Vec2>> runs_of() const {
        std::vector<std::vector<Vec2>> runs;
        for (const Mark& mark : *marks_)
            if (const auto* found = std::get_if<RunMark>(&mark)) runs.push_back(found->run);
        return runs;
    }

    /// Names a run of the net line at its middle, where it is not too short for that.
    bool name_run(const std::vector<Vec2>& run, double aside, std::string_view words) {
        double length = 0.0;
        for (std::size_t i = 1; i < run.size(); ++i) length += (run[i] - run[i - 1]).norm();
        if (length < 0.5 * line_name_height * letters_width(words)) return false;
        name(run, 0.5 * length / perimeter(run), aside, std::string(words));
        return true;
    }

    /// Keeps further words out of the band beside a run of the net line.
    void keep_clear(const std::vector<Vec2>& run, double band) {
        for (std::size_t i = 1; i < run.size(); ++i) {
            const Vec2 along = 0.5 * (run[i] - run[i - 1]);
            if (!(along.norm() > 0.0)) continue;
            const Vec2 out = -0.5 * band * turned_left(along.normalized());
            room_.add_text({0.5 * (run[i] + run[i - 1]) + out, along, 0.8 * out});
        }
    }

    /// Letters stand upright as far as that goes.
    static Vec2 upright(const OnLine& place, double height) {
        const Vec2 outward = -turned_left(place.along);
        return (outward.y() >= 0.0 ? outward : Vec2(-outward)) * height;
    }

    static TextBox box(const OnLine& place, double aside, const std::string& text, double height) {
        const Vec2 up = upright(place, height);
        constexpr double margin = 0.5;  // [-] by letter height, at both ends
        return {place.at - aside * turned_left(place.along),
                -(0.5 * letters_width(text) + margin) * turned_left(up), 0.6 * up};
    }

    void add(const Region2& region, double cost) {
        room_.add_line(region.outer, true, cost);
        for (const Loop2& hole : region.holes) room_.add_line(hole, true, cost);
    }

    void add(const Mark& mark) {
        if (const auto* label = std::get_if<Label>(&mark))
            room_.add_text({label->base + 0.5 * label->up, half_width(*label), 0.6 * label->up});
        else if (const auto* edge = std::get_if<NextEdge>(&mark))
            room_.add_line(edge->line, edge->closed, TextRoom::on_line);
        else if (!std::holds_alternative<HullEnd>(mark) && !std::holds_alternative<Joint>(mark) &&
                 !std::holds_alternative<Kerf>(mark))
            room_.add_line(fields_of(mark).points, false, TextRoom::on_line);
    }

    std::vector<Mark>* marks_;
    TextRoom room_;
};

/// Names the net line of mat on its inner side, where that is too small on the torn band.
void name_net(LineNamer& namer, const Loop2& net) {
    const auto name = [&](double share, double aside, double most) {
        return namer.name(net, share, aside, "NET LINE", most);
    };
    bool written = false;
    for (const double share : {0.195, 0.695})
        written = name(share, -1.4 * line_name_height, 0.5 * TextRoom::on_line) || written;
    if (!written && !name(0.195, 1.4 * line_name_height, 0.5 * TextRoom::on_line))
        name(0.195, -1.4 * line_name_height, 1e300);
}

/// Says on the torn band what is done with it, in fewer and smaller words where it bends sharply.
void name_band(LineNamer& namer, const Loop2& tear, double aside) {
    struct Try {
        const char* words;
        double height;  // [mm]
    };
    for (const auto& [words, height] :
         {Try{"THIN THIS BAND BY HAND", line_name_height}, Try{"THIN THIS BAND", line_name_height},
          Try{"THIN THIS BAND", 2.5}, Try{"THIN THIS BAND", 2.2}}) {
        const auto name = [&, words = words, height = height](double share) {
            return namer.name(tear, share, -aside, words, 0.5 * TextRoom::on_line, height);
        };
        const bool first = name(0.195), second = name(0.695);
        if (first || second || name(0.445) || name(0.945)) return;
    }
}

/// The line the cloth is parted along says which it is, and the net line of mat says so too.
void name_lines(Template& outline) {
    constexpr std::array<double, 4> places = {0.07, 0.32, 0.57, 0.82};
    LineNamer namer(outline);
    double aside = line_name_height, band = 0.0;
    if (outline.tear) {
        band = plane::distance_to_edge(outline.net, outline.tear->outer.front());
        aside = std::max(0.5 * band, 0.5 * line_name_height + 1.0);
    }
    namer.name_hull_ends(outline.tear ? aside : -aside, band);
    namer.name_joints(-1.2 * line_name_height);
    // Those for fittings go straight from hole to edge; others go in and out again, and gape.
    for (const ReliefCut& cut : outline.relief_cuts)
        if (cut.points.size() == 2) namer.name_slit(cut.points);
    if (outline.tear) {
        for (const double share : places)
            namer.name(outline.tear->outer, share, -aside, "TEAR LINE");
        name_net(namer, outline.net.outer);
        if (band > line_name_height + 2.0) name_band(namer, outline.tear->outer, aside);
    } else {
        for (const double share : places)
            namer.name(outline.parting_region().outer, share, -line_name_height, "CUT LINE");
    }
    // On the cloth beside a hole that has no band to tear.
    if (!outline.tear || outline.tear->holes == outline.net.holes)
        for (const Loop2& hole : outline.parting_region().holes)
            namer.name(hole, 0.25, -1.2 * line_name_height, "CUT OUT");
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
    name_lines(outline);
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
