#include "core/base/file_stamp.h"

#include <sys/stat.h>

namespace tearline {

std::string stamp_of(const struct stat& status) {
    std::string stamp;
    const auto add = [&stamp](auto number) { stamp += std::to_string(number) + ' '; };
    add(status.st_dev);
    add(status.st_ino);
    add(status.st_size);
    for (const timespec& moment : {status.st_mtim, status.st_ctim}) {
        add(moment.tv_sec);
        add(moment.tv_nsec);
    }
    return stamp;
}

}  // namespace tearline
