#pragma once
#include <string>

#include "core/job/job.h"

namespace tearline::job {

/// What a job is called on paper: its title, else its file's name.
[[nodiscard]] inline std::string title_of(const Job& job) {
    return job.title.empty() ? job.file.stem().string() : job.title;
}

}  // namespace tearline::job
