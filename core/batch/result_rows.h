#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/batch/task.h"
#include "core/warnings/rank.h"

namespace tearline::batch {

/// A result as a table shows it.
struct ResultRow {
    std::string job;
    Status status;
    std::string message, folder;
    /// Figures by their name in the result: those of "totals", "strain_max", "shear_max",
    /// "seconds", "peak_MB"; what is null is not there.
    std::map<std::string, double> figures;
    std::map<WarningRank, int> warnings;  ///< how many of each rank
    std::vector<std::string> to_decide;   ///< codes of what is to be decided first

    [[nodiscard]] std::optional<double> figure(const std::string& name) const;
};

struct ResultRows {
    std::vector<ResultRow> rows;  ///< by the name of the job, each job once
    int twice = 0;                ///< jobs that stood in several files: what is final was taken
};

/// The result in a line; nothing where the line is none of ours, or was never ended.
[[nodiscard]] std::optional<ResultRow> row_of(const std::string& line);

/// Every result in the folder of a batch, of all its slices.
/// @error bad_input  no results there
[[nodiscard]] Result<ResultRows> read_rows(const std::filesystem::path& folder);

}  // namespace tearline::batch
