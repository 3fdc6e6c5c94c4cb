#pragma once
#include "core/warnings/warning.h"

namespace tearline::plan {

/// Tells what several plies meet at one place of the hull once: the first ply's sentence, with the
/// numbers of the others behind it.
[[nodiscard]] Warnings merged(Warnings warnings);

}  // namespace tearline::plan
