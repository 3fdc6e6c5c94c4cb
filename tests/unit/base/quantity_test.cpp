#include "core/base/quantity.h"

#include <gtest/gtest.h>

#include "core/base/us_constants.h"

namespace tearline {
namespace {

template <class A, class B>
concept Addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept Multipliable = requires(A a, B b) {
    a* b;
};

TEST(Quantity, AddsWithinItsDimensionAlone) {
    static_assert(Addable<Grams, Grams>);
    static_assert(!Addable<Grams, Millilitres>, "a mass is no volume");
    static_assert(!Addable<Grams, double>, "nor a bare number");
    static_assert(!Multipliable<Grams, Grams>);
    static_assert(!std::is_convertible_v<double, Grams>);
    // By hand.
    EXPECT_EQ((Grams(2.0) + Grams(3.5)).value(), 5.5);
    EXPECT_EQ((Grams(2.0) - Grams(3.5)).value(), -1.5);
    EXPECT_EQ((2.0 * Grams(3.0) / 4.0).value(), 1.5);
    EXPECT_EQ(Grams(3.0) / Grams(4.0), 0.75);
    EXPECT_LT(Grams(1.0), Grams(2.0));
}

TEST(Quantity, TurnsAreaByWeightAndVolumeByDensityIntoMass) {
    // By hand: 2 m2 of 450 g/m2; 200 mL of 1.13 g/mL and back.
    EXPECT_EQ((SquareMetres(2.0) * GramsPerSquareMetre(450.0)).value(), 900.0);
    EXPECT_EQ((GramsPerSquareMetre(450.0) * SquareMetres(2.0)).value(), 900.0);
    EXPECT_NEAR((Millilitres(200.0) * GramsPerMillilitre(1.13)).value(), 226.0, 1e-12);
    EXPECT_NEAR((Grams(226.0) / GramsPerMillilitre(1.13)).value(), 200.0, 1e-12);
    EXPECT_EQ(square_metres_from_mm2(2'500'000.0).value(), 2.5);
}

TEST(UsConstants, AreTheDefinitions) {
    // International yard and pound of 1959, US gallon of 231 in3, standard gravity; derived anew.
    EXPECT_NEAR(us::millilitres_per_fluid_ounce, 231.0 * 2.54 * 2.54 * 2.54 / 128.0, 1e-12);
    EXPECT_NEAR(us::mm_per_foot, 12.0 * us::mm_per_inch, 1e-12);
    EXPECT_NEAR(us::grams_per_ounce, 28.349523125, 1e-12);
    EXPECT_NEAR(us::gsm_per_ounce_per_foot2, 305.1517, 5e-5);
    EXPECT_NEAR(us::gsm_per_ounce_per_yard2, us::gsm_per_ounce_per_foot2 / 9.0, 1e-12);
    EXPECT_NEAR(us::newtons_per_pound, 4.4482216152605, 1e-12);
    EXPECT_NEAR(us::mpa_per_psi, us::newtons_per_pound / 645.16, 1e-15);
}

}  // namespace
}  // namespace tearline
