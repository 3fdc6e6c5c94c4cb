#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/drawing/drawing.h"
#include "core/formats/arcs.h"
#include "core/layout/nest_rolls.h"
#include "core/templates/template_set.h"

namespace tearline::formats {

/// How the pieces of a plan are put into files for a cutter.
enum class CutterFiles {
    one,     ///< every piece once, in one row
    pieces,  ///< a file a piece, its datum at the origin
    rolls,   ///< a file a roll, every copy where it lies on the cloth
};

/// What there is to cut.
struct CutterJob {
    const std::string& title;  ///< as the job file gives it
    int copies = 1;            ///< of each piece
    const std::vector<templates::PieceTemplate>& pieces;
    const std::vector<layout::Roll>& rolls;
};

struct CutterOptions {
    bool mirror = false;
    /// [mm] how far a chord may leave the outline of the plan, whose own chords leave the true one
    /// by up to tolerance::outline_thinning; 0 keeps the plan's points.
    double chord_error = 0.0;
    bool drill = false;  ///< the datum is a hole to drill, not only a cross
    bool arcs = false;   ///< DXF: runs of points that lie on a circle become arcs
};

/// The pieces of one cutter file.
struct CutterSheet {
    std::string name;                        ///< of the file, without what stands after the point
    std::vector<drawing::Drawing> drawings;  ///< the names are unique
    std::vector<Vec2> places;                ///< [mm] to move each drawing by
    std::string job;
    std::string fabric;         ///< of the cloth under the pieces
    int copies = 1;             ///< of each piece, to make from this file
    bool arcs = false;          ///< DXF: with arcs
    double arc_error = 0.0;     ///< [mm] that an arc may leave the points by
    std::optional<Vec2> cloth;  ///< [mm] length and width of the roll under the pieces
};

/// The sheets of a job, ready for every cutter format, so that all hold the same.
[[nodiscard]] std::vector<CutterSheet> cutter_sheets(const CutterJob& job, CutterFiles kind,
                                                     const CutterOptions& options = {});

/// The pieces of a job where they lie on a remnant, its outline drawn about them.
///
/// @param outline  [mm] of the remnant, in whose coordinates `roll.placed` is
[[nodiscard]] CutterSheet remnant_sheet(const CutterJob& job, const layout::Roll& roll,
                                        const Loop2& outline, const std::string& name,
                                        const CutterOptions& options = {});

/// The points of a line as a cutter gets them: none twice, and arcs where the sheet has them.
[[nodiscard]] std::vector<BulgedPoint> cutter_points(const drawing::Drawing::Line& line,
                                                     const CutterSheet& sheet);

/// The words that stand beside the pieces of a sheet: the job, how many to make, the unit, the
/// cloth.
[[nodiscard]] std::vector<std::string> sheet_words(const CutterSheet& sheet);

/// Where the first of those words begins, under everything [mm].
[[nodiscard]] Vec2 words_start(const CutterSheet& sheet);

/// What a cutter's operator must know, and what is the machine's own affair.
[[nodiscard]] std::vector<std::string> machine_notes();

}  // namespace tearline::formats
