#include "core/job/figure_words.h"

#include <gtest/gtest.h>

namespace tearline::job {
namespace {

TEST(FigureWords, SayWhereAFigureWasMeasured) {
    // As the measuring sheet names them.
    EXPECT_EQ(figure_words("hull.measured.gap_along"), "the gap along, at the middle");
    EXPECT_EQ(figure_words("hull.measured.gap_across_ends[2]"),
              "the gap across, half a batten forward");
    EXPECT_EQ(figure_words("hull.grid.offsets[2][4]"), "row 2 from below, figure 4 from aft");
    EXPECT_EQ(figure_words("hull.corner.radius"), "the radius of the bend");
    EXPECT_EQ(figure_words("hull.corner.gaps_along[2]"),
              "the gap along, above or forward of the bend");
    EXPECT_EQ(figure_words("hull.corner.profile[7]"), "profile, point 7");
    EXPECT_EQ(figure_words("hull.sections.half_breadths[10][3]"), "station 10, waterline 3");
    EXPECT_EQ(figure_words("damage.sounding[12]"), "sounding 12");
}

TEST(FigureWords, LeaveWhatTheyDoNotKnow) {
    EXPECT_EQ(figure_words("hull.elsewhere[1]"), "hull.elsewhere[1]");
    EXPECT_EQ(figure_words(""), "");
}

}  // namespace
}  // namespace tearline::job
