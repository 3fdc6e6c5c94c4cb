#include "core/output/print/comes_round.h"

#include <gtest/gtest.h>

#include "tests/unit/print/shapes.h"

namespace tearline::print {

TEST(ComesRound, TellsARingFromOneThatTheHullsEndCuts) {
    Loop2 ring = test::circle(100.0);
    EXPECT_TRUE(comes_round(ring));
    // By hand: the chord over the last 10 degrees is 17.4 mm, a step 1.745 mm.
    ring.resize(350);
    EXPECT_FALSE(comes_round(ring));
    EXPECT_TRUE(comes_round(test::rectangle(100, 60)));
    EXPECT_FALSE(comes_round({}));
}

}  // namespace tearline::print
