#pragma once
#include <vector>

#include "core/parallel/cut_strips.h"

namespace tearline::parallel {

/// One edge of a strip.
struct StripSide {
    StripId strip;
    Side side;
    [[nodiscard]] bool operator==(const StripSide&) const = default;
};

/// One sheet's end at a corner, where the edges of two strips meet.
struct CornerEnd {
    CopyId copy;  ///< the sheet's copy of the vertex where the creases meet
    OnCorner on;
    Vec2 foot;    ///< [mm] chart
    CopyId made;  ///< the copy that stands on the corner, once there is one

    [[nodiscard]] bool ends(const StripSide& edge) const;
};

/// What the corners join, sheet by sheet.
class CornerEnds {
public:
    CornerEnds(const CreaseSheets& sheets, const PerId<StripId, TrimStrip>& strips,
               const PerId<CornerId, TrimCorner>& corners);

    [[nodiscard]] std::vector<CornerEnd>& all() { return ends_; }

    /// The edge and those that end in a corner with it.
    [[nodiscard]] std::vector<StripSide> with_mates(const StripSide& edge) const;

    /// The corner at which both edges end, or nothing.
    [[nodiscard]] CornerEnd* between(const StripSide& a, const StripSide& b);

    /// The corner at which the edge ends within `reach` [mm] of a chart point, or nothing.
    [[nodiscard]] CornerEnd* near(const StripSide& edge, const Vec2& chart, double reach);

private:
    std::vector<CornerEnd> ends_;
};

}  // namespace tearline::parallel
