#pragma once
#include <utility>
#include <vector>

#include "core/dish/depth_field.h"
#include "core/dish/offset_distance.h"

namespace tearline::dish {

/// How deep the ground-out cavity is at each distance outside the damage outline: (offset, depth)
/// pairs [mm] from (0, D) to (w, 0), straight between them.
using Profile = std::vector<Vec2>;

/// Depth at a distance outside the outline [mm]: D inside (offset <= 0), 0 beyond the scarf.
[[nodiscard]] double depth_at(std::span<const Vec2> profile, double offset);

/// The cavity as a plan asks for it: a floor and the scarf round it.
class PlannedDish final : public DepthField {
public:
    /// @param openings  from whose edges it goes down as it rises to its own edge outside
    PlannedDish(Profile profile, const OffsetSweep& sweep,
                const std::vector<OffsetSweep>& openings = {})
        : profile_(std::move(profile)),
          distance_(sweep),
          openings_(openings.begin(), openings.end()) {}

    [[nodiscard]] double depth(const Vec2& chart_point) const override;
    [[nodiscard]] double deepest() const override { return profile_.front().y(); }
    [[nodiscard]] std::span<const Vec2> profile() const override { return profile_; }
    [[nodiscard]] bool measured() const override { return false; }

private:
    Profile profile_;
    OffsetDistance distance_;
    std::vector<OffsetDistance> openings_;  ///< distances from their edges
};

}  // namespace tearline::dish
