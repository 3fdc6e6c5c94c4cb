#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/base/vec.h"

/// What a person measures at the hull with tape, batten and depth gauge, in mm.
namespace tearline::job {

/// Gaps under a batten laid on the hull along the bow direction and across it.
///
/// A gap is how far the hull falls away from the batten at half its length from where it touches,
/// the mean of both ends; negative where the hull is hollow and the batten rests on its ends.
struct BattenGaps {
    double batten = 0.0;  ///< [mm] its length
    double gap_along = 0.0, gap_across = 0.0;
    /// Along, measured again at the lower and at the upper end of the batten across.
    std::optional<std::array<double, 2>> gap_along_ends;
    /// Across, measured again at the after and at the forward end of the batten along.
    std::optional<std::array<double, 2>> gap_across_ends;
    int line = 0;  ///< in the job file
};

/// Distances to the hull, square from a straight plane or net outside it: a row for each line along
/// the bow, the lowest first; in a row from aft to forward.
struct OffsetGrid {
    double spacing_along = 0.0, spacing_across = 0.0;  ///< [mm]
    std::vector<std::vector<double>> offsets;          ///< [mm]
    std::vector<int> lines;                            ///< of each row in the job file
};

/// A corner or fillet as a person faces it: a bend between two flats, swept along a line. Figures
/// in pairs: below, or aft, of the bend first; above, or forward, of it second.
struct Corner {
    std::optional<double> radius;  ///< [mm] of the face that is measured; or `profile`
    std::optional<double> angle;   ///< [deg] that the face turns through, from flat to flat
    std::optional<bool> convex;    ///< towards the person
    /// [mm] how far the flats reach from where the bend, or the profile, ends.
    std::optional<std::array<double, 2>> flats;
    double length = 0.0;   ///< [mm] along the line, half of it to each side of the middle
    bool upright = false;  ///< the line runs up, not along
    /// [mm] the section by a contour gauge: across from the line of the marks, and out towards the
    /// person.
    std::vector<std::vector<double>> profile;
    std::vector<int> lines;                       ///< of each point of the profile in the job file
    std::optional<double> batten, batten_across;  ///< [mm] lengths
    /// [mm] under the batten laid along the line on each flat, where the bend ends.
    std::optional<std::array<double, 2>> gaps_along;
    /// [mm] under the one laid across the line on each flat.
    std::optional<std::array<double, 2>> gaps_across;
};

/// The usual table of offsets: for each station the half-breadth at each waterline.
struct OffsetTable {
    std::vector<double> stations;    ///< [mm] ascending, x towards the bow
    std::vector<double> waterlines;  ///< [mm] ascending, z up
    std::vector<std::vector<double>> half_breadths;
    std::vector<int> lines;  ///< of each row in the job file
    bool port = true;        ///< which side is lofted; port is +y
};

/// Which of the two places that have the same distances from two marks.
enum class TapedSide { none, up, down, forward, aft, port, starboard };

/// A point to be found on the hull: by tape from marks, or below two coordinates of a measured
/// hull.
struct TapedPoint {
    enum class Use { outline, end, centre, press_first, sounding, mark };
    Use use = Use::centre;
    std::size_t index = 0;  ///< in the outline, the end, the soundings or the marks
    std::string path;       ///< as in messages: "damage.outline[2]"
    int line = 0;
    std::vector<std::pair<std::string, double>> distances;  ///< mark, [mm]; empty: below `at`
    TapedSide side = TapedSide::none;
    Vec3 at{0, 0, 0};  ///< [mm] where it is searched from when there are no distances
};

/// A point of the hull outside the grinding that distances are taken from.
struct Mark {
    std::string name;
    std::optional<Vec3> at;  ///< [mm] given, or found when the hull is known
    int line = 0;
};

/// A depth as measured in the ground-out dish.
struct Sounding {
    enum class From { gauge, straightedge };
    Vec3 at{0, 0, 0};    ///< [mm]
    double depth = 0.0;  ///< [mm] as read
    From from = From::gauge;
    double length = 0.0;  ///< [mm] of the straightedge, its middle over the point
    double degrees =
        0.0;        ///< its direction, counter-clockwise from the bow seen from where one lays
    int after = 0;  ///< taken on the cured work after this ply; 0 in the dish as ground
    int line = 0;
};

}  // namespace tearline::job
