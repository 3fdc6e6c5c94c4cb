#include "core/engine/told_once.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/base/tolerances.h"

namespace tearline::engine {

namespace {

bool same_cause(const Warning& a, const Warning& b) {
    if (a.code != b.code || !a.ply || !b.ply) return false;
    if (a.code == "ply-as-cover") return true;  // one stack, higher than its dish is deep
    return a.at && b.at && (*a.at - *b.at).norm() <= tolerance::same_crease;
}

}  // namespace

Warnings told_once(Warnings warnings) {
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
            told[i].message += (told[i].at ? "; likewise, by its own depth, for ply "
                                           : "; likewise, at its own height, for ply ") +
                               others[i];
    return told;
}

}  // namespace tearline::engine
