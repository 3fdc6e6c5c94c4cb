#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/base/warning.h"
#include "core/damage/flat_frame.h"
#include "core/job/job.h"
#include "core/laminate/compare.h"
#include "core/laminate/scarf_check.h"
#include "core/layout/nest_rolls.h"
#include "core/pieces/piece.h"
#include "core/surface/surface_mesh.h"
#include "core/templates/template.h"

namespace tearline {

/// One piece of a ply with its template and what it takes.
struct PlannedPiece {
    pieces::Piece piece;
    templates::Template outline;
    double glass_g = 0.0;
    double resin_g = 0.0;
};

struct PlannedPly {
    int number = 0;  ///< in the order of laying, from 1
    std::string fabric;
    job::FabricKind kind = job::FabricKind::mat;
    bool cover = false;
    double thickness_mm = 0.0;
    double edge_offset_mm = 0.0;
    double lay_depth_mm = 0.0;
    std::vector<Region3> outlines_3d;  ///< [mm] on the base surface
    double surface_area_mm2 = 0.0;     ///< inside the net line on the lay surface
    /// [mm] tightest radii of its lay surface seen from the laying side, 0 on an edge; none on a
    /// flat one
    std::optional<double> convex_radius_mm, concave_radius_mm;
    std::vector<PlannedPiece> pieces;
    double glass_area_mm2 = 0.0;  ///< to cut and to buy, every piece, one copy
    double glass_g = 0.0;
    double resin_g = 0.0;
};

/// What a dose is measured with; their divisions stand in core/quantities/measuring.h.
enum class Tool { scale, syringe_1, syringe_3, syringe_10, syringe_60, jug };

/// A dose as one tool shows it.
struct Measured {
    Tool tool = Tool::scale;
    double reading = 0.0;  ///< [g] on the scale, [mL] otherwise; a division of the tool
};

/// One mixed batch: what the job needs of it, and what is really mixed so that it can be measured.
struct Cup {
    double resin_g = 0.0;              ///< resin and hardener together for epoxy
    std::optional<double> hardener_g;  ///< none without a figure for it
    std::optional<double> hardener_mL;
    std::optional<double> use_within_min;
    double mix_resin_g = 0.0;  ///< counted as resin_g; 0: taken out of the next stage's first cup
    std::optional<double> mix_hardener_g;
    std::optional<double> mix_hardener_mL;
    double left_g = 0.0;           ///< of mix_resin_g, what no stage needs
    std::optional<double> pour_g;  ///< resin alone to pour in; none where only its volume is known
    std::optional<double> pour_mL;
    std::optional<Measured> resin_by, resin_or;  ///< how to measure what is poured in
    std::optional<Measured> hardener_by, hardener_or;
    std::optional<int> drops;   ///< of its hardener, where counted and not too many to count
    bool moved_inward = false;  ///< the dose aimed at is not the percentage's own
};

/// What is laid in one go. The priming coat comes first, as a stage without plies.
struct Stage {
    std::vector<int> plies;  ///< numbers; empty for the priming coat
    double thickness_mm = 0.0;
    std::vector<Cup> cups;
    std::string then;  ///< what to wait for, and to do, before the next; sentences
    /// Of its first cup, for the ground: the priming coat where it is too small to be dosed.
    double primes_g = 0.0;
};

/// One thing to buy, for all copies.
struct ShoppingItem {
    std::string kind;  ///< "cloth" | "resin" | "hardener" | "fairing" | "topcoat" or "gel coat" (+
                       ///< " hardener")
    std::string name;
    double amount = 0.0;         ///< needed, in `unit`
    std::string unit;            ///< "m" of roll, "g" or "mL"
    int packs = 0;               ///< cans to buy; 0 where none is known of
    double pack = 0.0;           ///< what one holds, in `unit`
    std::optional<double> cost;  ///< of what is bought: whole cans, whole roll width
    std::string pack_text;       ///< what one holds, as the job file writes it
};

struct Shopping {
    std::vector<ShoppingItem> items;
    std::string currency;
    std::optional<double> cost;  ///< of the items that have one; none when no price is given
    bool complete = false;       ///< whether every item has a price
};

struct Totals {
    double glass_area_m2 = 0.0, glass_g = 0.0, resin_g = 0.0;
    std::optional<double> hardener_g, hardener_mL;
    std::optional<double> topcoat_g, topcoat_hardener_g;  ///< none where no topcoat goes on
    double laid_thickness_mm = 0.0;
    double ground_area_m2 = 0.0;  ///< surface that is primed: the scarf region
    double prime_g = 0.0;         ///< resin for priming, in resin_g before waste
    double proud_mean_mm = 0.0;   ///< how far overlapping torn bands leave the scarf proud
    double proud_max_mm = 0.0;
    double sanding_mm = 0.0;    ///< over the floor, from the top of the covers to the fair surface
    double kept_mm = 0.0;       ///< over the floor, when that is sanded back
    int kept_plies = 0;         ///< of which at least half stays over the floor
    int plies_over_ground = 0;  ///< that reach over all the ground glass
    double fairing_mL = 0.0;    ///< compound: what the glass leaves low, and the skim over all
};

/// One figure a hull was measured by: how well it is met, and what it does.
struct MeasuredCheck {
    std::string place;                     ///< in the job file
    double figure_mm = 0.0;                ///< as given
    double passes_mm = 0.0;                ///< what the surface has there
    std::optional<double> edge_mm_per_mm;  ///< [-] how far an edge moves for each mm of error
};

/// What there is to fill in a dish known by soundings.
struct DishVolumes {
    double dish_mL = 0.0;
    double laminate_mL = 0.0;  ///< of it, filled by plies
    double fairing_mL = 0.0;   ///< of it, left to filler
    double proud_mL = 0.0;     ///< laminate above the base surface, sanded off
    double proud_max_mm = 0.0;
    double deepest_mm = 0.0;  ///< as sounded; half way through, of what is left of it
};

/// What the plies laid so far have really built, by soundings before and after.
struct BuiltSoFar {
    int plies = 0;
    double planned_mm = 0.0, built_mm = 0.0;  ///< where all of them lie
    struct Ply {
        int number = 0;
        double thickness_mm = 0.0;   ///< its share of what was built
        double glass_content = 0.0;  ///< [-] by mass, that this thickness means
    };
    std::vector<Ply> each;
};

/// The hull near the repair, for pictures.
struct HullView {
    surface::SurfaceMesh near;       ///< the patch mesh about the footprint
    std::vector<Vec3> far_vertices;  ///< the whole hull, coarse; mm
    std::vector<std::array<std::int32_t, 3>> far_triangles;
};

/// The dish over its own part of the base surface, for pictures.
struct DishView {
    std::vector<Vec3> points;   ///< [mm] on the base surface
    std::vector<double> depth;  ///< [mm] per point, below it
    std::vector<std::array<std::int32_t, 3>> triangles;
};

/// A repair worked out: what plan.json, pictures, cutter files and the CAD plugin are written from.
struct Plan {
    job::Job job;
    std::string model_sha256;
    damage::FlatFrame frame;
    Region3 damage;  ///< on the base surface
    double damage_area_mm2 = 0.0, damage_perimeter_mm = 0.0;
    std::vector<Region3> scarf;  ///< edge of the dish on the base surface
    double scarf_area_mm2 = 0.0;
    std::vector<Region3> footprint;
    double footprint_area_mm2 = 0.0;
    std::vector<PlannedPly> plies;
    templates::GrindGuide grind_guide;
    std::vector<templates::Section> sections;
    std::vector<layout::Roll> rolls;
    std::vector<Vec2> dish;  ///< [mm] (offset outside the outline, depth), to depth 0
    std::vector<Stage> stages;
    std::vector<Cup> topcoat_cups;  ///< resin_g is topcoat here
    Totals totals;                  ///< of one copy
    std::vector<job::Mark> marks;   ///< where tape was laid from, found on the hull
    std::vector<MeasuredCheck> measured;
    std::optional<DishVolumes> volumes;
    std::optional<BuiltSoFar> built;
    std::optional<laminate::Comparison> comparison;  ///< with the old laminate
    std::optional<laminate::ScarfCheck> scarf_check;
    Shopping shopping;  ///< for all copies
    Warnings warnings;
    HullView view;
    DishView dish_view;
};

}  // namespace tearline
