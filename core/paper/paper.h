#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"
#include "core/base/units.h"
#include "core/paper/ink.h"

namespace tearline::paper {

/// Paper to print on; a roll's pages are as long as what they hold.
struct Paper {
    std::string name;     ///< "A4", "roll 914 mm"
    double width = 0.0;   ///< [mm]
    double height = 0.0;  ///< [mm] of a roll: the longest page
    bool roll = false;
};

/// The papers that have a name here: A4, A3, Letter, Tabloid, rolls of 610, 914 and 1067 mm.
[[nodiscard]] const std::vector<Paper>& known_papers();

/// The name of the paper of one's own country: whoever reads inches first prints on Letter.
[[nodiscard]] std::string own_paper(Units units);

/// A paper by its name, or a roll of any width: "roll 800", "roll 800 mm", "roll 36 in".
///
/// @error bad_input  no such paper, or a roll narrower than 250 mm or wider than 5000 mm
[[nodiscard]] Result<Paper> read_paper(std::string_view text);

/// A print scale in words: a number, or the length of a printed bar by what it measures,
/// "150/149.1".
///
/// @error bad_input  neither
[[nodiscard]] Result<double> read_print_scale(std::string_view text);

/// Where things stand on a page, mm from its lower left corner.
struct PageFrame {
    Vec2 paper{0, 0};
    Box window;  ///< shows the templates
    Box header;  ///< words, check bars, page map
    Box side;    ///< the upright check bar
    double bar_mm = 100.0;
    double bar_inches = 4.0;
};

/// [mm] kept free at the paper's edges: home printers cannot reach them.
inline constexpr double page_margin = 8.0;
/// [mm] glued over by the neighbouring page; common practice is 10 to 15 mm.
inline constexpr double glue_overlap = 12.0;

/// The frame of a page. At a print scale other than 1 the paper is as large as it looks in
/// uncorrected mm.
[[nodiscard]] PageFrame page_frame(const Vec2& paper_mm, double print_scale);

/// The length of the check bar on the pages of a paper, in mm or in inches.
[[nodiscard]] double check_bar(const Paper& paper, double print_scale, Units units);

/// The paper height that leaves a window of the given height [mm].
[[nodiscard]] double paper_height_for(double window_height, double print_scale);

}  // namespace tearline::paper
