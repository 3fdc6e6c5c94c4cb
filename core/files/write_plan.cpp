#include "core/files/write_plan.h"

#include <algorithm>
#include <functional>
#include <iterator>

#include "core/base/sha256.h"
#include "core/base/side_by_side.h"
#include "core/drawing/guide_drawing.h"
#include "core/drawing/piece_drawing.h"
#include "core/files/origin.h"
#include "core/files/print_program.h"
#include "core/files/replace_folder.h"
#include "core/formats/dxf.h"
#include "core/formats/hpgl.h"
#include "core/formats/json_writer.h"
#include "core/formats/piece_mesh.h"
#include "core/formats/plan_json.h"
#include "core/formats/svg_template.h"
#include "core/formats/template_set_of.h"
#include "core/hull/read_limits.h"
#include "core/job_sheet/job_sheet.h"
#include "core/job_sheet/overview_svg.h"
#include "core/page/page.h"
#include "core/paper/paper.h"

namespace tearline::files {

namespace {

/// What a paper is called in a file's name: "roll-914-mm".
std::string in_name(std::string paper) {
    std::replace(paper.begin(), paper.end(), ' ', '-');
    return paper;
}

/// A PDF that the printing program is to make.
struct Pdf {
    std::string name;  ///< without ".pdf"
    const std::string* text;
    PdfRequest request;
};

/// The templates on the plan's own paper and on those asked for.
std::vector<Pdf> template_pdfs(const std::string& json, Units units, const OutputOptions& options) {
    std::vector<std::string> papers{paper::own_paper(units)};
    for (const std::string& paper : options.papers)
        if (std::find(papers.begin(), papers.end(), paper) == papers.end()) papers.push_back(paper);
    std::vector<Pdf> found;
    for (const std::string& paper : papers) {
        PdfRequest request;
        request.paper = paper;
        request.print_scale = options.print_scale;
        request.mirror = options.mirror;
        request.less_paper = options.less_paper;
        found.push_back({"templates-" + in_name(paper), &json, std::move(request)});
    }
    return found;
}

/// The job sheet on the sheets of paper asked for, which no roll is; else on the plan's own.
std::vector<Pdf> sheet_pdfs(const std::string& html, Units units, const OutputOptions& options) {
    std::vector<std::string> papers;
    for (const std::string& paper : options.papers)
        if (!paper.starts_with("roll")) papers.push_back(paper);
    if (papers.empty()) papers.push_back(paper::own_paper(units));
    std::vector<Pdf> found;
    for (const std::string& paper : papers) {
        PdfRequest request;
        request.paper = paper;
        request.sheet = true;
        found.push_back({"job-sheet-" + in_name(paper), &html, std::move(request)});
    }
    return found;
}

/// What a file of that name holds; nothing where there is none.
std::string bytes_of(const FileSet& files, std::string_view name) {
    const auto found = std::find_if(files.begin(), files.end(),
                                    [name](const auto& file) { return file.name == name; });
    return found == files.end() ? std::string() : found->bytes;
}

/// Each takes its time, so that whoever waits is told which one is being made.
Result<void> make_pdfs(FileSet& files, const std::vector<Pdf>& pdfs, const Progress& progress) {
    for (std::size_t made = 0; made < pdfs.size(); ++made) {
        const std::string name = pdfs[made].name + ".pdf";
        const double share = static_cast<double>(made) / static_cast<double>(pdfs.size());
        if (progress && !progress(name, share))
            return tl::unexpected(output_failed("stopped as asked"));
        auto pdf = pdf_from_print_program(*pdfs[made].text, pdfs[made].request);
        if (!pdf) return tl::unexpected(pdf.error());
        files.push_back({name, *std::move(pdf)});
    }
    return {};
}

/// Files that are made side by side, in the order in which they are to stand.
class Makers {
public:
    using Maker = std::function<void(FileSet&)>;

    void several(Maker maker) { makers_.push_back(std::move(maker)); }
    void one(std::string name, std::function<std::string()> bytes) {
        several([name = std::move(name), bytes = std::move(bytes)](FileSet& files) {
            files.push_back({name, bytes()});
        });
    }

    [[nodiscard]] FileSet files() const {
        std::vector<FileSet> made(makers_.size());
        side_by_side(made.size(), [&](std::size_t i) { makers_[i](made[i]); });
        FileSet all;
        for (FileSet& part : made) std::move(part.begin(), part.end(), std::back_inserter(all));
        return all;
    }

private:
    std::vector<Maker> makers_;
};

void add_meshes(Makers& makers, const std::vector<templates::LaidPly>& plies) {
    for (const templates::LaidPly& ply : plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            makers.one("pieces/" + piece.piece.id + ".bin",
                       [&piece] { return formats::piece_mesh(piece.piece); });
}

/// @param set  outlives `makers`
void add_svg(Makers& makers, const templates::TemplateSet& set, const drawing::Look& look) {
    for (const templates::PieceTemplate& piece : set.pieces)
        makers.one("templates/" + piece.id + ".svg", [&piece, look] {
            return formats::svg_template(drawing::piece_drawing(piece, look));
        });
    makers.several([&set, look](FileSet& files) {
        for (const templates::TemplateSet& part : templates::parts_of(set)) {
            const drawing::Drawing guide = drawing::guide_drawing(part, look);
            const std::string of = part.part.empty() ? "" : "-" + in_name(part.part);
            if (!guide.lines.empty())
                files.push_back(
                    {"templates/grind-guide" + of + ".svg", formats::svg_template(guide)});
        }
    });
}

}  // namespace

std::optional<formats::CutterFiles> cutter_files_named(std::string_view name) {
    if (name == "one") return formats::CutterFiles::one;
    if (name == "rolls") return formats::CutterFiles::rolls;
    if (name == "pieces") return formats::CutterFiles::pieces;
    return std::nullopt;
}

std::optional<Format> format_named(std::string_view name) {
    if (name == "svg") return Format::svg;
    if (name == "dxf") return Format::dxf;
    if (name == "dxf2000") return Format::dxf2000;
    if (name == "hpgl") return Format::hpgl;
    if (name == "pdf") return Format::pdf;
    if (name == "page") return Format::page;
    return std::nullopt;
}

bool OutputOptions::wants(Format format) const {
    return std::find(formats.begin(), formats.end(), format) != formats.end();
}

std::string OutputOptions::sha256(int after_ply) const {
    formats::JsonWriter json;
    json.begin_object().key("formats").begin_array();
    for (const Format format : formats) json.value(static_cast<int>(format));
    json.end_array().key("cutter_files").begin_array();
    for (const formats::CutterFiles kind : cutter_files) json.value(static_cast<int>(kind));
    json.end_array().field("chord_error", cutter.chord_error).field("arcs", cutter.arcs);
    json.field("drill", cutter.drill).field("part", pens.part).field("draw", pens.draw);
    json.field("write", pens.write).field("mirror", mirror).field("papers", papers);
    json.field("less_paper", less_paper).field("print_scale", print_scale);
    json.field("read_seconds", hull::read_limits().seconds);
    json.field("read_gigabytes", hull::read_limits().gigabytes);
    json.field("after_ply", after_ply).end_object();
    return sha256_hex(json.take());
}

void add_cutter_files(FileSet& files, const formats::CutterJob& job, const OutputOptions& options,
                      formats::CutterFiles kind) {
    formats::CutterOptions cutter = options.cutter;
    cutter.mirror = options.mirror;
    for (const formats::CutterSheet& sheet : formats::cutter_sheets(job, kind, cutter)) {
        if (options.wants(Format::dxf))
            files.push_back({sheet.name + ".dxf", formats::dxf_r12(sheet)});
        if (options.wants(Format::dxf2000))
            files.push_back({sheet.name + "-2000.dxf", formats::dxf_2000(sheet)});
        if (options.wants(Format::hpgl))
            files.push_back({sheet.name + ".plt", formats::hpgl(sheet, options.pens)});
    }
}

Result<void> add_pdfs(FileSet& files, const std::string& json, Units units,
                      const OutputOptions& options) {
    const std::string html = bytes_of(files, "job-sheet.html");
    std::vector<Pdf> pdfs = template_pdfs(json, units, options);
    if (!html.empty())
        for (Pdf& pdf : sheet_pdfs(html, units, options)) pdfs.push_back(std::move(pdf));
    return make_pdfs(files, pdfs, options.progress);
}

Result<FileSet> plan_files(const Plan& plan, const OutputOptions& options) {
    Makers makers;
    makers.one("plan.json", [&] { return formats::plan_json(plan); });
    makers.one("overview.svg", [&] { return job_sheet::overview_svg(plan); });
    if (!plan.flat) makers.one("job-sheet.html", [&] { return job_sheet::job_sheet(plan); });
    add_meshes(makers, plan.plies);
    if (plan.backing) add_meshes(makers, plan.backing->pieces);
    if (plan.core) add_meshes(makers, plan.core->pieces);
    if (options.wants(Format::page))
        makers.one("page.html", [&] {
            return page::plan_page(plan, options.hull ? *options.hull : page::hull_of(plan));
        });
    const templates::TemplateSet set = formats::template_set_of(plan);
    if (options.wants(Format::svg)) add_svg(makers, set, {options.mirror, false});
    const formats::CutterJob cut{plan.job.title, plan.job.layup.copies, set.pieces, plan.rolls};
    if (options.wants(Format::dxf) || options.wants(Format::dxf2000) || options.wants(Format::hpgl))
        for (const formats::CutterFiles kind : options.cutter_files)
            makers.several(
                [&, kind](FileSet& files) { add_cutter_files(files, cut, options, kind); });
    FileSet files = makers.files();
    if (!options.wants(Format::pdf)) return files;
    const std::string json = files.front().bytes;
    if (const auto added = add_pdfs(files, json, plan.job.display_units, options); !added)
        return tl::unexpected(added.error());
    return files;
}

Result<std::string> write_plan(const Plan& plan, const std::filesystem::path& folder,
                               const OutputOptions& options, const std::string& job_sha256) {
    const auto files = plan_files(plan, options);
    if (!files) return tl::unexpected(files.error());
    // A scan that is gone since it was read has no hash, and what has none is planned again.
    const auto models = models_sha256(plan.job, plan.model_sha256);
    Origin origin{
        {}, models ? *models : std::nullopt, options.sha256(plan.job.after_ply), program_sha256()};
    if (!job_sha256.empty()) origin.job = job_sha256;
    return replace_folder(folder, *files, default_patience, origin);
}

}  // namespace tearline::files
