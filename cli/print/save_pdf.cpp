#include "cli/print/save_pdf.h"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string_view>

namespace tearline::cli {

namespace fs = std::filesystem;

namespace {

/// Whether a file is a PDF with this program as its creator, as Qt writes that: in UTF-16.
bool is_ours(const fs::path& file) {
    using std::string_view_literals::operator""sv;
    std::ifstream in(file, std::ios::binary);
    std::string head(16384, '\0');
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(in.gcount()));
    return head.starts_with("%PDF-") &&
           head.find("/Creator (\xFE\xFF\0t\0e\0a\0r\0l\0i\0n\0e)"sv) != std::string::npos;
}

bool put(const std::string& bytes, std::FILE* file) {
    return file != nullptr && std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size();
}

/// All of it on the disk; some file systems know no such thing.
bool put_down(const std::string& bytes, std::FILE* file) {
    return put(bytes, file) && std::fflush(file) == 0 &&
           (fsync(fileno(file)) == 0 || errno == EINVAL || errno == ENOTSUP);
}

tl::unexpected<Error> failed(const std::string& name, int reason) {
    return output_failed(name, std::string("could not be written: ") + std::strerror(reason));
}

}  // namespace

Result<void> check_free(const std::string& name) {
    if (name == "-") return {};
    std::error_code error;
    const fs::file_status status = fs::status(name, error);
    if (fs::exists(status) && !(fs::is_regular_file(status) && is_ours(name)))
        return output_failed(name,
                             "is there already and is no PDF of this program; it is left as it "
                             "is. Name another file, or move this one away");
    return {};
}

Result<void> save(const std::string& bytes, const std::string& name) {
    if (name == "-") {
        if (!put(bytes, stdout) || std::fflush(stdout) != 0) return failed(name, errno);
        return {};
    }
    if (auto free = check_free(name); !free) return free;
    std::error_code error;
    // Written beside it and moved, so that a full disk leaves the earlier one whole. A link stays.
    // Under a name of its own: what a killed run left is in nobody's way.
    const fs::path target = fs::exists(name, error) ? fs::canonical(name, error) : fs::path(name);
    const fs::path part = target.parent_path() / (".tearline-pdf-" + std::to_string(getpid()));
    std::FILE* file = std::fopen(part.c_str(), "wbx");
    if (file == nullptr) return failed(name, errno);
    int reason = put_down(bytes, file) ? 0 : errno;
    if (std::fclose(file) != 0 && reason == 0) reason = errno;
    if (reason == 0) {
        fs::rename(part, target, error);
        reason = error.value();
    }
    if (reason == 0) return {};
    std::error_code ignored;
    fs::remove(part, ignored);
    return failed(name, reason);
}

}  // namespace tearline::cli
