#include "core/quantities/reading_words.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/base/numbers.h"
#include "core/quantities/measuring.h"

namespace tearline::quantities {
namespace {

TEST(ReadingWords, OuncesAreTheReadingToLessThanHalfADivision) {
    // Exact definitions: 28.349523125 g, 29.5735295625 mL. A dose stands half a division inside its
    // range, so ounces that are nearer than that stay inside it too.
    constexpr double ounce = 28.349523125, fluid_ounce = 29.5735295625;
    for (const Tool tool : {Tool::scale, Tool::syringe_1, Tool::syringe_3, Tool::syringe_10,
                            Tool::syringe_60, Tool::jug}) {
        const double half = facts_of(tool).half;
        for (int divisions = 10; divisions < 60; ++divisions) {
            const double reading = 2.0 * half * divisions;
            const std::string words = reading_in_ounces({tool, reading});
            const auto said = read_number(words.substr(0, words.find(' ')));
            ASSERT_TRUE(said) << words;
            const double each = tool == Tool::scale ? ounce : fluid_ounce;
            EXPECT_LT(std::abs(*said * each - reading), half) << words;
        }
    }
}

TEST(ReadingWords, ASmallDoseHasAsManyPlacesAsItsToolNeeds) {
    // By hand: 1.1 g / 28.3495 = 0.0388 oz, whose half hundredth, 0.14 g, is past the scale's 0.05;
    // 0.10 mL / 29.5735 = 0.00338 fl oz.
    EXPECT_EQ(reading_text({Tool::scale, 1.1}), "1.1 g");
    EXPECT_EQ(reading_in_ounces({Tool::scale, 1.1}), "0.039 oz wt");
    EXPECT_EQ(reading_text({Tool::syringe_1, 0.1}), "0.10 mL");
    EXPECT_EQ(reading_in_ounces({Tool::syringe_1, 0.1}), "0.0034 fl oz");
}

}  // namespace
}  // namespace tearline::quantities
