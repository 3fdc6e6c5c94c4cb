#include "core/boat/write_boat.h"

#include <algorithm>
#include <cctype>
#include <memory>
#include <utility>

#include "core/base/sha256.h"
#include "core/boat/boat_json.h"
#include "core/boat/boat_picture.h"
#include "core/boat/boat_sheet.h"
#include "core/files/origin.h"
#include "core/files/replace_folder.h"
#include "core/formats/dxf.h"
#include "core/formats/hpgl.h"
#include "core/formats/template_set_of.h"
#include "core/page/page.h"
#include "core/plane/box.h"

namespace tearline::boat {

namespace {

using files::FileSet;
using files::Format;

/// Every piece under the name that it has among all.
std::vector<templates::PieceTemplate> pieces_of(const Boat& boat) {
    std::vector<templates::PieceTemplate> all;
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        for (templates::PieceTemplate& piece : formats::template_set_of(*repair.plan).pieces) {
            piece.id = piece_name(repair.name, piece.id);
            all.push_back(std::move(piece));
        }
    }
    return all;
}

/// "02-left-of-the-blue-roll": whatever a remnant is called.
std::string remnant_stem(std::size_t index, const std::string& name) {
    std::string stem = (index < 9 ? "0" : "") + std::to_string(index + 1) + "-";
    for (const char c : name)
        stem += std::isalnum(static_cast<unsigned char>(c)) != 0
                    ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                    : '-';
    constexpr std::size_t longest = 60;
    return stem.substr(0, longest);
}

/// A plotter knows no place left of its home or below it: the corner of the box round the remnant,
/// its last drawing, lies there, wherever it was outlined.
formats::CutterSheet from_home(formats::CutterSheet sheet) {
    const Vec2 low = plane::box_round(sheet.drawings.back().lines.front().points).low;
    for (Vec2& place : sheet.places) place -= low;
    return sheet;
}

void add_remnants(FileSet& out, const Boat& boat, const formats::CutterJob& job,
                  const files::OutputOptions& options) {
    formats::CutterOptions cutter = options.cutter;
    cutter.mirror = options.mirror;
    for (std::size_t i = 0; i < boat.nest.remnants.size(); ++i) {
        const layout::CutRemnant& remnant = boat.nest.remnants[i];
        if (remnant.placed.empty()) continue;
        layout::Roll as_roll;
        as_roll.fabric = remnant.fabric;
        as_roll.placed = remnant.placed;
        for (const Vec2& p : remnant.outline)
            as_roll.length_mm = std::max(as_roll.length_mm, p.x());
        const formats::CutterSheet sheet = formats::remnant_sheet(
            job, as_roll, remnant.outline, "remnants/" + remnant_stem(i, remnant.name), cutter);
        if (options.wants(Format::dxf))
            out.push_back({sheet.name + ".dxf", formats::dxf_r12(sheet)});
        if (options.wants(Format::dxf2000))
            out.push_back({sheet.name + "-2000.dxf", formats::dxf_2000(sheet)});
        if (options.wants(Format::hpgl))
            out.push_back({sheet.name + ".plt", formats::hpgl(from_home(sheet), options.pens)});
    }
}

/// What machines cut of all places: one file a roll, one a remnant.
void add_nests(FileSet& out, const Boat& boat, const files::OutputOptions& options) {
    if (!options.wants(Format::dxf) && !options.wants(Format::dxf2000) &&
        !options.wants(Format::hpgl))
        return;
    const auto pieces = pieces_of(boat);
    const formats::CutterJob job{boat.job.title, 1, pieces, boat.nest.rolls};
    files::add_cutter_files(out, job, options, formats::CutterFiles::rolls);
    add_remnants(out, boat, job, options);
}

Result<FileSet> boat_files(const Boat& boat, const files::OutputOptions& options) {
    FileSet out;
    out.push_back({"plan.json", boat_json(boat)});
    out.push_back({"overview.svg", boat_overview(boat)});
    out.push_back({"job-sheet.html", boat_sheet(boat)});
    add_nests(out, boat, options);
    if (options.wants(Format::pdf))
        if (const auto added = files::add_pdfs(out, boat_json_with_plans(boat),
                                               boat.any().job.display_units, options);
            !added)
            return tl::unexpected(added.error());
    files::OutputOptions of_place = options;
    std::shared_ptr<const hull::Hull> shown;  // mostly one for all places
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        if (options.wants(Format::page) && repair.hull != shown) {
            shown = repair.hull;
            of_place.hull = page::shape_of(*shown);
        }
        auto files = files::plan_files(*repair.plan, of_place);
        if (!files) return files;
        for (files::OutputFile& file : *files)
            out.push_back({repair.name + "/" + file.name, std::move(file.bytes)});
    }
    return out;
}

/// Hash of the models of all places: of one where they read the same.
std::optional<std::string> models_of(const Boat& boat) {
    std::vector<std::string> hashes;
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        const auto models = files::models_sha256(repair.plan->job, repair.plan->model_sha256);
        if (!models || !*models) continue;
        if (std::find(hashes.begin(), hashes.end(), **models) == hashes.end())
            hashes.push_back(**models);
    }
    if (hashes.empty()) return std::nullopt;
    if (hashes.size() == 1) return hashes.front();
    std::string all;
    for (const std::string& hash : hashes) all += hash;
    return sha256_hex(all);
}

}  // namespace

Result<std::string> write_boat(const Boat& boat, const std::filesystem::path& folder,
                               const files::OutputOptions& options, const std::string& job_sha256) {
    const auto out = boat_files(boat, options);
    if (!out) return tl::unexpected(out.error());
    const files::Origin origin{job_sha256, models_of(boat), options.sha256(),
                               files::program_sha256()};
    return files::replace_folder(folder, *out, files::default_patience, origin);
}

}  // namespace tearline::boat
