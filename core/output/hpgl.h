#pragma once
#include <string>
#include <vector>

#include "core/output/drawing.h"

namespace tearline::output {

/// Which pen of the machine does what; 0 leaves it out.
struct HpglPens {
    int part = 1;   ///< edges to tear or cut, holes, relief cuts
    int draw = 2;   ///< lines that are only drawn
    int write = 3;  ///< words
};

/// All drawings in one row as HPGL, 40 steps to the millimetre. Overcut and the offset of a drag
/// knife belong to the machine.
[[nodiscard]] std::string hpgl(const std::vector<Drawing>& drawings, const HpglPens& pens = {});

}  // namespace tearline::output
