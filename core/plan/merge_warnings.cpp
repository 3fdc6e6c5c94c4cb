#include "core/plan/merge_warnings.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/plan/tolerances.h"

namespace tearline::plan {

namespace {

/// Of plies that end with the hull, scarf or cover.
bool ends_with_hull(const Warning& warning) {
    return warning.code == "cut-at-hull-end" || warning.code == "cover-cut-at-hull-end";
}

bool same_cause(const Warning& a, const Warning& b) {
    if (a.code != b.code || !a.ply || !b.ply) return false;
    if (a.code == "ply-as-cover") return true;  // one stack, higher than its dish is deep
    if (ends_with_hull(a)) return true;         // one end
    return a.at && b.at && (*a.at - *b.at).norm() <= tolerance::same_crease;
}

/// What differs from ply to ply.
std::string by_its_own(const Warning& warning) {
    if (ends_with_hull(warning)) return "";
    return warning.at ? ", by its own depth," : ", at its own height,";
}

}  // namespace

Warnings merged(Warnings warnings) {
    Warnings told;
    std::vector<std::string> others;
    std::vector<int> last;  // ply told of
    for (Warning& warning : warnings) {
        const auto before = std::find_if(told.begin(), told.end(), [&](const Warning& earlier) {
            return same_cause(earlier, warning);
        });
        if (before == told.end()) {
            last.push_back(warning.ply.value_or(0));
            told.push_back(std::move(warning));
            others.emplace_back();
            continue;
        }
        const auto k = static_cast<std::size_t>(before - told.begin());
        if (last[k] == *warning.ply) continue;  // another crease near by, in the same ply
        last[k] = *warning.ply;
        std::string& list = others[k];
        list += (list.empty() ? "" : ", ") + std::to_string(*warning.ply);
    }
    for (std::size_t i = 0; i < told.size(); ++i)
        if (!others[i].empty())
            say_more(told[i], "; likewise" + by_its_own(told[i]) + " for ply " + others[i]);
    return told;
}

}  // namespace tearline::plan
