#include "core/engine/told_once.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/base/tolerances.h"

namespace tearline::engine {

namespace {

bool same_place(const Warning& a, const Warning& b) {
    return a.code == b.code && a.ply && b.ply && a.at && b.at &&
           (*a.at - *b.at).norm() <= tolerance::same_crease;
}

}  // namespace

Warnings told_once(Warnings warnings) {
    Warnings told;
    std::vector<std::string> others;
    for (Warning& warning : warnings) {
        const auto before = std::find_if(told.begin(), told.end(), [&](const Warning& earlier) {
            return same_place(earlier, warning);
        });
        if (before == told.end()) {
            told.push_back(std::move(warning));
            others.emplace_back();
            continue;
        }
        std::string& list = others[static_cast<std::size_t>(before - told.begin())];
        list += (list.empty() ? "" : ", ") + std::to_string(*warning.ply);
    }
    for (std::size_t i = 0; i < told.size(); ++i)
        if (!others[i].empty())
            told[i].message += "; likewise, by its own depth, for ply " + others[i];
    return told;
}

}  // namespace tearline::engine
