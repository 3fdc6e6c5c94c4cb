#pragma once
#include <optional>
#include <string>

#include "core/base/quantity.h"

/// Holes right through a skin, what closes them from behind, and skins with a core.
namespace tearline::job {

enum class Side { outside, inside };

/// From which face the glass of a hole right through is laid.
enum class ScarfFrom { outside, inside, both };

/// The farthest layer of a cored skin that the damage reaches, from the face laid from.
enum class Reaches { outer_skin, core, inner_skin };

enum class BackingKind { choose, sheet, petals, stations, none };

/// From how many sides of the skin a person gets at the hole.
enum class Access { one_side, both_sides };

/// [backing]: what closes the hole while the first plies are laid.
struct Backing {
    BackingKind kind = BackingKind::choose;
    double lap = 40.0;                ///< [mm] beyond the hole, all round
    std::optional<double> thickness;  ///< [mm] required of a sheet
    /// Whether it stays in the hull: by default from one side, never with both.
    std::optional<bool> stays;
    Access access = Access::one_side;
};

/// [core]: the skin is a sandwich. Old skins, and how the new core goes in.
struct Core {
    double thickness = 0.0;                   ///< [mm]
    double outer = 0.0, inner = 0.0;          ///< [mm] the old skins
    std::string material;                     ///< as the yard calls it
    double chamfer = 0.0;                     ///< [mm out per mm] of its edge; 0: cut square
    double gap = 2.0;                         ///< [mm] fit round the plug
    double bed = 1.0;                         ///< [mm] of paste
    std::optional<double> kerf_pitch;         ///< [mm] none: no kerfs
    std::optional<double> kerf_width;         ///< [mm]
    std::optional<double> wet_edge;           ///< [mm] last wet place, outside the damage outline
    double wet_margin = 50.0;                 ///< [mm] taken away beyond the last wet place
    std::optional<GramsPerSquareMetre> seal;  ///< resin that the core drinks; by its maker
    double edge_fill = 25.0;                  ///< [mm] filled solid at an opening or a hull end
    double guard = 10.0;                      ///< [mm] inner skin kept free beyond its scarf

    [[nodiscard]] double total() const { return outer + thickness + inner; }
};

/// One part of a larger repair: a side, or a skin of a sandwich. Not in the job file.
struct Part {
    std::string name;      ///< "from inside", "inner skin"; empty: the repair is one
    double below = 0.0;    ///< [mm] its base surface, below the face that it is laid from
    int plies_before = 0;  ///< numbers run on over all parts
    bool covered = false;  ///< another part lies on it: no covers, no topcoat, no fairing
    bool on_new = false;  ///< what lies under its floor is glass laid by another part, or a backing
    bool skin_coat = false;  ///< its first ply is the skin coat on a mould's gel coat
};

}  // namespace tearline::job
