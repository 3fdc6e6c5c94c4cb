#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"
#include "core/output/cutter_sheet.h"
#include "core/output/hpgl.h"
#include "core/plan.h"

namespace tearline::output {

enum class Format { svg, dxf, dxf2000, hpgl, pdf };

/// The format of that name: svg, dxf, dxf2000, hpgl or pdf.
[[nodiscard]] std::optional<Format> format_named(std::string_view name);

/// The way to fill cutter files of that name: one, rolls or pieces.
[[nodiscard]] std::optional<CutterFiles> cutter_files_named(std::string_view name);

struct OutputOptions {
    std::vector<Format> formats{Format::svg, Format::dxf};
    std::vector<CutterFiles> cutter_files{CutterFiles::one, CutterFiles::rolls};
    CutterOptions cutter;  ///< `mirror` there is set by the one below
    HpglPens pens;
    bool mirror = false;              ///< templates mirrored and marked MIRRORED
    std::vector<std::string> papers;  ///< PDF: further ones, as `tearline-print --paper` takes them
    bool less_paper = false;          ///< PDF: one ring sheet for all mat plies where that is right
    double print_scale = 1.0;         ///< [-] for printers that print short; PDF only
};

/// The plan as schema "tearline-plan/1".
[[nodiscard]] std::string plan_json(const Plan& plan);

/// Writes every file of a plan into a folder: all of it or nothing.
///
/// @error output_failed  the folder is not ours, holds edited files, or cannot be written
[[nodiscard]] Result<void> write_plan(const Plan& plan, const std::filesystem::path& folder,
                                      const OutputOptions& options = {});

}  // namespace tearline::output
