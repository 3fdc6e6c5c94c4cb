#include "cli/print/open_plan.h"

#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "core/base/sha256.h"

namespace tearline::cli {

namespace {

std::string all_of(std::istream& stream) {
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

/// What the manifest says a file should hash to; empty without a manifest.
std::string expected_hash(const std::filesystem::path& folder, const std::string& name) {
    std::ifstream file(folder / "manifest.json", std::ios::binary);
    if (!file) return {};
    const auto json = nlohmann::json::parse(all_of(file), nullptr, false);
    if (!json.is_object() || !json.contains("files") || !json["files"].is_array()) return {};
    for (const auto& entry : json["files"])
        if (entry.is_object() && entry.value("name", "") == name) return entry.value("sha256", "");
    return {};
}

/// A file of a plan's folder, as it was written.
Result<std::string> checked_file(const std::string& folder, const std::string& name) {
    const std::filesystem::path path(folder);
    std::error_code error;
    if (!std::filesystem::is_directory(path, error))
        return bad_file(folder, "no such folder; give the folder that `tearline plan` wrote");
    std::ifstream file(path / name, std::ios::binary);
    if (!file)
        return bad_file(folder, "there is no " + name +
                                    " to read in it; give the folder that `tearline plan` wrote");
    std::string text = all_of(file);
    const std::string expected = expected_hash(path, name);
    if (!expected.empty() && sha256_hex(text) != expected)
        return bad_file((path / name).string(),
                        "was edited after it was written, so it cannot be trusted; run "
                        "`tearline plan` again");
    return text;
}

/// The plan of a boat with those of its places, each from its own folder, in it.
Result<std::string> with_places(const std::string& folder, const std::string& text) {
    auto boat = nlohmann::json::parse(text, nullptr, false);
    if (!boat.is_object() || boat.value("schema", "") != "tearline-boat/1" ||
        !boat.contains("repairs") || !boat["repairs"].is_array())
        return text;
    auto plans = nlohmann::json::array();
    for (const auto& repair : boat["repairs"]) {
        if (!repair.is_object() || !repair.contains("plan") || !repair["plan"].is_string())
            continue;
        const auto plan = checked_file(folder, repair["plan"].get<std::string>());
        if (!plan) return tl::unexpected(plan.error());
        plans.push_back({{"name", repair.value("name", "")},
                         {"plan", nlohmann::json::parse(*plan, nullptr, false)}});
    }
    boat["plans"] = std::move(plans);
    return boat.dump();
}

}  // namespace

Result<templates::TemplateSet> open_plan(const std::string& folder) {
    if (folder == "-") return paper::read_plan_json(all_of(std::cin));
    auto text = checked_file(folder, "plan.json");
    if (text) text = with_places(folder, *text);
    if (!text) return tl::unexpected(text.error());
    return paper::read_plan_json(*text);
}

Result<std::string> open_sheet(const std::string& folder) {
    if (folder == "-") return all_of(std::cin);
    return checked_file(folder, "job-sheet.html");
}

}  // namespace tearline::cli
