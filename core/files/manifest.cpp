#include "core/files/manifest.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/allocation_watch.h"
#include "core/base/sha256.h"
#include "core/base/side_by_side.h"
#include "core/base/version.h"
#include "core/files/descriptor.h"
#include "core/files/entries.h"
#include "core/formats/json_writer.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr const char* manifest_schema = "tearline-manifest/1";
constexpr std::uintmax_t largest_manifest = 64 << 20;  // [bytes] ours are a few kB
constexpr std::string_view before_seal = ",\n\"seal\":\"", after_seal = "\"}\n";
constexpr std::size_t seal_digits = 64;
constexpr fs::perms writing =
    fs::perms::owner_write | fs::perms::group_write | fs::perms::others_write;

/// What a manifest says of a file.
struct Listed {
    std::uintmax_t bytes = 0;
    std::string sha256;
};
using Listing = std::map<std::string, Listed>;

/// The bytes of a regular file of at most that size: never waits for a pipe, follows no link and
/// takes no room for what is too large to be ours.
std::optional<std::string> read_bytes(const fs::path& file, std::uintmax_t most) {
    const Descriptor opened(open(file.c_str(), O_RDONLY | O_NONBLOCK | O_NOFOLLOW | O_CLOEXEC));
    struct stat status {};
    if (!opened.is_open() || fstat(opened.number(), &status) != 0 || !S_ISREG(status.st_mode) ||
        static_cast<std::uintmax_t>(status.st_size) > most)
        return std::nullopt;
    std::string bytes(static_cast<std::size_t>(status.st_size), '\0');
    for (std::size_t done = 0; done < bytes.size();) {
        const ssize_t got = read(opened.number(), bytes.data() + done, bytes.size() - done);
        if (got == 0 || (got < 0 && errno != EINTR)) return std::nullopt;
        if (got > 0) done += static_cast<std::size_t>(got);
    }
    return bytes;
}

/// Whether the last line is the hash of all that stands before it.
bool is_sealed(std::string_view text) {
    const std::size_t tail = before_seal.size() + seal_digits + after_seal.size();
    if (text.size() < tail || !text.ends_with(after_seal)) return false;
    const std::string_view sealed = text.substr(0, text.size() - tail);
    return text.substr(sealed.size(), before_seal.size()) == before_seal &&
           text.substr(sealed.size() + before_seal.size(), seal_digits) == sha256_hex(sealed);
}

/// Whether the name stays inside the folder and is written as we write names.
bool leads_inside(const std::string& name) {
    const fs::path path(name);
    return path.is_relative() && path.lexically_normal().generic_string() == name &&
           path.has_filename() && *path.begin() != ".." && name != "." && name != manifest_name;
}

tl::unexpected<Error> refuse(const fs::path& folder, const std::string& name,
                             const std::string& what,
                             const std::string& instead = "move that file away") {
    return output_failed(
        folder.string(),
        name + ": " + what + "; nothing was written. Choose another folder, or " + instead);
}

constexpr const char* no_manifest = "is no manifest of this program";

/// A manifest of ours, unchanged.
Result<nlohmann::json> read_manifest(const fs::path& folder) {
    const auto bytes = read_bytes(folder / manifest_name, largest_manifest);
    auto json = bytes ? nlohmann::json::parse(*bytes, nullptr, false) : nlohmann::json(nullptr);
    if (!json.is_object() || json.value("schema", nlohmann::json()) != manifest_schema)
        return refuse(folder, manifest_name, no_manifest);
    if (!is_sealed(*bytes))
        return refuse(folder, manifest_name, "was changed after this program wrote it");
    return json;
}

/// What a manifest of ours lists.
Result<Listing> listing_of(const fs::path& folder) {
    const auto none = [&](const std::string& what) { return refuse(folder, manifest_name, what); };
    const AllocationWatch memory;  // JSON takes some to go away, where nothing may be thrown
    const auto manifest = read_manifest(folder);
    if (!manifest) return tl::unexpected(manifest.error());
    const nlohmann::json& json = *manifest;
    const auto files = json.find("files");
    if (files == json.end() || !files->is_array()) return none(no_manifest);
    Listing listed;
    for (const auto& file : *files) {
        const auto has = [&](const char* key) { return file.is_object() && file.contains(key); };
        if (!has("name") || !has("sha256") || !has("bytes") || !file["name"].is_string() ||
            !file["sha256"].is_string() || !file["bytes"].is_number_unsigned())
            return none(no_manifest);
        const auto name = file["name"].get<std::string>();
        if (!leads_inside(name)) return none("lists a name that is none of this program's");
        listed[name] = {file["bytes"].get<std::uintmax_t>(), file["sha256"].get<std::string>()};
    }
    return listed;
}

bool is_folder_of(const Listing& listed, const std::string& name) {
    const auto next = listed.lower_bound(name + "/");
    return next != listed.end() && next->first.starts_with(name + "/");
}

/// Everything under the folder but the manifest, as relative names, sorted; into a folder that is
/// not ours nobody looks, however much is there.
std::set<std::string> names_under(const fs::path& folder, const Listing& listed) {
    std::set<std::string> names;
    std::vector<std::string> inside{""};  // folders of ours, still to be looked into
    while (!inside.empty()) {
        const std::string within = std::exchange(inside.back(), {});
        inside.pop_back();
        for (const std::string& entry : entries_of(folder / within)) {
            const std::string name = within + entry;
            if (name == manifest_name) continue;
            names.insert(name);
            if (is_folder_of(listed, name) && fs::is_directory(fs::symlink_status(folder / name)))
                inside.push_back(name + "/");
        }
    }
    return names;
}

/// Whether one thing in the folder is as the manifest lists it.
Result<void> check_one(const fs::path& folder, const Listing& listed, const std::string& name,
                       Missing missing) {
    const fs::path path = folder / name;
    const fs::file_status status = fs::symlink_status(path);
    const auto entry = listed.find(name);
    if (entry == listed.end()) {
        if (fs::is_directory(status) && is_folder_of(listed, name)) {
            if ((status.permissions() & writing) != fs::perms::none) return {};
            return refuse(folder, name, "is a read-only folder");
        }
        return refuse(folder, name, "was not written by this program");
    }
    if (!fs::exists(status)) {
        if (missing == Missing::passes) return {};
        return refuse(folder, name, "is missing from an earlier plan",
                      "put it back, or take the rest of that plan away");
    }
    const auto bytes = read_bytes(path, entry->second.bytes);
    if (!bytes || bytes->size() != entry->second.bytes ||
        sha256_hex(*bytes) != entry->second.sha256)
        return refuse(folder, name, "was changed after this program wrote it",
                      "move that file away and take the rest of that plan away");
    return {};
}

Result<void> check_against(const fs::path& folder, const Listing& listed, const HowChecked& how) {
    std::set<std::string> names = names_under(folder, listed);
    for (const auto& [name, file] : listed) names.insert(name);
    const std::vector<std::string> all(names.begin(), names.end());
    if (!how.at_once) {
        for (const std::string& name : all)
            if (auto one = check_one(folder, listed, name, how.missing); !one) return one;
        return {};
    }
    std::vector<Result<void>> found(all.size());
    side_by_side(all.size(),
                 [&](std::size_t i) { found[i] = check_one(folder, listed, all[i], how.missing); });
    for (const Result<void>& one : found)
        if (!one) return one;
    return {};
}

}  // namespace

void write_origin(formats::JsonWriter& json, const Origin& origin) {
    json.begin_object().field("job", origin.job).field("model", origin.model);
    json.field("options", origin.options).field("program", origin.program).end_object();
}

std::string manifest_json(const FileSet& files, const std::optional<Origin>& origin) {
    std::vector<const OutputFile*> sorted;
    for (const OutputFile& file : files) sorted.push_back(&file);
    std::sort(sorted.begin(), sorted.end(),
              [](const OutputFile* a, const OutputFile* b) { return a->name < b->name; });
    formats::JsonWriter json;
    json.begin_object().field("schema", manifest_schema);
    json.key("program").begin_object().field("name", "tearline").field("version", version());
    json.end_object();
    if (origin) {
        json.line().key("sha256");
        write_origin(json, *origin);
    }
    std::vector<std::string> hashes(sorted.size());
    side_by_side(sorted.size(), [&](std::size_t i) { hashes[i] = sha256_hex(sorted[i]->bytes); });
    json.line().key("files").begin_array();
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        json.line().begin_object().field("name", sorted[i]->name);
        json.field("bytes", sorted[i]->bytes.size()).field("sha256", hashes[i]).end_object();
    }
    json.line().end_array();
    std::string text = json.take();
    const std::string seal = sha256_hex(text);
    return text.append(before_seal).append(seal).append(after_seal);
}

std::optional<Origin> origin_of(const fs::path& folder) {
    const AllocationWatch memory;  // as in listing_of()
    const auto json = read_manifest(folder);
    if (!json || !json->contains("sha256") || !(*json)["sha256"].is_object()) return std::nullopt;
    const nlohmann::json& hashes = (*json)["sha256"];
    const auto hash = [&](const char* key) -> std::optional<std::string> {
        const auto found = hashes.find(key);
        if (found == hashes.end() || !found->is_string()) return std::nullopt;
        return found->get<std::string>();
    };
    return Origin{hash("job"), hash("model"), hash("options").value_or(""),
                  hash("program").value_or("")};
}

Result<void> check_ours(const fs::path& folder, const HowChecked& how) {
    if (!fs::exists(fs::symlink_status(folder / manifest_name))) {
        const std::vector<std::string> names = entries_of(folder);
        if (names.empty()) return {};
        return refuse(folder, names.front(), "was not written by this program");
    }
    const auto listed = listing_of(folder);
    if (!listed) return tl::unexpected(listed.error());
    return check_against(folder, *listed, how);
}

}  // namespace tearline::files
