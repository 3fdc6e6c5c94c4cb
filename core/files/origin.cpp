#include "core/files/origin.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <vector>

#include "core/base/sha256.h"

namespace tearline::files {

namespace {

Result<std::string> file_sha256(const std::filesystem::path& file) {
    std::error_code failed;
    // Not of a pipe: it has no end to wait for, and what it holds is gone once it is read.
    const auto size = std::filesystem::file_size(file, failed);
    std::ifstream in(file, std::ios::binary);
    if (failed || !in) return bad_file(file.string(), "cannot be read");
    std::string bytes(size, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!in) return bad_file(file.string(), "cannot be read");
    return sha256_hex(bytes);
}

}  // namespace

const std::string& program_sha256() {
    static const std::string hash = file_sha256("/proc/self/exe").value_or("");
    return hash;
}

Result<std::optional<std::string>> models_sha256(const job::Job& job,
                                                 std::string_view hull_sha256) {
    std::vector<std::string> hashes;
    if (!job.hull.by_hand() && !hull_sha256.empty()) hashes.emplace_back(hull_sha256);
    std::vector<std::filesystem::path> to_read;
    if (!job.hull.by_hand() && hull_sha256.empty()) to_read.push_back(job.hull.model);
    if (job.damage.scan) to_read.push_back(job.damage.scan->model);
    for (const job::DishScan& scan : job.damage.scans_after) to_read.push_back(scan.model);
    for (const std::filesystem::path& file : to_read) {
        auto hash = file_sha256(file);
        if (!hash) return tl::unexpected(hash.error());
        hashes.push_back(*std::move(hash));
    }
    if (hashes.empty()) return std::nullopt;
    if (hashes.size() == 1) return hashes.front();
    std::string all;
    for (const std::string& hash : hashes) all += hash;
    return sha256_hex(all);
}

}  // namespace tearline::files
