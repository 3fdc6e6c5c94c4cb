#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/closing/plug.h"
#include "core/closing/sandwich.h"
#include "core/job/through.h"
#include "core/quantities/stages.h"
#include "core/templates/laid_ply.h"

/// What closes a hole right through, as a plan holds it.
namespace tearline::plan {

/// A station of the far face: a card with its number, from a straight base line.
struct Station {
    int number = 0;
    double at_mm = 0.0;  ///< along the axis square to it, from the middle of the damage
    std::string name;    ///< "station 2 of 5, 50 mm right of the datum"
    std::array<std::string, 2> ends{};  ///< what its first and last end point to
    std::vector<Vec2> edge;  ///< [mm] along the card from its middle; height over the base line
};

/// How a backing that stays gets through a hole that is reached from one side.
struct ThroughHole {
    bool passes = false;                     ///< as it is: edge first, then turned a quarter
    double length_mm = 0.0, width_mm = 0.0;  ///< of the hole
    double least_length_mm = 0.0;            ///< that a hole of this width needs
    double rise_mm = 0.0;                    ///< of the backing, with its thickness
    double roll_radius_mm = 0.0;             ///< a sheet rolled in
    double cut_area_mm2 = 0.0;               ///< of sound skin cut away to make the hole an oval
};

/// What a backing that stays is laid up of.
inline constexpr const char* backing_mat = "mat 450";  // common practice

struct BackingPlan {
    job::BackingKind kind = job::BackingKind::none;
    double strain = 0.0;  ///< [-] of the uncut sheet on the far face
    double lap_mm = 0.0;
    std::optional<double> thickness_mm;
    bool stays = false;
    bool preformed = false;                  ///< the far face is too round for a flat sheet
    std::optional<double> least_radius_mm;   ///< of the far face under it; none on a flat one
    std::vector<templates::LaidPly> pieces;  ///< one sheet, with its templates; none of stations
    std::vector<Station> stations;
    std::optional<ThroughHole> passing;
    double area_mm2 = 0.0;  ///< of the sheet with its lap, on its own lay surface
    /// Of one that stays: plies of backing_mat that give its thickness, none where nobody said it;
    /// its glass; the resin that it and its bond take, waste in.
    int plies = 0;
    double glass_g = 0.0, resin_g = 0.0;
    /// From inside against a mould: gel coat goes on it before the plies; waste in.
    double gel_g = 0.0;
};

/// The new core.
struct CorePlan {
    double plug_mm = 0.0;        ///< thickness
    double depth_mm = 0.0;       ///< of its mid-plane, below the face laid from
    closing::PlugFace bed, top;  ///< on the far skin, and towards you
    double chamfer_mm = 0.0;     ///< how far its top reaches beyond its bed
    double filled_mm2 = 0.0;     ///< of its bed, cut back at the hull's end and filled solid
    double paste_mL = 0.0;
    /// Resin that the core drinks, both faces and the edge; waste in.
    std::optional<double> seal_g;
    double stand_off_mm = 0.0;  ///< of each flat piece between kerfs, or of the whole plug
    std::optional<closing::KerfMove> along, across;
    std::vector<templates::LaidPly> pieces;  ///< one plug, with its template
    closing::Sandwich before, after;
};

}  // namespace tearline::plan
