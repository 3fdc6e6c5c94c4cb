#include "core/plan/built_so_far.h"

#include <gtest/gtest.h>

namespace tearline::plan {
namespace {

TEST(GlassContent, IsThatOfTheThickness) {
    // SOURCES.md section 2: 450 g/m2 at 0.30 by mass is 1.05078125 mm (2.56 and 1.20 g/mL).
    EXPECT_NEAR(glass_content_of(1.05078125, GramsPerSquareMetre(450), 1.20), 0.30, 1e-9);
    // Solid glass: w / rho_g.
    EXPECT_NEAR(glass_content_of(0.45 / 2.56, GramsPerSquareMetre(450), 1.20), 1.0, 1e-9);
}

TEST(BuiltSoFar, SaysResinRichOrStarved) {
    const auto code_and_words = [](double built) {
        BuiltSoFar so_far;
        so_far.plies = 3;
        so_far.planned_mm = 3.0;
        so_far.built_mm = built;
        return judged(so_far).at(0).words().told;
    };
    EXPECT_NE(code_and_words(3.1).find("as planned"), std::string::npos);
    EXPECT_NE(code_and_words(3.6).find("resin-rich"), std::string::npos);
    EXPECT_NE(code_and_words(2.5).find("starved"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plan
