#pragma once
#include "core/damage/damage_outline.h"
#include "core/dish/swept_ray.h"

namespace tearline::dish {

/// Places along the damage outline from which rays set out square to it.
class OutlineSources {
public:
    OutlineSources(const surface::Patch& patch, const damage::DamageOutline& outline)
        : patch_(patch), outline_(outline) {}

    [[nodiscard]] std::size_t size() const { return outline_.points.size(); }

    /// Length of the segment from point i to the next [mm].
    [[nodiscard]] double length(std::size_t i) const;

    /// Whether the curve turns at point i, in the surface or over a crease: then no single
    /// direction is square to it.
    [[nodiscard]] bool is_corner(std::size_t i) const;

    /// The ray from point i of a smooth stretch.
    [[nodiscard]] RayStart at_point(std::size_t i) const;

    /// The ray from a place within segment i.
    /// @param t  [-] in (0, 1) along the segment
    [[nodiscard]] RayStart within(std::size_t i, double t) const;

private:
    /// The same within a segment too short to bend, over which the surface may jump: where it
    /// passes a curved crease each side ends on chords of its own.
    [[nodiscard]] RayStart between_near(std::size_t i, double t) const;

    [[nodiscard]] const damage::OutlinePoint& point(std::size_t i) const {
        return outline_.points[i % outline_.points.size()];
    }

    const surface::Patch& patch_;
    const damage::DamageOutline& outline_;
};

}  // namespace tearline::dish
