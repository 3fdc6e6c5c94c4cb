#include "core/base/side_by_side.h"

#include <gtest/gtest.h>

#include <atomic>
#include <numeric>
#include <stdexcept>
#include <vector>

namespace tearline {
namespace {

TEST(SideBySide, DoesEachOnce) {
    for (const std::size_t count : {0, 1, 2, 1000}) {
        std::vector<std::atomic<int>> times(count);
        side_by_side(count, [&](std::size_t i) { ++times[i]; });
        for (const auto& n : times) EXPECT_EQ(n, 1);
    }
}

TEST(SideBySide, HoldsOthersInside) {
    // By hand: 1 + 2 + ... + n for n = 1 ... 20 sums to 20 * 21 * 22 / 6 = 1540.
    std::vector<long> sums(20);
    side_by_side(sums.size(), [&](std::size_t i) {
        std::vector<long> parts(i + 1);
        side_by_side(parts.size(), [&](std::size_t k) { parts[k] = static_cast<long>(k) + 1; });
        sums[i] = std::accumulate(parts.begin(), parts.end(), 0L);
    });
    EXPECT_EQ(std::accumulate(sums.begin(), sums.end(), 0L), 1540);
}

TEST(SideBySide, HandsOnWhatIsThrown) {
    EXPECT_THROW(side_by_side(100,
                              [](std::size_t i) {
                                  if (i == 57) throw std::runtime_error("57");
                              }),
                 std::runtime_error);
}

}  // namespace
}  // namespace tearline
