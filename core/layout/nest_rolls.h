#pragma once
#include <map>
#include <span>
#include <string>
#include <vector>

#include "core/job/boat_job.h"
#include "core/job/job.h"
#include "core/templates/template.h"
#include "core/warnings/warning.h"

namespace tearline::layout {

/// A piece to cut from a roll.
struct CutPiece {
    std::string id;
    int ply = 0;
    std::string fabric;
    job::FabricKind kind = job::FabricKind::mat;
    const templates::Template* outline = nullptr;
    int copies = 1;
};

struct Placement {
    std::string piece;
    double x_mm = 0.0, y_mm = 0.0, turn_deg = 0.0;
};

struct Roll {
    std::string fabric;
    double width_mm = 0.0, length_mm = 0.0, used_fraction = 0.0;
    double area_bound_mm = 0.0;  ///< the pieces' area by the width: no nest is shorter
    double gap_mm = 0.0;         ///< between the pieces
    std::vector<Placement> placed;
};

/// A remnant with what is cut from it, in its own coordinates, its face up.
struct CutRemnant {
    std::string name, fabric;
    Loop2 outline;                ///< [mm] counter-clockwise
    std::vector<Loop2> keep_off;  ///< [mm]
    double used_fraction = 0.0;   ///< of its area
    std::vector<Placement> placed;
};

struct Rolls {
    std::vector<Roll> rolls;
    std::vector<CutRemnant> remnants;  ///< as given, unused ones too
    Warnings warnings;
};

/// What pieces are cut from.
struct Stock {
    const std::map<std::string, job::Fabric>& fabrics;
    double gap = 5.0;  ///< [mm] between pieces
    std::span<const job::Remnant> remnants = {};
};

/// The pieces of each fabric, every copy of theirs that the job asks for, nested on its roll.
///
/// Mat turns freely; woven and biaxial cloth lies with its axis along the roll, either way round.
/// x runs along the roll, y across it. A piece wider than its roll is left out, with the warning
/// `wider-than-roll`.
[[nodiscard]] Rolls nest_rolls(std::span<const CutPiece> pieces, const job::Job& job);

/// The same, the remnants of each fabric first: in their order, each as full as is found.
///
/// @param pieces  their ids differ
/// @error bad_input  a piece is locked that is not there or not of that fabric, or where it does
///                   not lie on the remnant, or clear of others and of what is kept off
[[nodiscard]] Result<Rolls> nest_rolls(std::span<const CutPiece> pieces, const Stock& stock);

}  // namespace tearline::layout
