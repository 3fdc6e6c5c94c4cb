#pragma once
#include <string>

#include "core/formats/cutter_sheet.h"

namespace tearline::formats {

/// Which pen of the machine does what; 0 leaves it out.
struct HpglPens {
    int part = 1;   ///< edges to tear or cut, holes, relief cuts
    int draw = 2;   ///< lines that are only drawn
    int write = 3;  ///< words
};

/// The pieces of a sheet as HPGL, 40 steps to the millimetre. Overcut and the offset of a drag
/// knife belong to the machine.
[[nodiscard]] std::string hpgl(const CutterSheet& sheet, const HpglPens& pens = {});

}  // namespace tearline::formats
