#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/damage/flat_frame.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/surface/patch.h"

namespace tearline::serve {

/// The damage outline and the edge of the dish while the user still drags them about.
struct DraftOutline {
    Loop3 outline;               ///< [mm] on the base surface
    std::vector<Region3> scarf;  ///< [mm] on the base surface
    damage::FlatFrame frame;
};

/// Draws drafts on a patch that is kept: most of the time goes into meshing, and the outline lies
/// on the surface behind the mesh, whichever mesh it is. A plan draws the same curve.
class LiveOutline {
public:
    /// @param hull  what was given last time, or `forget()` was called since
    /// @error bad_input, no_safe_answer  as lay_ground()
    [[nodiscard]] Result<DraftOutline> draw(const job::Job& job, const hull::Hull& hull);

    /// The hull, or the side that is laid from, is another.
    void forget() { patch_.reset(); }

private:
    std::optional<surface::Patch> patch_;
    double skin_ = 0.0;  ///< [mm] that the kept patch was moved by
};

}  // namespace tearline::serve
