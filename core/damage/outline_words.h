#pragma once
#include <string>

#include "core/base/result.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// A place as a job file writes it.
[[nodiscard]] std::string point_text(const Vec3& p);

/// The refusal of an outline that goes on where there is no surface, near a place.
/// @param hull_end  it is the hull that ends there, not what was laid out of it
[[nodiscard]] tl::unexpected<Error> leaves_surface(const surface::Patch& patch, const Vec3& near,
                                                   bool hull_end);

}  // namespace tearline::damage
