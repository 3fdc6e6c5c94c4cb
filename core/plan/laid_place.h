#pragma once
#include <memory>
#include <string>

#include "core/base/progress.h"
#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/describe_ground.h"
#include "core/plan/lay_plies.h"

namespace tearline::plan {

/// A repair as far as it hangs on its shape alone: what is ground, laid flat and cut, and nothing
/// of what is mixed.
struct LaidPlace {
    ground::PlacedJob placed;
    /// Stays where it is: its parts know of each other.
    std::shared_ptr<const Result<ground::Ground>> ground;
    Place place;
    LaidPlies laid;  ///< with the names of lines on their templates
    layout::Rolls nested;
};

/// @error  as ground::lay_ground() and lay_plies()
[[nodiscard]] Result<LaidPlace> lay_place(ground::PlacedJob placed, const hull::Hull& hull,
                                          const Progress& progress);

/// The job as far as the shape of a repair hangs on it: without what says how resin is mixed, how
/// fast work goes and what things cost.
[[nodiscard]] job::Job shape_of(const job::Job& job);

/// The other way round: all of a job but its shape is that of another.
void take_mixing(job::Job& into, const job::Job& from);

/// The last place laid, for a program that plans the same again and again with other figures.
class KeptPlace {
public:
    /// @param shape  as shape_of() gives it
    [[nodiscard]] const LaidPlace* of(const job::Job& shape) const;
    const LaidPlace& keep(const job::Job& shape, LaidPlace laid);
    /// To be called when the hull is another one.
    void forget() { laid_.reset(); }

private:
    std::unique_ptr<const LaidPlace> laid_;
    std::string of_;  ///< what it was laid for
};

}  // namespace tearline::plan
