#pragma once
#include <string>

#include "core/paper/print_layout.h"

namespace tearline::paper {

/// The pages of a layout as PDF bytes, the same for the same layout on the same machine. Needs a
/// QGuiApplication.
///
/// @error output_failed  Qt could not make the PDF
[[nodiscard]] Result<std::string> pdf_of(const PrintLayout& layout);

}  // namespace tearline::paper
