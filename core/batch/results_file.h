#pragma once
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/batch/job_list.h"
#include "core/batch/task.h"
#include "core/files/descriptor.h"
#include "core/files/origin.h"

namespace tearline::batch {

/// "results.jsonl", of a slice "results-3-of-8.jsonl".
[[nodiscard]] std::string results_name(const std::optional<Slice>& slice);
[[nodiscard]] bool is_results_name(std::string_view name);

/// What a line says of its job.
struct KnownResult {
    std::string job;
    Status status;
    files::Origin origin;
};

/// @return  nothing where the line is none of ours, or was never ended
[[nodiscard]] std::optional<KnownResult> read_result(std::string_view line);

/// The results of a batch or a slice of it, a line each; held against other runs while it lives.
///
/// It is the file's descriptor that is locked: a run that is killed leaves no lock. A line is added
/// by one write, so that a run that is killed leaves whole lines and at most one without its end,
/// which the next cuts off.
class ResultsFile {
public:
    /// Opens or makes the file and drops the lines that do not stay; where any goes, the rest takes
    /// the file's name whole or not at all.
    ///
    /// @param stays  asked of each whole line, in order
    /// @error output_failed  another run holds it, or it cannot be written
    [[nodiscard]] static Result<ResultsFile> open(
        const std::filesystem::path& file, const std::function<bool(const KnownResult&)>& stays);

    /// @param line  without its end
    /// @error output_failed  it could not be written whole; what was written of it is cut off
    [[nodiscard]] Result<void> add(const std::string& line);

    /// Brings all of it to the disk.
    void sync() const;

private:
    ResultsFile() = default;
    std::filesystem::path path_;
    files::Descriptor file_;
};

}  // namespace tearline::batch
