#pragma once
#include <string>

namespace tearline::job {

/// A measured figure in plain words: "the gap along, half a batten below" for
/// "hull.measured.gap_along_ends[1]", "row 2 from below, figure 4 from aft" for
/// "hull.grid.offsets[2][4]", "sounding 3" for "damage.sounding[3]".
///
/// @param place  its key path in the job file; one that is not known comes back as it is
[[nodiscard]] std::string figure_words(const std::string& place);

}  // namespace tearline::job
