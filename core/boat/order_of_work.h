#pragma once
#include <vector>

#include "core/boat/boat.h"

namespace tearline::boat {

/// What can be laid in one go, round by round: the first stages of every place, then the next ones,
/// once those have come to tack; what has to cure first comes in rounds of its own: a part on
/// another, and a place whose covers lie on those of one before it.
///
/// Within a round small places come first, side by side, so that they can take of one cup.
[[nodiscard]] std::vector<Round> order_of_work(const std::vector<Repair>& repairs,
                                               const PairsThatMeet& meeting);

/// Cups that neighbours in a round take of together: where each of their stages takes one cup, all
/// of it fits into one, and it is spread within the pot life. Only of one resin with one dose; a
/// place of several copies or parts, or with a backing, keeps cups of its own.
///
/// The stages lose their own cups and name the shared one.
[[nodiscard]] std::vector<SharedCup> share_cups(const std::vector<Round>& rounds,
                                                std::vector<Repair>& repairs);

/// Fills in the minutes of every go.
void time_rounds(const std::vector<Repair>& repairs, const std::vector<SharedCup>& cups,
                 std::vector<Round>& rounds);

}  // namespace tearline::boat
