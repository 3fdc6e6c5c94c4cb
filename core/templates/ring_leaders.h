#pragma once
#include "core/base/text_room.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// Leads the names of the rings out of the guide where the rings lie too close for them: a leader
/// line a ring, all to one side of the datum, in the order of the rings, none across another. A
/// ring that comes to no such place keeps its name beside it, and so do all where there is room.
void add_ring_leaders(GrindGuide& guide);

/// The room of a ring's name at the end of its leader line, upright, its height that of capitals.
[[nodiscard]] inline TextBox leader_text_box(const GrindGuide::Ring& ring) {
    constexpr double capital = 2.4, gap = 1.2;  // [mm]
    const Vec2& end = ring.leader.back();
    const double right = end.x() < ring.leader.front().x() ? -1.0 : 1.0;
    const double half = 0.5 * (text_width(ring.text, capital) + capital);
    return {end + Vec2(right * (gap + half), 0.0), Vec2(half, 0.0), Vec2(0.0, 0.5 * capital)};
}

}  // namespace tearline::templates
