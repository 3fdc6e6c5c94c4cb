#pragma once
#include <filesystem>
#include <fstream>
#include <string>

namespace tearline::batch {

/// The lines of a file of results, one after the other. What is longer than any result is none, and
/// is not read to its end: a file of another kind may stand there, without a line's end in it.
class ResultLines {
public:
    explicit ResultLines(const std::filesystem::path& file);

    /// @return  whether there was one more, which `line()` then is
    bool next();

    [[nodiscard]] const std::string& line() const { return line_; }
    /// Whether the line has its end; the last of a run that was killed has none.
    [[nodiscard]] bool is_whole() const { return whole_; }
    /// Whether reading stopped at a line longer than any result.
    [[nodiscard]] bool too_long() const { return too_long_; }

private:
    std::ifstream in_;
    std::string block_, line_;
    bool whole_ = false, too_long_ = false;
};

/// What is wrong with a file that has such a line.
inline constexpr const char* no_results_file =
    "holds a line of over 16 MB, and so no results of a batch; move it away, or name another folder";

}  // namespace tearline::batch
