#include "core/files/write_page.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>
#include <string>

#include "core/files/cannot_write.h"
#include "core/files/descriptor.h"
#include "core/files/interruption.h"
#include "core/page/page.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

/// All of the bytes, then the disk.
bool write_all(const Descriptor& out, std::string_view bytes) {
    while (!bytes.empty()) {
        if (Interruption::noted()) return errno = EINTR, false;
        const ssize_t wrote = ::write(out.number(), bytes.data(), bytes.size());
        if (wrote < 0 && errno != EINTR) return false;
        if (wrote > 0) bytes.remove_prefix(static_cast<std::size_t>(wrote));
    }
    // Some file systems know no such thing.
    return fsync(out.number()) == 0 || errno == EINVAL || errno == ENOTSUP;
}

/// Read to its end only where it begins as ours do: anything may stand there, of any size.
bool is_page(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::string bytes(page::first_line.size(), '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!in || bytes != page::first_line) return false;
    bytes.append(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    return page::is_page(bytes);
}

}  // namespace

Result<void> check_page(const fs::path& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
        const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
        if (!fs::is_directory(folder, error))
            return output_failed(path.string(), "there is no folder " + folder.string());
        if (access(folder.c_str(), W_OK) != 0) return cannot_write(path, errno);
        return {};
    }
    if (!fs::is_regular_file(status))
        return output_failed(path.string(), "is no file; name one for the page");
    if (!is_page(path))
        return output_failed(path.string(),
                             "exists already and is no page of tearline look, or somebody has "
                             "edited it; name another file");
    return {};
}

Result<void> write_page(const fs::path& path, std::string_view page) {
    if (auto free = check_page(path); !free) return free;
    const Interruption interruption;
    const fs::path beside = path.parent_path() / (".tearline-" + path.filename().string() + "-" +
                                                  std::to_string(getpid()));
    bool written = false;
    int reason = 0;
    {
        const Descriptor out(
            open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666));
        if (!out.is_open()) return cannot_write(path, errno);
        written = write_all(out, page);
        reason = errno;
    }
    if (written && rename(beside.c_str(), path.c_str()) == 0) return {};
    if (written) reason = errno;
    unlink(beside.c_str());
    return cannot_write(path, reason);
}

}  // namespace tearline::files
