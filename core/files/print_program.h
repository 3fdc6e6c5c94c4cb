#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"

namespace tearline::files {

/// What to print a plan's templates on.
struct PdfRequest {
    std::string paper = "A4";  ///< as `tearline-print --paper` takes it
    double print_scale = 1.0;  ///< [-] 100 / measured length of a 100 mm bar
    bool mirror = false;
    bool less_paper = false;  ///< one ring sheet for all mat plies where that is right
    bool sheet = false;       ///< the job sheet, not the templates
};

/// Runs the printing program that stands beside this one and gives back what it writes.
///
/// Printing needs Qt, which would double this program's start-up: it is a program of its own.
/// @param text  the plan as JSON, or the job sheet as HTML
/// @return  the bytes of the PDF
/// @error output_failed  there is no printing program beside this one, or it failed; its words
[[nodiscard]] Result<std::string> pdf_from_print_program(const std::string& text,
                                                         const PdfRequest& request);

/// Becomes the printing program; comes back only when that cannot be started.
///
/// @param words  its arguments
[[nodiscard]] Error become_print_program(const std::vector<std::string>& words);

}  // namespace tearline::files
