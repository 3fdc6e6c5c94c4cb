#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"
#include "core/base/units.h"
#include "core/templates/template.h"

/// Full-size prints of a finished plan. Everything here but the files that include Qt is plain
/// computation: what to draw, where on which page, in mm.
namespace tearline::paper {

/// A piece as plan.json tells of it.
struct PrintPiece {
    std::string id;
    int ply = 0;
    std::string fabric;
    std::string kind;  ///< "mat" | "woven" | "biaxial"
    bool cover = false;
    templates::Template outline;
};

/// What of a plan goes on paper.
struct PrintPlan {
    std::string title;
    std::string model;
    std::string job_id;  ///< short, from the model's hash and the title
    std::vector<PrintPiece> pieces;
    templates::GrindGuide guide;  ///< without rings where the plan has none
    std::vector<templates::Section> sections;
    std::vector<std::string> warnings;
    bool epoxy = false;           ///< of the resin, by the job
    Units units = Units::metric;  ///< what its reader measures in
    /// What right, top, left and bottom of the paper point to; empty where the plan does not say.
    std::array<std::string, 4> ends{};
};

/// Reads the text of a plan.json, schema "tearline-plan/1"; unknown keys are passed over.
///
/// @error bad_input  no JSON, another schema, or a value that is not what the schema says
[[nodiscard]] Result<PrintPlan> read_print_plan(std::string_view json);

}  // namespace tearline::paper
