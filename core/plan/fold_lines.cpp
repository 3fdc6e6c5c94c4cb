#include "core/plan/fold_lines.h"

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/ground/ground.h"

namespace tearline::plan {

std::vector<templates::FoldRequest> fold_lines(const ground::Ground& ground, Units units) {
    std::vector<templates::FoldRequest> folds;
    if (!ground.lap) return folds;
    const patch::EndBend& bend = ground.lap->bend();
    for (const patch::EndSpan& span : ground.lap->over->covered()) {
        folds.push_back(
            {ground.lap->over->line(span, 0.0),
             "HULL'S EDGE: BEND FROM HERE, RADIUS " + length_text(bend.radius, 1, units)});
        folds.push_back({ground.lap->over->line(span, bend.girth()), "BEND ENDS HERE"});
    }
    return folds;
}

}  // namespace tearline::plan
