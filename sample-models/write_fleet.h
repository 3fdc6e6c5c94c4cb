#pragma once
#include <filesystem>

namespace tearline::samples {

/// Writes the jobs of a season into FOLDER/fleet: forty repairs on the sample hulls beside it, no
/// two alike, and jobs.txt, which lists them for `tearline batch`. The same bytes every time.
void write_fleet(const std::filesystem::path& folder);

}  // namespace tearline::samples
