#include "core/templates/line_names.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/sheet_words.h"
#include "core/base/text_room.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/offset_region.h"
#include "core/templates/label_extent.h"

namespace tearline::templates {

namespace {

constexpr double line_name_height = 3.0;  ///< [mm]

/// A place on a closed line, and the way it runs there.
struct OnLine {
    Vec2 at{0, 0}, along{1, 0};
};

/// A closed line that is asked for many places, with the lengths of its parts.
class MeasuredLine {
public:
    explicit MeasuredLine(const Loop2& line) : line_(line), whole_(perimeter(line)) {
        lengths_.reserve(line.size());
        for (std::size_t i = 0; i < line.size(); ++i)
            lengths_.push_back((line[(i + 1) % line.size()] - line[i]).norm());
    }

    [[nodiscard]] OnLine at(double share) const {
        double left = (share - std::floor(share)) * whole_;
        for (std::size_t i = 0; i < line_.size(); ++i) {
            const double length = lengths_[i];
            if (length > 0.0 && left <= length) {
                const Vec2 &a = line_[i], &b = line_[(i + 1) % line_.size()];
                return {a + left / length * (b - a), (b - a) / length};
            }
            left -= length;
        }
        return {line_.front(), Vec2(1, 0)};
    }

private:
    const Loop2& line_;
    double whole_;                 ///< [mm]
    std::vector<double> lengths_;  ///< [mm]
};

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
        const MeasuredLine measured(line);
        std::optional<OnLine> best;
        double least = 0.0;
        for (int k = 0; k <= 2 * steps; ++k) {
            const double off = (k % 2 == 0 ? 1.0 : -1.0) * step * ((k + 1) / 2);
            const OnLine place = measured.at(share + off);
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

}  // namespace

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

}  // namespace tearline::templates
