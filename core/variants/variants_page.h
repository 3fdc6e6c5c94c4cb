#pragma once
#include <string>

#include "core/variants/variant.h"

namespace tearline::variants {

/// Variants side by side for a browser, each with a small picture of its rings, all to one scale.
[[nodiscard]] std::string variants_page(const Variants& variants);

}  // namespace tearline::variants
