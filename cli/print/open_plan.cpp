#include "cli/print/open_plan.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "core/base/sha256.h"

namespace tearline::cli {

namespace {

using Json = nlohmann::json;

constexpr int deepest = 100;  // brackets in brackets: ours are under a dozen

constexpr std::uintmax_t largest = 1'000'000'000;  // [bytes] ours are a few MB

/// A pipe may have no end: it is no plan then, however it goes on.
std::string all_of(std::istream& stream) {
    constexpr std::size_t block = 1u << 20u;  // [bytes]
    std::string bytes;
    while (stream && bytes.size() <= largest) {
        const std::size_t before = bytes.size();
        bytes.resize(before + block);
        stream.read(bytes.data() + before, block);
        bytes.resize(before + static_cast<std::size_t>(stream.gcount()));
    }
    return bytes;
}

/// Discarded where it is no JSON or goes deeper than a plan does, which would be written again as
/// deep into the stack.
Json parsed(const std::string& text) {
    bool deep = false;
    Json json = Json::parse(
        text,
        [&deep](int depth, Json::parse_event_t, Json&) {
            deep = deep || depth > deepest;
            return !deep;
        },
        false);
    return deep ? Json(Json::value_t::discarded) : json;
}

/// "" where there is no text under the key.
std::string text_at(const Json& object, const char* key) {
    if (!object.is_object()) return {};
    const auto found = object.find(key);
    return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

/// Whether a name that a file holds leads to a place in the file's own folder.
bool stays_inside(const std::filesystem::path& name) {
    return !name.empty() && name.is_relative() &&
           std::find(name.begin(), name.end(), std::filesystem::path("..")) == name.end();
}

/// No pipe, which would be waited for, nor a device, which has no end, nor what is far too large to
/// be ours.
bool is_file(const std::filesystem::path& path) {
    std::error_code gone;
    return std::filesystem::is_regular_file(path, gone) &&
           std::filesystem::file_size(path, gone) <= largest && !gone;
}

/// What the manifest says a file should hash to; empty without a manifest.
std::string expected_hash(const std::filesystem::path& folder, const std::string& name) {
    const auto manifest = folder / "manifest.json";
    if (!is_file(manifest)) return {};
    std::ifstream file(manifest, std::ios::binary);
    const Json json = parsed(all_of(file));
    if (!json.is_object() || !json.contains("files") || !json["files"].is_array()) return {};
    for (const Json& entry : json["files"])
        if (text_at(entry, "name") == name) return text_at(entry, "sha256");
    return {};
}

/// A file of a plan's folder, as it was written.
Result<std::string> checked_file(const std::string& folder, const std::string& name) {
    const std::filesystem::path path(folder);
    std::error_code error;
    if (!std::filesystem::is_directory(path, error))
        return bad_file(folder, "no such folder; give the folder that `tearline plan` wrote");
    std::ifstream file;
    if (stays_inside(name) && is_file(path / name)) file.open(path / name, std::ios::binary);
    if (!file.is_open())
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
    Json boat = parsed(text);
    if (text_at(boat, "schema") != "tearline-boat/1" || !boat.contains("repairs") ||
        !boat["repairs"].is_array())
        return text;
    Json plans = Json::array();
    for (const Json& repair : boat["repairs"]) {
        const std::string place = text_at(repair, "plan");
        if (place.empty()) continue;
        const auto plan = checked_file(folder, place);
        if (!plan) return tl::unexpected(plan.error());
        plans.push_back({{"name", text_at(repair, "name")}, {"plan", parsed(*plan)}});
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
