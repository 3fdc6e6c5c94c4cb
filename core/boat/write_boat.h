#pragma once
#include <filesystem>
#include <string>

#include "core/base/result.h"
#include "core/boat/boat.h"
#include "core/files/write_plan.h"

namespace tearline::boat {

/// Writes every file of a boat into a folder, all of it or nothing: a folder for each place that is
/// planned, under its name, and what is of all of them: plan.json, overview.svg, job-sheet.html,
/// the nested rolls and remnants for cutters, and the PDFs that are asked for.
///
/// @param job_sha256  of the job file's bytes, for the manifest
/// @return  what a person has to be told though all is written; mostly ""
/// @error output_failed  as files::write_plan()
[[nodiscard]] Result<std::string> write_boat(const Boat& boat, const std::filesystem::path& folder,
                                             const files::OutputOptions& options,
                                             const std::string& job_sha256);

}  // namespace tearline::boat
