#pragma once

namespace tearline::pieces {

/// Which ways to help cloth are tried: the usual ones, and the ones between them, which only serve
/// where the laps and cuts of the ply before leave no room for a usual one; at last, over what bends
/// as tightly as a tube's foot, mat torn to small pieces, whose edges interlock (SOURCES.md, Drape).
enum class Search { usual, between, small };

}  // namespace tearline::pieces
