#pragma once
#include <optional>
#include <string>

#include "core/job/job.h"
#include "core/laminate/laminate.h"

namespace tearline::laminate {

/// A screening figure for the scarf, never a design.
struct ScarfCheck {
    double laminate_strength = 0.0;  ///< [MPa] in tension, the greater of along and across
    std::string strength_of;         ///< "the old laminate" | "the patch"
    double ratio = 0.0;              ///< [-] as chosen
    double safety_factor = 1.0;
    std::optional<double> bond_shear;      ///< [MPa] nothing: no ratio can be asked for
    std::optional<double> required_ratio;  ///< [-]
    double bond_stress = 0.0;  ///< [MPa] shear along the chosen scarf at the laminate's strength
    double peel_stress = 0.0;  ///< [MPa] across it
    double peel_share = 0.0;   ///< [-] peel by shear, 1 / ratio
    std::string verdict;       ///< a plain sentence

    /// Whether a bond strength is known and asks for a longer scarf.
    [[nodiscard]] bool too_short() const { return required_ratio && !(ratio >= *required_ratio); }
};

/// Scarf ratio at which a bond of a strength bears what the laminate bears.
///
/// @param sigma   [MPa] strength of the laminate
/// @param tau     [MPa] strength of the bond in shear, > 0
/// @param factor  [-] safety factor on the bond
/// @return 1 (45 degrees, where the shear is greatest) when the bond bears it at any ratio
/// @source derived: tau = sigma sin cos; k = n sigma / tau, R = (k + sqrt(k^2 - 4)) / 2
[[nodiscard]] double required_ratio(double sigma, double tau, double factor);

/// Width of a scarf on the surface [mm].
[[nodiscard]] double scarf_width(double ratio, double depth);

/// The check of what stays of a patch, or of the old laminate where the job says what it was.
///
/// @param kept  the new glass that stays, without the floor under it
[[nodiscard]] ScarfCheck check_scarf(const Layers& kept, const job::Job& job);

/// What is printed beside the figure wherever it stands.
[[nodiscard]] const char* scarf_check_words();

}  // namespace tearline::laminate
