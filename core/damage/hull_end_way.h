#pragma once
#include <optional>
#include <vector>

#include "core/damage/sample_curve.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// The rim of a patch as a way round it, the surface on the left: the hull's own end, or where the
/// patch was cropped.
class HullEndWay {
public:
    explicit HullEndWay(const surface::Patch& patch);

    /// Closes runs that start and end on the hull's end along it, all on the left of what they
    /// bound.
    ///
    /// @return  the loops; nothing where the patch's cropped rim would be one of their sides
    [[nodiscard]] std::optional<std::vector<std::vector<OutlinePoint>>> closed(
        const std::vector<CurveRun>& runs) const;

    /// The place of the hull's own end nearest to a point.
    [[nodiscard]] surface::Location nearest(const Vec3& point) const;

    /// Distance of a chart point from the hull's own end [mm]; infinite where there is none.
    [[nodiscard]] double distance(const Vec2& chart_point) const;

    /// Edge of an opening as a loop of the rim, the surface on its right: counter-clockwise round
    /// the opening.
    /// @param hole  of the patch's domain
    [[nodiscard]] std::vector<OutlinePoint> round_opening(const Loop2& hole) const;

private:
    struct Side {
        std::int32_t from = -1, to = -1;  ///< vertices
        std::size_t triangle = 0;
        int edge = 0;
        bool hull_end = false;
        std::int32_t next = -1, before = -1;  ///< sides
    };
    struct Place {
        std::size_t side = 0;
        double part = 0.0;  ///< [-] along it
    };
    /// Goes on from a place to the next run that starts on the rim, over the sides between.
    [[nodiscard]] std::optional<std::size_t> next_entry(const std::vector<Place>& entry, Place here,
                                                        std::vector<OutlinePoint>& way) const;
    [[nodiscard]] Place place_of(const OutlinePoint& point) const;
    [[nodiscard]] Vec3 direction(std::size_t side) const;
    [[nodiscard]] OutlinePoint at_start_of(std::size_t side) const;

    const surface::Patch& patch_;
    std::vector<Side> sides_;
};

}  // namespace tearline::damage
