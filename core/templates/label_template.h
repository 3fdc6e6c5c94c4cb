#pragma once
#include <string>
#include <vector>

#include "core/templates/template.h"

namespace tearline::templates {

/// The words of one template.
struct Words {
    struct Line {
        std::string text;
        double size = 1.0;  ///< [-] by the block's common letter height
    };
    std::vector<Line> lines;            ///< what the piece is, in the order of reading
    std::vector<std::string> warnings;  ///< whole sentences; broken into lines here
    bool torn_band = false;             ///< a small drawing shows how the band thins out
};

/// Puts the words where there is room: one upright block that crosses no line, as large as fits,
/// clear of the names of the lines (name_lines()). A piece too small for the block has it beside
/// it.
void label_template(Template& outline, const Words& words);

}  // namespace tearline::templates
