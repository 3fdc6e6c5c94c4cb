#pragma once
#include <string>
#include <string_view>

#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/page/shape.h"
#include "core/plan/plan.h"

/// Pages for a browser: one file each, that asks no network for anything.
namespace tearline::page {

/// A model as it was read, to pick points on.
struct ModelShown {
    Shape shape;        ///< [mm]
    std::string model;  ///< what a job file beside it calls it
    std::string unit;   ///< as a job file names it; "" for a model that says its own
    std::string scan;   ///< "light", "photo", "depth"; "" for no scan
};

/// A hull as it was read, in facets fine enough to pick points on.
[[nodiscard]] Shape shape_of(const hull::Hull& hull);

/// The model in 3D: points picked on it become the lines of a job file.
[[nodiscard]] std::string model_page(const ModelShown& shown);

/// The hull of a job that was refused, with the reason at its place; the points of the job can be
/// picked anew.
[[nodiscard]] std::string refused_page(const job::Job& job, const Shape& hull,
                                       const Error& refusal);

/// A plan in 3D, layer by layer, with its templates and warnings.
///
/// @param hull  [mm] the whole of it; thinned here
[[nodiscard]] std::string plan_page(const Plan& plan, const Shape& hull);

/// The hull of a plan as far as the plan itself keeps it: coarse.
[[nodiscard]] Shape hull_of(const Plan& plan);

/// What every page begins with.
inline constexpr std::string_view first_line =
    "<!DOCTYPE html>\n<!-- A page of tearline look. -->\n";

/// Whether bytes are a page that was written here and not changed since.
[[nodiscard]] bool is_page(std::string_view bytes);

}  // namespace tearline::page
