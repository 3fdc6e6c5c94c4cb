#pragma once
#include <array>
#include <string>
#include <vector>

#include "core/base/text_room.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// The words that a drawing puts beside a mark, the same in every format; none where the mark says
/// nothing, has its own place for words (a Label), or another mark says the same.
///
/// @param marks  all of the template, `mark` one of them
[[nodiscard]] std::string words_beside(const Mark& mark, const std::vector<Mark>& marks);

/// The middle of a run of points, for words along it: a chord of about `length`, the whole run
/// where that is shorter [mm].
[[nodiscard]] std::array<Vec2, 2> middle_part(const std::vector<Vec2>& run, double length = 40.0);

/// The room of a ring's name at the end of its leader line, upright, its height that of capitals.
[[nodiscard]] TextBox led_name(const GrindGuide::Ring& ring);

}  // namespace tearline::templates
