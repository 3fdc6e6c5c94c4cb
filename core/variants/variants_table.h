#pragma once
#include <string>

#include "core/variants/variant.h"

namespace tearline::variants {

/// Variants side by side for a terminal.
[[nodiscard]] std::string variants_text(const Variants& variants);

/// The same as comma-separated values: figures in the units of their names, what each is best in.
[[nodiscard]] std::string variants_csv(const Variants& variants);

}  // namespace tearline::variants
