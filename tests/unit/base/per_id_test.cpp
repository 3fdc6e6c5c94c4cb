#include "core/base/per_id.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <type_traits>

namespace tearline {
namespace {

using One = Id<struct OneTag>;
using Other = Id<struct OtherTag>;
template <class Key>
concept ReadsOnes = requires(const PerId<One, int>& ones, Key id) {
    ones[id];
};

// By the language's own rules: what compiles and what does not.
static_assert(ReadsOnes<One>);
static_assert(!ReadsOnes<Other> && !ReadsOnes<int> && !ReadsOnes<std::size_t>);
static_assert(!std::is_convertible_v<One, Other> && !std::is_convertible_v<int, One>);

TEST(PerId, NumbersWhatIsAddedAndWalksItInOrder) {
    PerId<One, int> squares;
    for (int i = 0; i < 4; ++i) EXPECT_EQ(squares.add(i * i), One(i));
    squares[One(2)] += 10;
    int sum = 0, count = 0;
    for (const One id : squares.ids()) {
        EXPECT_EQ(id, One(count++));
        sum += squares[id];
    }
    EXPECT_EQ(sum, 0 + 1 + 14 + 9);
    // What is added while walking is not walked: the loop's end stands when it begins.
    for (const One id : squares.ids()) squares.add(squares[id]);
    EXPECT_EQ(squares.size(), 8u);
}

TEST(PerId, HoldsFlagsToo) {
    PerId<One, bool> flags(3, false);
    flags[One(1)] = true;
    EXPECT_EQ(std::count(flags.begin(), flags.end(), true), 1);
}

}  // namespace
}  // namespace tearline
