#pragma once
#include <vector>

#include "core/paper/drawing.h"
#include "core/paper/print_plan.h"
#include "core/paper/ring_sheet.h"

namespace tearline::paper {

/// Where the datum of a template lies: the mark when there is one, else the flat frame's origin.
[[nodiscard]] Vec2 datum_of(const std::vector<templates::Mark>& marks);

/// A piece's template: parting line with its word, net line, marks and texts.
///
/// @param mirrored  its parting line says so all round; the caller turns it over
[[nodiscard]] Drawing draw_piece(const PrintPiece& piece, bool mirrored = false);

/// The footprint with the scarf edge, a ring for each ply edge, tape lines along bow and up.
[[nodiscard]] Drawing draw_grind_guide(const PrintPlan& plan);

/// All mat plies on one sheet, each by its own net and tear line, with the polar table of all of
/// them where there is room inside.
///
/// @param mirrored  the lines say so; the caller turns the sheet over
[[nodiscard]] Drawing draw_ring_sheet(const PrintPlan& plan, const RingSheet& sheet,
                                      bool mirrored = false);

/// Two edges to cut from card or ply: the base surface along and across, with the depth of the dish
/// where a ring of the guide crosses.
[[nodiscard]] Drawing draw_sections(const std::vector<templates::Section>& sections,
                                    const templates::GrindGuide& guide,
                                    Units units = Units::metric);

/// Distances every 15 degrees and at corners.
///
/// @param ends  what right, top, left and bottom of the paper point to
[[nodiscard]] Drawing draw_polar_table(const PrintPiece& piece,
                                       const std::array<std::string, 4>& ends,
                                       Units units = Units::metric);

/// What a stranger must know before using the sheets: scale, cautions, what is on them.
///
/// @param lines  further lines: what is printed, what could save paper
[[nodiscard]] Drawing draw_notes(const PrintPlan& plan, const std::vector<std::string>& lines);

}  // namespace tearline::paper
