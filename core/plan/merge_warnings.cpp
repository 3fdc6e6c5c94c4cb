#include "core/plan/merge_warnings.h"

#include <algorithm>
#include <utility>

#include "core/plan/tolerances.h"

namespace tearline::plan {

namespace {

bool same_cause(const Warning& a, const Warning& b) {
    if (a.cause.index() != b.cause.index() || !a.ply || !b.ply) return false;
    // One stack, higher than its dish is deep; one end of the hull.
    if (is<warn::PlyAsCover>(a)) return true;
    if (const auto* end = std::get_if<warn::CutAtHullEnd>(&a.cause))
        return end->hole == std::get<warn::CutAtHullEnd>(b.cause).hole;
    if (const auto* end = std::get_if<warn::CoverCutAtHullEnd>(&a.cause))
        return end->hole == std::get<warn::CoverCutAtHullEnd>(b.cause).hole;
    return a.at && b.at && (*a.at - *b.at).norm() <= tolerance::same_crease;
}

}  // namespace

Warnings merged(Warnings warnings) {
    Warnings told;
    for (Warning& warning : warnings) {
        const auto before = std::find_if(told.begin(), told.end(), [&](const Warning& earlier) {
            return same_cause(earlier, warning);
        });
        if (before == told.end()) {
            told.push_back(std::move(warning));
            continue;
        }
        auto& likewise = before->likewise;
        // Another crease near by, in the same ply, is no other ply.
        if ((likewise.empty() ? *before->ply : likewise.back()) != *warning.ply)
            likewise.push_back(*warning.ply);
    }
    return told;
}

}  // namespace tearline::plan
