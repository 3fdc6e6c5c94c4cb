#pragma once
#include <span>
#include <string>
#include <vector>

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

struct Rolls {
    std::vector<Roll> rolls;
    Warnings warnings;
};

/// The pieces of each fabric, every copy that the job asks for, nested on its roll.
///
/// Mat turns freely; woven and biaxial cloth lies with its axis along the roll, either way round.
/// x runs along the roll, y across it. A piece wider than its roll is left out, with the warning
/// `wider-than-roll`.
[[nodiscard]] Rolls nest_rolls(std::span<const CutPiece> pieces, const job::Job& job);

}  // namespace tearline::layout
