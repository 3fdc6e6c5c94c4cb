#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::hull {

/// Reads a surface model, mends it, sews it into one surface in mm and turns it outward.
///
/// A hull measured by hand is drawn from its figures instead.
/// @param options  model, unit, bow, up, outward, mirror of the job file
/// @param side     the side the glass is laid from: picks the skin where the model holds two
/// @error bad_input  unreadable, empty, truncated, non-manifold or non-orientable, with the place
[[nodiscard]] Result<Hull> read_hull(const job::HullOptions& options, job::Side side);

/// Where the unit of a model is written: messages name it as it is called there.
enum class UnitFrom {
    job_file,      ///< hull.unit
    command_line,  ///< --unit
};

/// Reads a model to say what it holds, with the smallest radii, without a job: a surface too flat
/// to tell its outside is kept as modelled and the report says so.
/// @param side  picks the skin where the model holds two
[[nodiscard]] Result<Hull> inspect_hull(const std::filesystem::path& model,
                                        const std::optional<std::string>& unit,
                                        UnitFrom from = UnitFrom::job_file,
                                        job::Side side = job::Side::outside);
[[nodiscard]] Result<Hull> inspect_hull(const job::HullOptions& options, UnitFrom from,
                                        job::Side side);

}  // namespace tearline::hull
