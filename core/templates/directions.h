#pragma once
#include <array>
#include <optional>
#include <string>

#include "core/damage/flat_frame.h"

namespace tearline::templates {

/// Where bow and up lie on paper, in words and arrows.
struct Directions {
    /// What the four half-axes +x, +y, -x, -y point to: "bow", "aft", "up", "down", "starboard",
    /// "port".
    std::array<std::string, 4> ends;
    std::optional<Vec2> bow;        ///< unit; nothing on a transom
    std::optional<Vec2> up;         ///< unit; nothing on a bottom or deck
    std::optional<Vec2> starboard;  ///< unit; only on a transom
    /// Where fibre axes are counted from, and where 90 degrees of them point to, in the same words.
    std::string axis_from, axis_side;
};

/// @param bow, up  unit vectors of the job
[[nodiscard]] Directions directions(const damage::FlatFrame& frame, const Vec3& bow,
                                    const Vec3& up);

/// The other way of a word for a direction: "aft" of "bow".
[[nodiscard]] std::string opposite(const std::string& word);

}  // namespace tearline::templates
