#pragma once
#include <string>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::hull {

/// The hull about a corner or fillet by its few figures: exact faces, a flat, the bend, a flat.
///
/// @param options  with `corner`
/// @error bad_input  figures that contradict each other, with their line and place
[[nodiscard]] Result<Hull> hull_of_corner(const job::HullOptions& options);

/// Every figure of a corner as text.
[[nodiscard]] std::string corner_text(const job::Corner& corner);

}  // namespace tearline::hull
