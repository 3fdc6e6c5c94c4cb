#include "core/job/nearest_name.h"

#include <algorithm>
#include <numeric>
#include <vector>

namespace tearline::job {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({above + 1, row[j - 1] + 1, changed});
            diagonal = above;
        }
    }
    return row[b.size()];
}

std::string nearest_name(std::string_view word, std::span<const std::string_view> known) {
    // A name of any length is compared by its beginning: nothing of ours is longer.
    word = word.substr(0, 64);
    const auto nearest = std::min_element(known.begin(), known.end(), [&](auto a, auto b) {
        return edit_distance(word, a) < edit_distance(word, b);
    });
    return nearest == known.end() ? std::string() : std::string(*nearest);
}

}  // namespace tearline::job
