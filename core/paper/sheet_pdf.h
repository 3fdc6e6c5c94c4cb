#pragma once
#include <string>

#include "core/base/result.h"
#include "core/paper/paper.h"

namespace tearline::paper {

/// A job sheet as PDF bytes: the text and pictures of job-sheet.html on numbered pages, the same
/// for the same sheet on the same machine. Needs a QGuiApplication.
///
/// @param html  as core/job_sheet/job_sheet.h makes it
/// @error bad_input      no job sheet
/// @error output_failed  Qt could not make the PDF
[[nodiscard]] Result<std::string> sheet_pdf(const std::string& html, const Paper& paper);

}  // namespace tearline::paper
