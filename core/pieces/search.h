#pragma once

namespace tearline::pieces {

/// Which ways to help cloth are tried: the usual ones, and the ones between them, which only serve
/// where the laps and cuts of the ply before leave no room for a usual one.
enum class Search { usual, between };

}  // namespace tearline::pieces
