#pragma once
#include <array>
#include <string>
#include <vector>

#include "core/base/units.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// A template with the names it goes by.
struct PieceTemplate {
    std::string id;  ///< "1A"
    int ply = 0;
    std::string fabric;
    bool mat = true;
    Template outline;
};

/// All that is drawn of a plan: whether it was just made or is read back from plan.json, its
/// drawings come from this alone.
struct TemplateSet {
    std::string title;   ///< of the job; may be empty
    std::string model;   ///< name of its file
    std::string job_id;  ///< short, from the model's hash
    std::vector<PieceTemplate> pieces;
    GrindGuide guide;  ///< without rings where the plan has none
    std::vector<Section> sections;
    bool epoxy = false;           ///< of the resin, by the job
    Units units = Units::metric;  ///< what its reader measures in
    /// What right, top, left and bottom of the paper point to; empty where the plan does not say.
    std::array<std::string, 4> ends{};
};

}  // namespace tearline::templates
