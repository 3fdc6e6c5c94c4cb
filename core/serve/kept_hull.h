#pragma once
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::serve {

/// The hull of the last job, read once and kept while file and options stay the same.
class KeptHull {
public:
    /// @error bad_input  as read_hull()
    [[nodiscard]] Result<const hull::Hull*> of(const job::Job& job);

    /// Names what the hull was read from and how; another name, another hull.
    [[nodiscard]] const std::string& name() const { return name_; }

private:
    std::optional<hull::Hull> hull_;
    std::string name_;
};

}  // namespace tearline::serve
