#pragma once
#include <span>
#include <string_view>

namespace tearline::job {

/// Where a default comes from.
struct DefaultMark {
    std::string_view key;   ///< "resin.waste", "fabric.lap of woven", "resin.density of polyester"
    std::string_view mark;  ///< "published", "common practice", "from memory"; "form": no figure
};

/// Every default of the job file.
///
/// @source  SOURCES.md section 10, row for row; a test holds the two together
[[nodiscard]] std::span<const DefaultMark> default_marks();

/// The mark of one of them.
///
/// @pre  the key is in `default_marks()`
[[nodiscard]] std::string_view mark_of_default(std::string_view key);

}  // namespace tearline::job
