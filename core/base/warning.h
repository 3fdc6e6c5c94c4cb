#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/sentence.h"
#include "core/base/vec.h"

namespace tearline {

/// Something the user must know though a plan was made; `code` is stable and has a rank
/// (warning_rank.h), the message is a sentence.
struct Warning {
    std::string code;                  ///< kebab-case, for example "unit-differs"
    std::string message;               ///< names field, value and remedy
    std::optional<int> ply;            ///< number as on the templates
    std::optional<std::string> piece;  ///< id as on the templates
    std::optional<Vec3> at;            ///< [mm] on the base surface
    Sentence words = {};               ///< the message again, with the plain words of it
};

using Warnings = std::vector<Warning>;

/// A warning of the whole repair.
[[nodiscard]] Warning warning_of(std::string code, Sentence words);

/// Says more at the end of a warning.
void say_more(Warning& warning, const Sentence& more);

/// A warning as a sheet says it: in plain words where it has them.
[[nodiscard]] const std::string& plain_words(const Warning& warning, Units units);

}  // namespace tearline
