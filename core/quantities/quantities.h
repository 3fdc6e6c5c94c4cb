#pragma once
#include <optional>
#include <vector>

#include "core/base/result.h"
#include "core/quantities/glass_and_resin.h"
#include "core/quantities/layup_warnings.h"
#include "core/quantities/proud_scarf.h"
#include "core/quantities/repair.h"
#include "core/quantities/stages.h"

namespace tearline::quantities {

struct Totals {
    double glass_area_m2 = 0.0, glass_g = 0.0, resin_g = 0.0;
    std::optional<double> hardener_g, hardener_mL;
    std::optional<double> topcoat_g, topcoat_hardener_g;  ///< none where no topcoat goes on
    double laid_thickness_mm = 0.0;
    double ground_area_m2 = 0.0;  ///< surface that is primed: the scarf region
    double prime_g = 0.0;         ///< resin for priming, in resin_g before waste
    double fairing_mL = 0.0;      ///< compound: what the glass leaves low, and the skim over all
};

/// What one copy of a repair takes.
struct Quantities {
    std::vector<PlyAmounts> plies;  ///< in the order of laying
    Totals totals;
    ProudScarf proud;  ///< how far overlapping torn bands leave the scarf proud
    Sanding sanding;
    std::vector<Stage> stages;
    std::vector<Cup> topcoat_cups;  ///< resin_g is topcoat here
};

/// Glass, resin, hardener, topcoat, stages and cups of a repair whose pieces are laid out.
///
/// @error bad_input  a resin without the figures it needs, or a figure outside its range
[[nodiscard]] Result<Quantities> quantities_of(const Repair& repair);

/// Its first stage of a kind; none where it has none.
[[nodiscard]] const Stage* stage_of(const Quantities& quantities, Stage::Of what);

/// Of one of its plies.
/// @pre  there is one of that number
[[nodiscard]] const PlyAmounts& amounts_of(const Quantities& quantities, int ply);

}  // namespace tearline::quantities
