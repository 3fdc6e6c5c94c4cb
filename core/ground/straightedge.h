#pragma once
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/surface/patch.h"

namespace tearline::ground {

/// The surface as it was before grinding, and where it is ground off.
struct OldSurface {
    const surface::Patch& patch;  ///< in whose chart `ground` lies
    const std::vector<Region2>& ground;
    /// The same surface as far as straightedges reach over it; none: `patch` is all that is known.
    const surface::Patch* around = nullptr;

    [[nodiscard]] const surface::Patch& widest() const {
        return around != nullptr ? *around : patch;
    }
};

/// A straightedge laid over a sounding.
struct Straightedge {
    Vec3 direction{1, 0, 0};  ///< in the tangent plane at the place
    double length = 0.0;      ///< [mm] its middle is over the place
};

/// A point that a straightedge rests on.
struct EdgeContact {
    Vec3 at{0, 0, 0};        ///< [mm]
    double share = 0.5;      ///< [-] of its height in that of the edge over the place
    Vec3 lift{0, 0, 1};      ///< [-] what a movement of the surface there adds to that height
    bool under_tip = false;  ///< one of the straightedge's ends stands there
};

/// A place in the ground area under a straightedge, of the surface as it was.
struct GroundPlace {
    Vec2 profile{0, 0};  ///< [mm] along the straightedge, and over the place sounded
    Vec2 chart{0, 0};
};

/// How a straightedge lies over a place of the ground area.
struct StraightedgeRest {
    double gap = 0.0;  ///< [mm] from the old surface up to the edge, along the normal at the place
    double slope = 0.0;  ///< [-] of the edge against the tangent plane at the place
    EdgeContact ahead, behind;
    std::vector<GroundPlace> over;

    /// Depth below the old surface of a place read square from the edge [mm].
    [[nodiscard]] double depth_of(double read) const;
};

/// A rigid edge in the plane of the surface's normal at the place, its middle square over the
/// place, pressed down on the old surface: it rests on one point to each side, in a hollow on its
/// two ends.
///
/// @error bad_input  one that does not reach over the ground area on both sides, or whose ends
///                   stand over what is not known of the hull
/// @source  derived: the lowest line over a set of points is, at the place, the highest of the
///          chords from a point behind to one ahead
[[nodiscard]] Result<StraightedgeRest> straightedge_rest(const OldSurface& old,
                                                         const surface::Location& at,
                                                         const Straightedge& edge);

}  // namespace tearline::ground
