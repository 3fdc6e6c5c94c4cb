#pragma once
#include <optional>
#include <vector>

#include "core/job/job.h"
#include "core/quantities/cup.h"

namespace tearline::quantities {

/// What is to be spread in one go.
struct Batch {
    Grams resin;        ///< waste included
    SquareMetres area;  ///< to wet out; a cloth counts each time
};

/// The fewest equal cups of resin with their hardener.
///
/// Each is at most `resin.cup` and, where a gel time counts here, is wetted out within
/// `use_fraction` of it at the laminator's rate. Their resin sums to the batch. What is really
/// mixed is what can be measured (measuring.h): where a cup of `resin.cup` is too small for that,
/// the batch is pooled into fewer and larger ones, but never into more than is spread in time.
///
/// @param besides  taken out of the first of them: mixed and timed with them, counted elsewhere
[[nodiscard]] std::vector<Cup> cups_for(const Batch& batch, const job::Job& job,
                                        const Batch& besides = {});

/// What a coat needs that is taken out of another stage's cup: nothing is mixed for it.
[[nodiscard]] Cup cup_of_another(Grams resin, const job::Job& job);

/// The cup that is mixed before the work to see it gel: 100 g counted as every cup of resin is, and
/// its doses measured as theirs.
///
/// @source  100 g is common practice, and what data sheets time
[[nodiscard]] Cup test_cup(const job::Job& job);

/// The same for topcoat, which has its own hardener; no gel time is known for it.
[[nodiscard]] std::vector<Cup> topcoat_cups(Grams topcoat, const job::Job& job);

}  // namespace tearline::quantities
