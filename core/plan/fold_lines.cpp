#include "core/plan/fold_lines.h"

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/ground/ground.h"

namespace tearline::plan {

std::vector<templates::FoldRequest> fold_lines(const ground::Ground& ground, Units units,
                                               bool on_guide) {
    std::vector<templates::FoldRequest> folds;
    if (!ground.lap) return folds;
    const patch::EndBend& bend = ground.lap->bend();
    // Short: an end may be no wider than a few words.
    const std::string edge = "HULL'S EDGE: BEND R " + length_text(bend.radius, 1, units);
    const std::string ends = on_guide ? "BEND ENDS: BEYOND IT CLEAN GLASS ONLY" : "BEND ENDS";
    for (const patch::EndSpan& span : ground.lap->over->covered()) {
        folds.push_back({ground.lap->over->line(span, 0.0), edge});
        folds.push_back({ground.lap->over->line(span, bend.girth()), ends});
    }
    return folds;
}

}  // namespace tearline::plan
