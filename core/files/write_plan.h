#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/progress.h"
#include "core/base/result.h"
#include "core/files/file_set.h"
#include "core/formats/cutter_sheet.h"
#include "core/formats/hpgl.h"
#include "core/page/shape.h"
#include "core/plan/plan.h"

namespace tearline::files {

enum class Format { svg, dxf, dxf2000, hpgl, pdf, page };

/// The format of that name: svg, dxf, dxf2000, hpgl, pdf or page.
[[nodiscard]] std::optional<Format> format_named(std::string_view name);

/// The way to fill cutter files of that name: one, rolls or pieces.
[[nodiscard]] std::optional<formats::CutterFiles> cutter_files_named(std::string_view name);

struct OutputOptions {
    std::vector<Format> formats{Format::svg, Format::dxf};
    std::vector<formats::CutterFiles> cutter_files{formats::CutterFiles::one,
                                                   formats::CutterFiles::rolls};
    formats::CutterOptions cutter;  ///< `mirror` there is set by the one below
    formats::HpglPens pens;
    bool mirror = false;              ///< templates mirrored and marked MIRRORED
    std::vector<std::string> papers;  ///< PDF: further ones, as `tearline-print --paper` takes them
    bool less_paper = false;          ///< PDF: one ring sheet for all mat plies where that is right
    double print_scale = 1.0;         ///< [-] for printers that print short; PDF only
    /// Page: the whole hull; without one, as far as the plan itself keeps it, coarse.
    std::optional<page::Shape> hull;
    Progress progress;  ///< PDF: told of each before it is made, with the share that is done

    [[nodiscard]] bool wants(Format format) const;

    /// SHA-256 of the options by their names and values, and of what else shapes a plan: how much a
    /// model may take to be read.
    [[nodiscard]] std::string sha256(int after_ply = 0) const;
};

/// Every file of a plan, plan.json first.
///
/// @error output_failed  a PDF could not be made
[[nodiscard]] Result<FileSet> plan_files(const Plan& plan, const OutputOptions& options);

/// Adds the sheets of one kind in every cutter format that is wanted.
void add_cutter_files(FileSet& files, const formats::CutterJob& job, const OutputOptions& options,
                      formats::CutterFiles kind);

/// The templates of a plan and its sheet on the papers asked for, and on its units' own.
///
/// @param files  get the PDFs; "job-sheet.html" is among them where there is a sheet
/// @param json   of the plan, as the printing program reads it
[[nodiscard]] Result<void> add_pdfs(FileSet& files, const std::string& json, Units units,
                                    const OutputOptions& options);

/// Writes every file of a plan into a folder: all of it or nothing.
///
/// @param job_sha256  of the job file's bytes, for the manifest; "" where there are none
/// @return  what a person has to be told though all is written; mostly ""
/// @error output_failed  the folder is not ours, holds edited files, or cannot be written
[[nodiscard]] Result<std::string> write_plan(const Plan& plan, const std::filesystem::path& folder,
                                             const OutputOptions& options = {},
                                             const std::string& job_sha256 = {});

}  // namespace tearline::files
