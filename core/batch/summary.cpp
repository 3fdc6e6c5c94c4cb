#include "core/batch/summary.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>

#include "core/base/numbers.h"
#include "core/batch/result_rows.h"
#include "core/batch/summary_page.h"
#include "core/formats/csv.h"

namespace tearline::batch {

namespace fs = std::filesystem;

namespace {

/// Figures of the table, by their names in a result.
constexpr const char* figures[] = {
    "ground_area_m2",    "glass_area_m2", "glass_g",   "resin_g", "hardener_g", "topcoat_g",
    "laid_thickness_mm", "strain_max",    "shear_max", "seconds", "peak_MB"};

std::string csv_table(const ResultRows& results) {
    std::vector<std::string> head{"job", "status", "message", "folder"};
    head.insert(head.end(), std::begin(figures), std::end(figures));
    for (const char* rank : {"stop", "do", "know", "to_decide"}) head.emplace_back(rank);
    std::string out = formats::csv_line(head);
    for (const ResultRow& row : results.rows) {
        std::string status = row.status.json();
        std::erase(status, '"');
        std::vector<std::string> cells{formats::csv_text(row.job), status,
                                       formats::csv_text(row.message),
                                       formats::csv_text(row.folder)};
        for (const char* name : figures) {
            const auto figure = row.figure(name);
            cells.push_back(figure ? shortest(*figure) : "");
        }
        std::string codes;
        for (const std::string& code : row.to_decide) codes += (codes.empty() ? "" : " ") + code;
        for (const WarningRank rank : warning_ranks) {
            const auto found = row.warnings.find(rank);
            cells.push_back(std::to_string(found == row.warnings.end() ? 0 : found->second));
        }
        cells.push_back(formats::csv_text(codes));
        out += formats::csv_line(cells);
    }
    return out;
}

/// Under its name whole or not at all.
Result<void> put(const fs::path& file, const std::string& text) {
    const fs::path fresh = file.parent_path() / ("." + file.filename().string() + ".new");
    std::ofstream out(fresh, std::ios::binary | std::ios::trunc);
    out << text;
    out.close();
    if (out && std::rename(fresh.c_str(), file.c_str()) == 0) return {};
    const int reason = errno;
    std::remove(fresh.c_str());
    return output_failed(file.string(), std::string("cannot be written: ") + std::strerror(reason));
}

}  // namespace

Result<Summary> write_summary(const fs::path& folder) {
    const auto results = read_rows(folder);
    if (!results) return tl::unexpected(results.error());
    if (auto written = put(folder / "summary.csv", csv_table(*results)); !written)
        return tl::unexpected(written.error());
    if (auto written = put(folder / "summary.html", summary_page(*results)); !written)
        return tl::unexpected(written.error());
    return Summary{summary_words(*results), (folder / "summary.html").string()};
}

}  // namespace tearline::batch
