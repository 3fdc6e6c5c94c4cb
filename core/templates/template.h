#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/templates/mark.h"

namespace tearline::templates {

/// A slit or dart.
struct ReliefCut {
    std::string kind;          ///< "slit" | "dart"
    std::vector<Vec2> points;  ///< [mm]
};

/// A flat template to cut or tear one piece by, seen from the laying side.
struct Template {
    Region2 net;                  ///< edge of the full-thickness ply
    std::optional<Region2> tear;  ///< mat: outside the torn band
    std::optional<Region2> cut;   ///< woven, biaxial: where to cut
    std::vector<Mark> marks;
    std::vector<ReliefCut> relief_cuts;
    double area_mm2 = 0.0;      ///< inside the tear or cut line
    double axis_degrees = 0.0;  ///< fibre axis, from the bow direction
    double warp_degrees = 0.0;  ///< the same on paper, counter-clockwise from +x

    /// The line the cloth is parted along.
    [[nodiscard]] const Region2& parting_region() const { return tear ? *tear : cut ? *cut : net; }
};

/// The base surface cut by a plane square to it: an edge to cut from card or ply.
struct Section {
    std::string name;        ///< "along" (fore and aft), "athwart" (across a transom), "across"
    std::vector<Vec2> edge;  ///< [mm] along the axis from the datum, height towards the laying side
    double angle_degrees = 0.0;         ///< of the axis on paper: 0 along x, 90 along y
    std::array<std::string, 2> ends{};  ///< what its first and its last end point to, in words
    std::optional<double>
        back{};  ///< [mm] height of the card's straight back, where cards share one
};

/// The flattened footprint with what to grind to.
struct GrindGuide {
    struct Ring {
        std::vector<Loop2> loops;  ///< [mm] flat
        std::string text;          ///< "PLY 3  DEPTH 4.2 mm", "COVER PLY 7: NO GRINDING"
        double depth_mm = 0.0;     ///< of the dish on this ring
        int ply = 0;  ///< 0: damage outline, -1: scarf edge, -2: gel coat comes off to here,
                      ///< -3: steeper than the ratio, `depth_mm` more must come off inside
        /// [mm] from the ring to where its name begins, outside all rings; empty where the name
        /// stands beside the ring
        std::vector<Vec2> leader{};
    };
    Region2 footprint;
    std::vector<Ring> rings;
    std::vector<Mark> marks;
};

}  // namespace tearline::templates
