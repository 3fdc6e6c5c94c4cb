#include "core/quantities/stage_words.h"

#include <gtest/gtest.h>

namespace tearline::quantities {
namespace {

/// What stands after a stage: the priming coat, or one of two with plies.
std::string after(std::size_t stage, const job::Job& job = {}) {
    Quantities quantities;
    quantities.stages = {{{}, 0.0, {}, {}}, {{1, 2}, 2.1, {}, {}}, {{3, 4}, 2.1, {}, {}}};
    quantities.sanding.sanding_mm = 1.4;
    return after_stage(job, quantities, stage);
}

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

TEST(StageWords, FilmIsGivenInMillimetresMilsAndSheetsOfPaper) {
    // SOURCES.md section 4: 20 mil is 0.508 mm and about five sheets of printer paper (common
    // practice).
    EXPECT_EQ(film_text(0.508), "0.51 mm = 20 mil = about 5 sheets of printer paper");
    // By hand: 0.1 mm is 3.94 mil, one sheet.
    EXPECT_EQ(film_text(0.1), "0.10 mm = 4 mil = about 1.0 sheets of printer paper");
}

TEST(StageWords, FirstPlyGoesIntoTheWetPrimingCoat) {
    EXPECT_TRUE(says(after(0), "wet coat"));
}

TEST(StageWords, TackyPolyesterTakesTheNextStageWithinTheRecoatTime) {
    job::Job job;
    job.resin.recoat_hours = Hours(36);
    const std::string words = after(1, job);
    EXPECT_TRUE(says(words, "within 36 h")) << words;
    EXPECT_TRUE(says(words, "abrade")) << words;
    EXPECT_FALSE(says(words, "wax")) << words;
}

TEST(StageWords, WaxedResinIsSandedBeforeTheNextStage) {
    job::Job job;
    job.resin.waxed = true;
    EXPECT_TRUE(says(after(1, job), "sanded"));
    EXPECT_TRUE(says(after(2, job), "sand off the wax"));
}

TEST(StageWords, EpoxyBlushIsWashedOff) {
    job::Job job;
    job.resin.kind = job::ResinKind::epoxy;
    EXPECT_TRUE(says(after(1, job), "blush"));
    EXPECT_TRUE(says(after(2, job), "blush"));
    EXPECT_FALSE(says(after(2, job), "topcoat"));
}

TEST(StageWords, AirInhibitedResinIsSealedAtTheEnd) {
    // SOURCES.md section 4: unwaxed resin stays tacky in air; the last layer needs a seal.
    const std::string sacrificial = after(2);
    EXPECT_TRUE(says(sacrificial, "topcoat 0.51 mm = 20 mil")) << sacrificial;
    EXPECT_TRUE(says(sacrificial, "film")) << sacrificial;
    EXPECT_TRUE(says(sacrificial, "The topcoat goes with it")) << sacrificial;
    job::Job job;
    job.topcoat.final_coat = true;
    EXPECT_TRUE(says(after(2, job), "Then the final topcoat"));
}

TEST(StageWords, LoadWaitsTwoDaysInTheWarm) {
    // Class-society GRP rules (SOURCES.md section 4): 48 h at 18 C or more.
    EXPECT_TRUE(says(after(2), "48 h at 18 °C (64 °F)"));
    EXPECT_TRUE(says(after(2), "Sand back 1.40 mm"));
    job::Job job;
    job.display_units = Units::us;
    // By hand: 1.40 mm are 0.055 in, 0.508 mm are 20 mil.
    EXPECT_TRUE(says(after(2, job), "48 h at 64 °F (18 °C)"));
    EXPECT_TRUE(says(after(2, job), "Sand back 0.055 in"));
    EXPECT_TRUE(says(after(2, job), "topcoat 20 mil = 0.51 mm"));
}

}  // namespace
}  // namespace tearline::quantities
