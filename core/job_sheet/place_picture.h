#pragma once
#include <string>

#include "core/plan/plan.h"
#include "core/plane/room.h"

namespace tearline::job_sheet {

/// The place on the hull square on, plies ringed and numbered, with bow, up and a scale bar.
///
/// @param window  [mm] of the picture that it fills
/// @param pad     [mm] kept free about the footprint
[[nodiscard]] std::string hull_close_up(const Plan& plan, const plane::Box& window, double pad);

/// The whole hull with the place ringed.
[[nodiscard]] std::string whole_hull(const Plan& plan, const plane::Box& window);

/// What the lines and colours of the close-up stand for.
[[nodiscard]] std::string picture_legend(const Plan& plan, const Vec2& at);

/// Close-up, whole hull and legend as one picture, as wide as a sheet of paper is between margins.
[[nodiscard]] std::string place_picture(const Plan& plan);

}  // namespace tearline::job_sheet
