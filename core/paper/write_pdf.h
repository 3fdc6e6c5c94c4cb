#pragma once
#include <string>

#include "core/paper/print_layout.h"

namespace tearline::paper {

/// The pages of a layout as PDF bytes, the same for the same layout on the same machine. Needs a
/// QGuiApplication.
///
/// @error output_failed  Qt could not make the PDF
[[nodiscard]] Result<std::string> pdf_of(const PrintLayout& layout);

/// Takes the moment of writing out of a PDF: it is no property of the plan, and the same plan gives
/// the same bytes.
void forget_the_time(std::string& pdf);

}  // namespace tearline::paper
