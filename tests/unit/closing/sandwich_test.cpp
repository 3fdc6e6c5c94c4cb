#include "core/closing/sandwich.h"

#include <gtest/gtest.h>

namespace tearline::closing {
namespace {

laminate::Layer mat(double thickness) {
    return {laminate::lamina_of(job::FabricKind::mat, 0.30), thickness, 0.0};
}

TEST(Sandwich, OfMatSkinsHasTheWorkedStiffness) {
    // Mat skins 2.5 and 3, core 15: 2.7724e6 N mm2 a mm (worked figure, the core's own left out).
    const laminate::Layer outer = mat(3.0), inner = mat(2.5);
    const Sandwich all =
        sandwich_of(face_of({&outer, 1}, false), 15.0, face_of({&inner, 1}, false));
    EXPECT_NEAR(all.bending_stiffness, 2.7724e6, 0.0001e6);
    EXPECT_DOUBLE_EQ(all.lever, 17.75);
    EXPECT_NEAR(all.core_shear(17.75), 1.0, 1e-12);
}

TEST(Sandwich, OfEqualSkinsIsTheBookFormula) {
    // E t d^2 / 2 + E t^3 / 6 (any book on sandwiches): E 7000, t 2, c 10, d 12.
    const Face face{2.0, 14000.0, 7000.0 * 8.0 / 12.0, 100.0};
    const Sandwich all = sandwich_of(face, 10.0, face);
    EXPECT_NEAR(all.bending_stiffness, 7000.0 * 2.0 * 144.0 / 2.0 + 7000.0 * 8.0 / 6.0, 1e-6);
    // The outer fibre, 7 mm from the middle, has 100 MPa.
    EXPECT_NEAR(all.moment, 100.0 * all.bending_stiffness / (7000.0 * 7.0), 1e-9);
}

TEST(Sandwich, ThinnerSkinFailsFirst) {
    const Face thick{3.0, 21000.0, 0.0, 100.0}, thin{1.0, 7000.0, 0.0, 100.0};
    EXPECT_EQ(sandwich_of(thick, 15.0, thin).first_to_fail, "inner skin");
    EXPECT_EQ(sandwich_of(thin, 15.0, thick).first_to_fail, "outer skin");
}

}  // namespace
}  // namespace tearline::closing
