#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/damage/flat_frame.h"
#include "core/damage/openings.h"
#include "core/job/job.h"
#include "core/plan/coarse_view.h"
#include "core/quantities/repair.h"
#include "core/templates/template.h"

namespace tearline::ground {
struct Ground;
}

namespace tearline::plan {

/// The dish over its own part of the base surface, for pictures.
struct DishView {
    std::vector<Vec3> points;   ///< [mm] on the base surface
    std::vector<double> depth;  ///< [mm] per point, below it
    std::vector<std::array<std::int32_t, 3>> triangles;
};

/// How the cloth goes over the hull's end.
struct LapView {
    double radius_mm = 0.0;  ///< of the finished face
    double turn_deg = 0.0;
    double depth_mm = 0.0;          ///< of the dish at the end
    double ground_radius_mm = 0.0;  ///< that the ground edge is rounded to
    double girth_mm = 0.0;          ///< of the bend of the finished face
    double ground_over_mm = 0.0;    ///< of the face behind it, from the bend on
    std::vector<std::vector<Vec3>> end_3d, bend_ends_3d;  ///< [mm] lines of the finished face
};

/// The place itself: damage, scarf, footprint, grind guide, views.
struct Place {
    damage::FlatFrame frame;
    Region3 damage;  ///< [mm] on the base surface
    std::vector<damage::KeptOpening> openings;
    std::vector<Region3> scarf;      ///< [mm] edge of the dish on the base surface
    std::vector<Region3> footprint;  ///< [mm]
    std::optional<LapView> lap;
    quantities::Areas areas;
    std::vector<Vec2> dish;  ///< [mm] (offset outside the outline, depth), to depth 0
    templates::GrindGuide grind_guide;
    std::vector<templates::Section> sections;
    HullView view;
    DishView dish_view;
    DishView footprint_view;  ///< the same of the whole footprint; no depth outside the ground
};

/// What a plan says of the place itself.
[[nodiscard]] Result<Place> describe_ground(const ground::Ground& ground, const hull::Hull& hull,
                                            const job::Job& job);

}  // namespace tearline::plan
