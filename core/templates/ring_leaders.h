#pragma once
#include "core/templates/template.h"

namespace tearline::templates {

/// Leads the names of the rings out of the guide where the rings lie too close for them: a leader
/// line a ring, all to one side of the datum, in the order of the rings, none across another. A
/// ring that comes to no such place keeps its name beside it, and so do all where there is room.
void add_ring_leaders(GrindGuide& guide);

}  // namespace tearline::templates
