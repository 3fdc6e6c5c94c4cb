#include "core/files/manifest.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "core/base/sha256.h"
#include "core/base/version.h"
#include "core/formats/json_writer.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr const char* manifest_schema = "tearline-manifest/1";

std::optional<std::string> read_bytes(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    if (!in) return std::nullopt;
    std::string bytes((std::istreambuf_iterator<char>(in)), {});
    if (in.bad()) return std::nullopt;
    return bytes;
}

/// File names and hashes of a manifest of ours; nothing when it is not one.
std::optional<std::map<std::string, std::string>> listed_files(const fs::path& manifest) {
    if (fs::is_symlink(fs::symlink_status(manifest))) return std::nullopt;
    const auto bytes = read_bytes(manifest);
    if (!bytes) return std::nullopt;
    const auto json = nlohmann::json::parse(*bytes, nullptr, false);
    if (!json.is_object() || json.value("schema", nlohmann::json()) != manifest_schema)
        return std::nullopt;
    const auto files = json.find("files");
    if (files == json.end() || !files->is_array()) return std::nullopt;
    std::map<std::string, std::string> listed;
    for (const auto& file : *files) {
        if (!file.is_object() || !file.contains("name") || !file.contains("sha256"))
            return std::nullopt;
        if (!file["name"].is_string() || !file["sha256"].is_string()) return std::nullopt;
        listed[file["name"].get<std::string>()] = file["sha256"].get<std::string>();
    }
    return listed;
}

tl::unexpected<Error> refuse(const fs::path& folder, const std::string& name,
                             const std::string& what) {
    return output_failed(
        folder.string(),
        name + ": " + what +
            "; nothing was written. Choose another folder, or move that file away");
}

/// Everything under the folder but the manifest, as relative names, sorted.
std::set<std::string> names_under(const fs::path& folder) {
    std::set<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        const std::string name = entry.path().lexically_relative(folder).generic_string();
        if (name != manifest_name) names.insert(name);
    }
    return names;
}

bool is_folder_of(const std::map<std::string, std::string>& listed, const std::string& name) {
    const auto next = listed.lower_bound(name + "/");
    return next != listed.end() && next->first.starts_with(name + "/");
}

Result<void> check_against(const fs::path& folder, const std::map<std::string, std::string>& listed,
                           std::set<std::string> names) {
    for (const auto& [name, hash] : listed) names.insert(name);
    for (const std::string& name : names) {
        const fs::path path = folder / name;
        const fs::file_status status = fs::symlink_status(path);
        const auto entry = listed.find(name);
        if (entry == listed.end()) {
            if (fs::is_directory(status) && is_folder_of(listed, name)) continue;
            return refuse(folder, name, "was not written by this program");
        }
        if (!fs::exists(status)) return refuse(folder, name, "is missing from an earlier plan");
        const auto bytes = fs::is_regular_file(status) ? read_bytes(path) : std::nullopt;
        if (!bytes || sha256_hex(*bytes) != entry->second)
            return refuse(folder, name, "was changed after this program wrote it");
    }
    return {};
}

}  // namespace

std::string manifest_json(const FileSet& files) {
    std::vector<const OutputFile*> sorted;
    for (const OutputFile& file : files) sorted.push_back(&file);
    std::sort(sorted.begin(), sorted.end(),
              [](const OutputFile* a, const OutputFile* b) { return a->name < b->name; });
    formats::JsonWriter json;
    json.begin_object().field("schema", manifest_schema);
    json.key("program").begin_object().field("name", "tearline").field("version", version());
    json.end_object().line().key("files").begin_array();
    for (const OutputFile* file : sorted) {
        json.line().begin_object().field("name", file->name).field("bytes", file->bytes.size());
        json.field("sha256", sha256_hex(file->bytes)).end_object();
    }
    json.line().end_array().end_object();
    return json.take() + "\n";
}

Result<void> check_ours(const fs::path& folder) {
    const std::set<std::string> names = names_under(folder);
    const fs::path manifest = folder / manifest_name;
    if (!fs::exists(fs::symlink_status(manifest))) {
        if (names.empty()) return {};
        return refuse(folder, *names.begin(), "was not written by this program");
    }
    const auto listed = listed_files(manifest);
    if (!listed) return refuse(folder, manifest_name, "is no manifest of this program");
    return check_against(folder, *listed, names);
}

}  // namespace tearline::files
