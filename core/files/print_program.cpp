#include "core/files/print_program.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "core/base/numbers.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

constexpr const char* program_name = "tearline-print";

/// Beside the running program, wherever it was started from.
fs::path print_program() {
    std::error_code error;
    return fs::read_symlink("/proc/self/exe", error).parent_path() / program_name;
}

Error missing(const fs::path& program) {
    return {.kind = ErrorKind::output_failed,
            .what = "printing needs the program " + program.string() +
                    ", which is not there or cannot be started (" + std::strerror(errno) +
                    "); build the target tearline-print (it needs Qt 6), or take the SVG files"};
}

using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

std::string all_of(std::FILE* file) {
    std::string bytes;
    std::array<char, 65536> part;
    std::rewind(file);
    while (const std::size_t got = std::fread(part.data(), 1, part.size(), file))
        bytes.append(part.data(), got);
    return bytes;
}

/// Starts the program on three files and waits for it.
/// @return its exit status, or -1 when it was not started
int run(const fs::path& program, const std::vector<std::string>& words, const File& in,
        const File& out, const File& err) {
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t files;
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_adddup2(&files, fileno(in.get()), STDIN_FILENO);
    posix_spawn_file_actions_adddup2(&files, fileno(out.get()), STDOUT_FILENO);
    posix_spawn_file_actions_adddup2(&files, fileno(err.get()), STDERR_FILENO);
    pid_t child = 0;
    const int started =
        posix_spawn(&child, program.c_str(), &files, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&files);
    if (started != 0) {
        errno = started;
        return -1;
    }
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) continue;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 1;
}

}  // namespace

Result<std::string> pdf_from_print_program(const std::string& text, const PdfRequest& request) {
    const fs::path program = print_program();
    // Files without a name, which vanish however this ends: nothing can be left behind.
    const File in(std::tmpfile(), &std::fclose), out(std::tmpfile(), &std::fclose),
        err(std::tmpfile(), &std::fclose);
    if (!in || !out || !err || std::fwrite(text.data(), 1, text.size(), in.get()) != text.size() ||
        std::fflush(in.get()) != 0)
        return output_failed("print: no room for temporary files (" +
                             std::string(std::strerror(errno)) + ")");
    std::rewind(in.get());
    std::vector<std::string> words = {
        program_name, "-",           "--pdf",         "-",
        "--paper",    request.paper, "--print-scale", shortest(request.print_scale)};
    if (request.mirror) words.emplace_back("--mirror");
    if (request.less_paper) words.emplace_back("--less-paper");
    if (request.sheet) words.emplace_back("--sheet");
    const int status = run(program, words, in, out, err);
    if (status < 0) return tl::unexpected(missing(program));
    if (status != 0) {
        const std::string words = all_of(err.get());
        return output_failed(program.string(),
                             words.empty() ? "it was stopped: the pages take too long or too much "
                                             "memory; print fewer, or on another paper"
                                           : words);
    }
    return all_of(out.get());
}

Error become_print_program(const std::vector<std::string>& words) {
    const fs::path program = print_program();
    std::vector<char*> arguments{const_cast<char*>(program_name)};
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    execv(program.c_str(), arguments.data());
    return missing(program);
}

}  // namespace tearline::files
