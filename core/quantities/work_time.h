#pragma once
#include <optional>
#include <vector>

#include "core/quantities/quantities.h"

namespace tearline::quantities {

// Common practice.
inline constexpr double minutes_to_mix_a_cup = 5.0;
inline constexpr double minutes_to_tear_a_piece = 5.0;
inline constexpr double tack_minutes = 30.0;  ///< from gel to tack (SOURCES.md section 4)
inline constexpr double hours_a_working_day = 8.0;
inline constexpr double cure_hours = 48.0;  ///< before load, at 18 C (SOURCES.md section 4)

/// Time that a plan's own figures give; what they do not give is for a box.
struct WorkTime {
    std::vector<double> stage_minutes;  ///< wetting out and mixing, by stage
    double wet_out_minutes = 0.0;       ///< of all stages and the topcoat
    double mixing_minutes = 0.0;        ///< of all cups, the topcoat's too
    double tearing_minutes = 0.0;
    int waits = 0;                       ///< between stages that are let come to tack
    std::optional<double> wait_minutes;  ///< each, gel and tack; nothing without gel data
    int least_laying_days = 1, most_laying_days = 1;
    int cure_days = 2;
    int topcoat_days = 0;  ///< of a final topcoat, which cures overnight

    [[nodiscard]] double work_hours() const {
        constexpr double minutes_an_hour = 60.0;
        return (wet_out_minutes + mixing_minutes + tearing_minutes) / minutes_an_hour;
    }
};

/// Wetting out at the laminator's rate, 5 minutes a cup and 5 a piece; days from the waits between
/// stages: at least as work and tack fill working days of 8 hours, at most at the recoat time each.
[[nodiscard]] WorkTime work_time(const job::Job& job, const Areas& areas,
                                 const Quantities& quantities);

}  // namespace tearline::quantities
