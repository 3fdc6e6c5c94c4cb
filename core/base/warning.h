#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/vec.h"

namespace tearline {

/// Something the user must know though a plan was made; `code` is stable, the message is a sentence.
struct Warning {
    std::string code;     ///< kebab-case, for example "unit-differs"
    std::string message;  ///< names field, value and remedy
    std::optional<int> ply;            ///< number as on the templates
    std::optional<std::string> piece;  ///< id as on the templates
    std::optional<Vec3> at;            ///< [mm] on the base surface
};

using Warnings = std::vector<Warning>;

}  // namespace tearline
