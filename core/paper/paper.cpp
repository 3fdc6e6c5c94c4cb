#include "core/paper/paper.h"

#include <algorithm>
#include <cctype>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"

namespace tearline::paper {

namespace {

using us::mm_per_inch;
constexpr double header_height = 36.0;  // [mm] four rows of words, two bars
constexpr double side_width = 5.0;      // [mm] the upright bar
constexpr double wide_page = 260.0;     // [mm] from here the longer bars fit
constexpr double long_bar = 150.0;      // [mm]
// [mm] PDF pages end at 14400 points, which is 5080 mm.
constexpr double longest_page = 5000.0;
constexpr double narrowest_roll = 250.0;
constexpr double widest_roll = 5000.0;

std::string lower(std::string_view text) {
    std::string out;
    for (const char c : text)
        if (c != ' ') out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

Paper roll(double width, const std::string& said) {
    return {"roll " + said, width, longest_page, true};
}

}  // namespace

const std::vector<Paper>& known_papers() {
    static const std::vector<Paper> papers = {
        {"A4", 210.0, 297.0, false},
        {"A3", 297.0, 420.0, false},
        {"Letter", 8.5 * mm_per_inch, 11.0 * mm_per_inch, false},
        {"Tabloid", 11.0 * mm_per_inch, 17.0 * mm_per_inch, false},
        roll(610.0, "610 mm"),
        roll(914.0, "914 mm"),
        roll(1067.0, "1067 mm"),
    };
    return papers;
}

std::string own_paper(Units units) {
    return units == Units::us ? "Letter" : "A4";
}

Result<Paper> read_paper(std::string_view text) {
    const std::string wanted = lower(text);
    for (const Paper& paper : known_papers())
        if (lower(paper.name) == wanted) return paper;
    std::string width = wanted;
    if (width.starts_with("roll")) width.erase(0, 4);
    double unit = 1.0;
    std::string unit_name = " mm";
    if (width.ends_with("mm")) {
        width.resize(width.size() - 2);
    } else if (width.ends_with("in")) {
        width.resize(width.size() - 2);
        unit = mm_per_inch;
        unit_name = " in";
    }
    const auto number = read_number(width);
    if (!number)
        return bad_input("paper '" + std::string(text) +
                         "' is not known: A4, A3, Letter, Tabloid, \"roll 610\", \"roll 914\", "
                         "\"roll 1067\" or a roll of another width such as \"roll 36 in\"");
    const double mm = *number * unit;
    if (!(mm >= narrowest_roll) || !(mm <= widest_roll))
        return bad_input("paper '" + std::string(text) + "': a roll is " +
                         fixed(narrowest_roll, 0) + " to " + fixed(widest_roll, 0) + " mm wide");
    return roll(mm, shortest(*number) + unit_name);
}

Result<double> read_print_scale(std::string_view text) {
    const auto slash = text.find('/');
    const auto bar = read_number(text.substr(0, slash));
    const auto measured =
        slash == std::string_view::npos ? std::optional(1.0) : read_number(text.substr(slash + 1));
    if (!bar || !measured || *measured == 0.0)
        return bad_input("--print-scale '" + std::string(text) +
                         "' is no number, nor the length of a printed bar by what it measures, "
                         "as 100/99.4");
    return *bar / *measured;
}

double check_bar(const Paper& paper, double print_scale, Units units) {
    const PageFrame frame = page_frame({paper.width, paper.height}, print_scale);
    return units == Units::metric ? frame.bar_mm : frame.bar_inches;
}

PageFrame page_frame(const Vec2& paper_mm, double print_scale) {
    PageFrame frame;
    frame.paper = paper_mm / print_scale;
    const Vec2 low(page_margin, page_margin);
    const Vec2 high = frame.paper - low;
    frame.header = {{low.x(), high.y() - header_height}, high};
    frame.side = {low, {low.x() + side_width, frame.header.low.y()}};
    frame.window = {{frame.side.high.x(), low.y()}, {high.x(), frame.header.low.y()}};
    if (frame.paper.x() >= wide_page) {
        frame.bar_mm = long_bar;
        frame.bar_inches = 6.0;
    }
    return frame;
}

double paper_height_for(double window_height, double print_scale) {
    // The upright bar stands clear of the header, however little there is to show.
    constexpr double clear = 5.0;  // [mm]
    return (std::max(window_height, long_bar + clear) + 2.0 * page_margin + header_height) *
           print_scale;
}

}  // namespace tearline::paper
