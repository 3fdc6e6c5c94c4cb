#pragma once
#include <cstring>
#include <filesystem>
#include <string>

#include "core/base/result.h"

namespace tearline::files {

[[nodiscard]] inline tl::unexpected<Error> cannot_write(const std::filesystem::path& path,
                                                        const std::string& reason) {
    return output_failed(path.string(), "cannot be written: " + reason);
}

/// @param number  the system's own number of the failure, as in errno
[[nodiscard]] inline tl::unexpected<Error> cannot_write(const std::filesystem::path& path,
                                                        int number) {
    return cannot_write(path, std::string(std::strerror(number)));
}

}  // namespace tearline::files
