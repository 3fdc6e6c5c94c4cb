#pragma once
#include "core/base/text_room.h"
#include "core/base/vec.h"
#include "core/templates/mark.h"

namespace tearline::templates {

/// [-] from one line of words to the next, by letter height
inline constexpr double line_pitch = 1.6;

/// From the middle of a line of text to its end.
[[nodiscard]] inline Vec2 half_width(const Label& label) {
    const double height = label.up.norm();
    return -0.5 * text_width(label.text, height) * turned_left(label.up / height);
}

}  // namespace tearline::templates
