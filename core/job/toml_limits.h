#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace tearline::job {

struct TomlExcess {
    int line = 1;
    std::string message;
};

/// Whether text is larger or its dotted keys longer than any job file's, or has letters where TOML
/// knows none but a to z; nothing when it is not.
///
/// The TOML library recurses once a part of a dotted key, so that a hostile one overflows the
/// stack; of other letters outside quotes it asks whether they are space, and for some has no
/// answer.
[[nodiscard]] std::optional<TomlExcess> too_much_for_a_job(std::string_view text);

}  // namespace tearline::job
