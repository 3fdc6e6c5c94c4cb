#include "core/plane/opening.h"

#include "core/plane/boolean.h"

namespace tearline::plane {

std::vector<Loop2> opened(const std::vector<Loop2>& loops, double width, double chord) {
    return offset(offset(loops, -0.5 * width, chord), 0.5 * width, chord);
}

std::vector<Loop2> closed(const std::vector<Loop2>& loops, double width, double chord) {
    return offset(offset(loops, 0.5 * width, chord), -0.5 * width, chord);
}

bool holds_disc(const Region2& region, double width, double chord) {
    return !offset(loops_of({region}), -0.5 * width, chord).empty();
}

}  // namespace tearline::plane
