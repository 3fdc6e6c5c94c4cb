#pragma once
#include "core/hull/topology.h"

namespace tearline::hull {

struct RepeatCounts {
    std::size_t repeated = 0;  ///< copies of a triangle that stays
    std::size_t folded = 0;    ///< pairs back to back that joined nothing, both dropped
};

/// Keeps each triangle once, whatever way round its copies are turned.
///
/// Two sides of a thin end often meet in triangles lying flat on each other, turned against each
/// other; where keeping one of such a pair leaves an edge with more than two triangles, the pair
/// is a fold without thickness and both go.
RepeatCounts drop_repeated(Triangles& triangles, std::size_t vertices);

}  // namespace tearline::hull
