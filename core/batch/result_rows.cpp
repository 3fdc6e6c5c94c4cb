#include "core/batch/result_rows.h"

#include <nlohmann/json.hpp>

#include "core/batch/result_lines.h"
#include "core/batch/results_file.h"
#include "core/files/entries.h"

namespace tearline::batch {

namespace fs = std::filesystem;

namespace {

using Json = nlohmann::json;

std::string text_at(const Json& json, const char* key) {
    const auto found = json.find(key);
    return found != json.end() && found->is_string() ? found->get<std::string>() : "";
}

void read_warnings(const Json& json, ResultRow& row) {
    const auto warnings = json.find("warnings");
    if (warnings == json.end() || !warnings->is_array()) return;
    for (const Json& warning : *warnings) {
        if (!warning.is_object()) continue;
        for (const WarningRank rank : warning_ranks)
            if (text_at(warning, "rank") == rank_key(rank)) ++row.warnings[rank];
        const std::string code = text_at(warning, "code");
        auto& codes = row.to_decide;
        if (text_at(warning, "rank") == rank_key(WarningRank::stop) &&
            std::find(codes.begin(), codes.end(), code) == codes.end())
            codes.push_back(code);
    }
}

void read_figures(const Json& json, ResultRow& row) {
    for (const char* key : {"strain_max", "shear_max", "seconds", "peak_MB"})
        if (const auto found = json.find(key); found != json.end() && found->is_number())
            row.figures[key] = *found;
    const auto totals = json.find("totals");
    if (totals == json.end() || !totals->is_object()) return;
    for (const auto& [key, value] : totals->items())
        if (value.is_number()) row.figures[key] = value;
}

}  // namespace

std::optional<double> ResultRow::figure(const std::string& name) const {
    const auto found = figures.find(name);
    return found == figures.end() ? std::nullopt : std::optional(found->second);
}

std::optional<ResultRow> row_of(const std::string& line) {
    const auto known = read_result(line);
    if (!known) return std::nullopt;
    const Json json = Json::parse(line, nullptr, false);
    ResultRow row;
    row.job = known->job;
    row.status = known->status;
    row.message = text_at(json, "message");
    row.folder = text_at(json, "folder");
    read_figures(json, row);
    read_warnings(json, row);
    return row;
}

Result<ResultRows> read_rows(const fs::path& folder) {
    std::map<std::string, ResultRow> by_job;
    ResultRows out;
    std::vector<fs::path> results;
    std::error_code failed;
    for (const std::string& name : files::entries_of(folder, failed))
        if (std::error_code gone; is_results_name(name) && fs::is_regular_file(folder / name, gone))
            results.push_back(folder / name);
    if (results.empty())
        return bad_file(folder.string(),
                        failed ? "cannot be read: " + failed.message()
                               : "holds no results: name the folder that `tearline batch` wrote "
                                 "them into (results.jsonl, or results-K-of-N.jsonl)");
    for (const fs::path& file : results) {
        ResultLines lines(file);
        while (lines.next()) {
            auto row = lines.is_whole() ? row_of(lines.line()) : std::nullopt;
            if (!row) continue;
            const auto [stands, fresh] = by_job.emplace(row->job, *row);
            if (fresh) continue;
            ++out.twice;
            if (!stands->second.status.is_final()) stands->second = *std::move(row);
        }
        if (lines.too_long()) return bad_file(file.string(), no_results_file);
    }
    for (auto& [job, row] : by_job) out.rows.push_back(std::move(row));
    return out;
}

}  // namespace tearline::batch
