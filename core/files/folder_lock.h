#pragma once
#include <chrono>
#include <filesystem>
#include <vector>

#include "core/base/result.h"
#include "core/files/descriptor.h"

namespace tearline::files {

/// A folder held against other runs, in other process namespaces too, while one writes there.
///
/// It is the folder's descriptor that is locked: there is no lock file that a killed run could
/// leave. Folders that do not exist are made, and taken away again if nothing was put into them.
class FolderLock {
public:
    /// @param patience  how long to wait for another run
    /// @error output_failed  the folder cannot be made, another run holds it too long, or a signal
    ///                       came
    [[nodiscard]] static Result<FolderLock> of(const std::filesystem::path& folder,
                                               std::chrono::milliseconds patience);
    FolderLock(FolderLock&&) = default;
    FolderLock& operator=(FolderLock&&) = delete;
    ~FolderLock();

    /// Whether the file system knows such locks; without one, others may be at work here.
    [[nodiscard]] bool is_held() const { return held_; }
    [[nodiscard]] int folder() const { return folder_.number(); }
    /// Brings the folder's own entries to the disk, and those of the folders made for it.
    void sync() const;

private:
    FolderLock() = default;
    Descriptor folder_;
    bool held_ = false;
    std::vector<std::filesystem::path> made_;  ///< outermost first
};

}  // namespace tearline::files
