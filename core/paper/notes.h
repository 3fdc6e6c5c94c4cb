#pragma once
#include "core/paper/print_layout.h"

namespace tearline::paper {

/// What a stranger must know before using the sheets: scale, cautions, what is on them.
///
/// @param drawings  that are printed with it
[[nodiscard]] Drawing notes_of(const templates::TemplateSet& set, const PrintChoice& choice,
                               const std::vector<Drawing>& drawings);

}  // namespace tearline::paper
