#pragma once
#include <cstddef>
#include <vector>

#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// What one cup wets of the ground or of one ply.
struct CupShare {
    int ply = 0;                  ///< its number; 0 for the priming coat on the ground glass
    double from = 0.0, to = 1.0;  ///< [-] of that layer's resin, in the order of use
    double area_m2 = 0.0;         ///< of cloth, or of ground, that it wets
};

/// Where the cups of a stage go, a list a cup: each layer takes its own resin in the order of
/// laying, the priming coat first where the stage has to hold it, and waste is spread evenly.
///
/// @param index  of the stage in `quantities.stages`
[[nodiscard]] std::vector<std::vector<CupShare>> cup_shares(const Quantities& quantities,
                                                            std::size_t index);

/// Area that a stage wets: its cloth, and the ground where it primes it.
[[nodiscard]] SquareMetres stage_area(const Quantities& quantities, std::size_t index);

/// Whether the priming coat, too small to be dosed, comes out of the next stage's first cup.
[[nodiscard]] bool primed_from_next(const Quantities& quantities);

/// How many cups are really mixed for a stage; none where it takes of a boat's.
[[nodiscard]] std::size_t cups_mixed(const Quantities& quantities, std::size_t index);

/// What all cups of resin hold, as `totals.resin_g` counts it: what the job needs and what is left
/// over of cups.
[[nodiscard]] Grams mixed_in_all(const Quantities& quantities);

/// Whether the priming coat is laid from this stage's cups.
[[nodiscard]] bool stage_primes(const Quantities& quantities, std::size_t index);

}  // namespace tearline::quantities
