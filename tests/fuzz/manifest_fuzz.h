#pragma once
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "core/base/sha256.h"
#include "core/files/manifest.h"

namespace tearline::fuzz {

/// A folder of this process alone with one file in it: in memory, where the system has such a
/// place.
class ManifestFolder {
public:
    ManifestFolder() {
        const std::filesystem::path memory = "/dev/shm";
        const auto place =
            access(memory.c_str(), W_OK) == 0 ? memory : std::filesystem::temp_directory_path();
        path_ = place / ("tearline-manifest-" + std::to_string(getpid()));
        std::filesystem::create_directories(path_);
    }
    ~ManifestFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    ManifestFolder(const ManifestFolder&) = delete;
    ManifestFolder& operator=(const ManifestFolder&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    void hold(const std::string& manifest) const {
        std::ofstream(path_ / files::manifest_name, std::ios::binary) << manifest;
    }

private:
    std::filesystem::path path_;
};

/// Bytes as the manifest of a folder that holds nothing else: bare they are never taken for ours,
/// and sealed as ours would be they are refused unless they list no file.
inline bool manifest_holds(const std::string& bytes) {
    static const ManifestFolder folder;
    const auto refused = [&] {
        const auto checked = files::check_ours(folder.path());
        (void)files::origin_of(folder.path());
        return checked ? std::string() : checked.error().message();
    };
    folder.hold(bytes);
    if (const std::string said = refused(); said.empty() || said.size() > 100000) return false;
    // In place of the object's last brace, where ours has it.
    std::string sealed = bytes.substr(0, bytes.rfind('}'));
    sealed += ",\n\"seal\":\"" + sha256_hex(sealed) + "\"}\n";
    folder.hold(sealed);
    const std::string said = refused();
    return !said.empty() || sealed.find("\"files\"") != std::string::npos;
}

}  // namespace tearline::fuzz
