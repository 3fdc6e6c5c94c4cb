#include "core/engine/told_once.h"

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>

#include "core/base/tolerances.h"

namespace tearline::engine {

namespace {

/// A warning without the ply that it names first.
std::string_view behind_the_ply(const Warning& warning) {
    const std::string_view message = warning.message;
    return message.substr(std::min(message.find(" ends "), message.size()));
}

bool same_cause(const Warning& a, const Warning& b) {
    if (a.code != b.code || !a.ply || !b.ply) return false;
    if (a.code == "ply-as-cover") return true;  // one stack, higher than its dish is deep
    // A cover ply has its own sentence where the scarf is whole.
    if (a.code == "cut-at-hull-end") return behind_the_ply(a) == behind_the_ply(b);
    return a.at && b.at && (*a.at - *b.at).norm() <= tolerance::same_crease;
}

/// What differs from ply to ply.
std::string by_its_own(const Warning& warning) {
    if (warning.code == "cut-at-hull-end") return "";
    return warning.at ? ", by its own depth," : ", at its own height,";
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
            say_more(told[i], "; likewise" + by_its_own(told[i]) + " for ply " + others[i]);
    return told;
}

}  // namespace tearline::engine
