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
    int ply = 0;     ///< 0: no ply, but what closes a hole: its `fabric` says what
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
    bool flat = false;            ///< a face or a piece of a model, and no repair
    Units units = Units::metric;  ///< what its reader measures in
    /// What right, top, left and bottom of the paper point to; empty where the plan does not say.
    std::array<std::string, 4> ends{};
    /// Of a repair of several parts each with its guide and its own pieces; `pieces` holds all.
    std::vector<TemplateSet> parts{};
    std::string part{};  ///< its name: "from inside", "inner skin"; empty: the repair is one
};

/// A name of something that every part has its own of: "grind guide from inside".
[[nodiscard]] inline std::string name_in(const TemplateSet& set, const std::string& what) {
    return set.part.empty() ? what : what + " " + set.part;
}

/// The parts of a set, or the set itself where it is one.
[[nodiscard]] inline std::vector<TemplateSet> parts_of(const TemplateSet& set) {
    return set.parts.empty() ? std::vector<TemplateSet>{set} : set.parts;
}

}  // namespace tearline::templates
