#include "core/base/packed_lists.h"

#include <gtest/gtest.h>

#include "core/base/ids.h"

namespace tearline {
namespace {

TEST(PackedLists, HoldWhatEachWasTold) {
    // Expected: by hand.
    const PackedLists<VertexId, int> lists(3, [](auto&& tell) {
        tell(VertexId(2), 7);
        tell(VertexId(0), 5);
        tell(VertexId(2), 6);
    });
    const auto as_vector = [&](std::int32_t v) {
        const auto list = lists[VertexId(v)];
        return std::vector<int>(list.begin(), list.end());
    };
    EXPECT_EQ(as_vector(0), std::vector<int>{5});
    EXPECT_TRUE(as_vector(1).empty());
    EXPECT_EQ(as_vector(2), (std::vector<int>{7, 6}));
}

TEST(PackedLists, MayBeNone) {
    const PackedLists<VertexId, int> lists(0, [](auto&&) {});
    const PackedLists<VertexId, int> empty(1, [](auto&&) {});
    EXPECT_TRUE(empty[VertexId(0)].empty());
}

}  // namespace
}  // namespace tearline
