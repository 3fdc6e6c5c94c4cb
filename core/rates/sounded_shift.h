#pragma once
#include <Eigen/Core>
#include <vector>

#include "core/dish/sounded_dish.h"
#include "core/dish/thin_plate.h"
#include "core/rates/outline_shift.h"

namespace tearline::rates {

/// How the levels of a dish known by soundings slide over the surface when the surface moves.
///
/// A sounding that slides is a depth that changes where it was, by the slope there; so is the edge
/// of the ground area. Between them the change is a thin plate as the dish itself is. Soundings
/// slide by their tapes; a straightedge is corrected by what it rests on.
class SoundedShift {
public:
    /// @param dish  that of `on`
    SoundedShift(const PlannedGround& on, const dish::SoundedDish& dish,
                 const MovedSurface& surface, const OutlineShift& outline);

    /// Movement of the level through a place, towards where it is shallower, for each pole.
    [[nodiscard]] Eigen::RowVectorXd outward(const Vec2& chart) const;

private:
    /// A place of the plate with what each pole adds to the depth there [mm].
    struct Change {
        Vec2 at{0, 0};
        Eigen::RowVectorXd deeper;
    };
    void add_soundings();
    void add_edges(const OutlineShift& outline);
    [[nodiscard]] Eigen::RowVectorXd corrected(const job::Sounding& sounding,
                                               const surface::Location& at) const;

    const PlannedGround& on_;
    const dish::SoundedDish& dish_;
    const MovedSurface& surface_;
    std::vector<Change> changes_;
    std::vector<dish::ThinPlate> plates_;  ///< of each of poles_
    std::vector<Eigen::Index> poles_;
};

}  // namespace tearline::rates
