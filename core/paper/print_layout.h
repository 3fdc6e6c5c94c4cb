#pragma once
#include <string>
#include <vector>

#include "core/paper/paper.h"
#include "core/paper/tile_drawing.h"
#include "core/templates/template_set.h"

namespace tearline::paper {

/// What the person at the printer chose.
struct PrintChoice {
    Paper paper = known_papers().front();
    double print_scale = 1.0;       ///< [-] a printed bar's length by what it measures; 0.9 to 1.1
    bool mirrored = false;          ///< templates turned over, and marked so
    bool less_paper = false;        ///< one ring sheet for the mat plies where that is right
    bool polar_tables = false;      ///< to draw templates by tape and protractor
    std::vector<std::string> only;  ///< ids of the drawings to print; empty: all
};

/// Drawings on a grid of pages that are glued together; one page in most cases.
struct Assembly {
    std::vector<Drawing> drawings;  ///< [mm] tile (0, 0) has its window's lower left corner at 0, 0
    PageFrame frame;
    Vec2 pitch{0, 0};         ///< [mm] from window to window
    std::vector<Tile> tiles;  ///< in reading order; each shows ink
    int columns = 1, rows = 1;

    [[nodiscard]] bool has(const Tile& tile) const;
    /// What a tile's window shows [mm] of the assembly.
    [[nodiscard]] Box window_of(const Tile& tile) const;
};

struct Page {
    std::size_t assembly = 0;
    Tile tile;
};

struct PrintLayout {
    PrintChoice choice;
    std::string title, model, job_id;
    Units units = Units::metric;
    std::vector<Assembly> assemblies;
    std::vector<Page> pages;
};

/// [-] print scales outside this are no printer's error: the print dialog shrank the page.
inline constexpr double least_print_scale = 0.9, most_print_scale = 1.1;

/// Everything that can be printed of a plan: notes, grind guide, section cards, templates, tables.
[[nodiscard]] std::vector<Drawing> drawings_of(const templates::TemplateSet& set,
                                               const PrintChoice& choice);

/// Puts the chosen drawings on pages: what is larger than a page is spread over the fewest found by
/// turning and moving it, the rest is packed, first into pages that have room.
///
/// @error bad_input  an id that the plan does not have, or a print scale out of range
[[nodiscard]] Result<PrintLayout> lay_out_print(const templates::TemplateSet& set,
                                                const PrintChoice& choice);

}  // namespace tearline::paper
