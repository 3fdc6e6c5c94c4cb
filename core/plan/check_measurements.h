#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/templates/laid_ply.h"
#include "core/warnings/warning.h"

namespace tearline::rates {
struct PlannedGround;
}

namespace tearline::plan {

/// One figure a hull was measured by: how well it is met, and what it does.
struct MeasuredCheck {
    std::string place;                     ///< in the job file
    double figure_mm = 0.0;                ///< as given
    double passes_mm = 0.0;                ///< what the surface has there
    std::optional<double> edge_mm_per_mm;  ///< [-] how far an edge moves for each mm of error
};

/// Every figure of a hull measured by hand; none of a model.
struct MeasuredChecks {
    std::vector<MeasuredCheck> figures;
    Warnings warnings;
};

/// How well a hull measured by hand meets its figures, and how far a template edge moves for each
/// millimetre that a figure is wrong: each gap of a batten is changed by 1 mm and the widest ply
/// laid flat again; figures of a table, of which there are many, are followed to first order.
[[nodiscard]] MeasuredChecks check_measurements(const rates::PlannedGround& on,
                                                std::span<const templates::LaidPly> plies);

}  // namespace tearline::plan
