#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/quantities/cup.h"
#include "core/quantities/hardener.h"
#include "core/warnings/warning.h"

namespace tearline::quantities {

/// What is to be mixed for: one of an area of cloth, a mass of glass, or a mass of resin.
struct MixRequest {
    std::optional<SquareMetres> area;  ///< of one ply
    std::optional<Grams> glass;
    std::optional<Grams> resin;      ///< ready to mix: no waste is added
    std::string fabric = "mat 450";  ///< a name in the job's fabrics; for area and glass
    int plies = 1;                   ///< [-] >= 1, for area
};

/// Resin, hardener and cups for it.
struct Mix {
    std::optional<Grams> glass;
    Grams resin;    ///< waste included, with the hardener for epoxy
    Recipe recipe;  ///< resin alone and hardener, by mass and by volume where known
    std::vector<Cup> cups;
    Warnings warnings;
};

/// The same sums as in a plan, without a hull.
///
/// @param job  its fabrics, resin, laminator and shop are used
/// @error bad_input  not exactly one amount, an unknown fabric, or a resin outside its range
[[nodiscard]] Result<Mix> mix(const MixRequest& request, const job::Job& job);

/// A mix on one screen, metric and US, ending in a newline.
[[nodiscard]] std::string mix_text(const Mix& mix, const job::Job& job);

}  // namespace tearline::quantities
