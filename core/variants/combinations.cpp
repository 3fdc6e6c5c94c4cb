#include "core/variants/combinations.h"

#include <algorithm>

namespace tearline::variants {

std::size_t count_combinations(const std::vector<job::Variation>& variations) {
    std::size_t count = 1;
    for (const job::Variation& variation : variations)
        count = std::min(count * variation.values.size(), most_combinations + 1);
    return count;
}

std::vector<job::Changes> combinations(const std::vector<job::Variation>& variations) {
    std::vector<job::Changes> all{{}};
    for (const job::Variation& variation : variations) {
        std::vector<job::Changes> more;
        for (const job::Changes& changes : all)
            for (const std::string& value : variation.values) {
                more.push_back(changes);
                more.back().push_back({variation.key, value});
            }
        all = std::move(more);
    }
    return all;
}

}  // namespace tearline::variants
