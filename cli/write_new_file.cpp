#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string>
#include <string_view>

#include "cli/commands.h"

namespace tearline::cli {

namespace {

/// "-": a pipe takes it, and nothing else goes to stdout.
int to_stdout(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
        return report(output_failed("stdout", "could not be written whole").value());
    return exit_done;
}

}  // namespace

int write_new_file(const std::string& name, std::string_view text, const char* then) {
    if (name == "-") return to_stdout(text);
    // "x": what somebody has filled in or keeps is never written over.
    std::FILE* file = std::fopen(name.c_str(), "wbx");
    if (file == nullptr)
        return report(output_failed(name, errno == EEXIST ? "exists already; name another file"
                                                          : "cannot be written: " +
                                                                std::string(std::strerror(errno)))
                          .value());
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    if (!(std::fclose(file) == 0 && written)) {
        std::remove(name.c_str());
        return report(output_failed(name, "could not be written whole").value());
    }
    std::fprintf(stderr, "%s: %s\n", name.c_str(), then);
    return exit_done;
}

}  // namespace tearline::cli
