#include "core/plane/comes_round.h"

#include <gtest/gtest.h>

#include "tests/unit/paper/shapes.h"

namespace tearline::plane {

TEST(ComesRound, TellsARingFromOneThatTheHullsEndCuts) {
    Loop2 ring = paper::circle(100.0);
    EXPECT_TRUE(comes_round(ring));
    // By hand: the chord over the last 10 degrees is 17.4 mm, a step 1.745 mm.
    ring.resize(350);
    EXPECT_FALSE(comes_round(ring));
    EXPECT_TRUE(comes_round(paper::rectangle(100, 60)));
    EXPECT_FALSE(comes_round({}));
}

}  // namespace tearline::plane
