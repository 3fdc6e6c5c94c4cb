#include <gtest/gtest.h>

#include "core/pieces/ply_shape.h"

namespace tearline::pieces {
namespace {

TEST(PieceLetters, CountLikeColumnsOfASheet) {
    // Common practice: bijective base 26.
    EXPECT_EQ(piece_letters(0), "A");
    EXPECT_EQ(piece_letters(25), "Z");
    EXPECT_EQ(piece_letters(26), "AA");
    EXPECT_EQ(piece_letters(26 * 27), "AAA");
}

}  // namespace
}  // namespace tearline::pieces
